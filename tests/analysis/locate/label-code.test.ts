import { expect, test } from "vitest";
import { labelId, labelText, readLabel } from "../../../analysis/locate/label-code.ts";

const id = labelId(Uint8Array.from({ length: 13 }, (_, place) => 37 * place + 5));

test("a label's text is read back as its id, in capitals or not", () => {
  expect(labelText(id)).toMatch(/^LL\/LEAF\/[0-9A-Z]{13}[0-9A-Z$*+.-]$/);
  for (const text of [labelText(id), labelText(id).toLowerCase(), ` ${labelText(id)}\n`])
    expect(readLabel(text)).toEqual({ id });
});

test("C76: a wrong sign, or two that changed places, make it no label of ours", () => {
  const text = labelText(id);
  for (let at = "LL/LEAF/".length; at < text.length; at++) {
    for (const sign of "0123456789ABCDEFGHJKMNPQRSTVWXYZ") {
      const wrong = text.slice(0, at) + sign + text.slice(at + 1);
      if (wrong !== text) expect(readLabel(wrong), wrong).toBeNull();
    }
    const swapped = `${text.slice(0, at)}${text[at + 1] ?? ""}${text[at]}${text.slice(at + 2)}`;
    if (swapped !== text && at + 1 < text.length) expect(readLabel(swapped), swapped).toBeNull();
  }
});

test.each([
  ["HTTPS://LEAFLEDGER.LOCAL/L/W03", "W03"],
  ["https://leafledger.local/l/a-12.b", "A-12.B"],
  ["L07", "L07"],
])("%s, from an older label, names leaf %s", (text, leaf) => {
  expect(readLabel(text)).toEqual({ leaf });
});

test.each([
  "LL/7K3QD/1",
  "LL/LEAF/",
  "LL/LEAF/W03",
  "HTTPS://ELSEWHERE.EXAMPLE/SHOP/W03",
  "HTTPS://ELSEWHERE.EXAMPLE/L/W03",
  "HTTPS://LEAFLEDGER.LOCAL.ELSEWHERE.EXAMPLE/L/W03",
  "WIFI:S:site;P:1234;;",
  "javascript:alert(1)",
  "data:text/html,<script>alert(1)</script>",
  "",
  "W03 W04",
  "A".repeat(13),
  "9".repeat(4296),
])("C76: %s names none", (text) => {
  expect(readLabel(text)).toBeNull();
});
