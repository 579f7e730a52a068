import { expect, test } from "vitest";
import { draftOf, emptyTerms, termsOf } from "../../../client/delivery/terms-draft.ts";
import { supplierTerms } from "../../../server/contract/terms.ts";
import { overview } from "../support/brannoch-quay.ts";

test("terms come back from the form as they went in, and as the contract wants them", () => {
  const read = termsOf(draftOf(overview.terms));
  if (read.kind !== "terms") throw new Error(`missing ${read.label}`);
  expect(read.terms).toEqual(overview.terms);
  expect(supplierTerms.parse(read.terms)).toEqual(overview.terms);
});

test("an empty sheet assumes no figure: the first missing one is named", () => {
  expect(termsOf(emptyTerms)).toEqual({ kind: "missing", label: "Humidity at least" });
});

test("a window without its length is named too, and a decimal comma is taken", () => {
  const draft = draftOf(overview.terms);
  const [window] = draft.windows;
  if (!window) throw new Error("no window");
  expect(termsOf({ ...draft, windows: [{ ...window, amount: "" }] })).toEqual({
    kind: "missing",
    label: "length of a claim window",
  });
  const comma = termsOf({ ...draft, figures: { ...draft.figures, toleranceDE00: "1,5" } });
  expect(comma.kind === "terms" && comma.terms.toleranceDE00).toBe(1.5);
});
