import { expect, test } from "vitest";
import type { RectMm } from "../../analysis/leaf-parts.ts";
import {
  cardCodeMm,
  cardCodesMm,
  cardWindowMm,
  chart24,
  greyCard,
  printedCard,
  readCardCode,
} from "../../analysis/reference-card.ts";

const overlap = ([ax, ay, aw, ah]: RectMm, [bx, by, bw, bh]: RectMm): boolean =>
  ax < bx + bw && bx < ax + aw && ay < by + bh && by < ay + ah;

const fields = (): RectMm[] => [
  ...cardCodesMm.map(([x, y]): RectMm => [x, y, cardCodeMm, cardCodeMm]),
  ...printedCard.patches.map(({ rectMm }) => rectMm),
  cardWindowMm,
];

test("the card is A4 (ISO 216: 210 x 297 mm) and no two of its fields overlap", () => {
  expect([printedCard.widthMm, printedCard.heightMm]).toEqual([210, 297]);
  for (const [i, field] of fields().entries()) {
    expect(field[0] >= 0 && field[1] >= 0 && field[0] + field[2] <= 210 && field[1] + field[3] <= 297).toBe(true);
    for (const other of fields().slice(i + 1)) expect(overlap(field, other)).toBe(false);
  }
});

test("the codes leave a quiet zone of four modules of a 25-module code to every field and edge", () => {
  const quiet = (4 * cardCodeMm) / 25;
  for (const [x, y] of cardCodesMm) {
    expect(Math.min(x, y, 210 - x - cardCodeMm, 297 - y - cardCodeMm)).toBeGreaterThanOrEqual(quiet);
  }
});

test("24 patches, evenly spaced inside the chart", () => {
  const { patches, widthMm, heightMm } = chart24();
  expect(patches).toHaveLength(24);
  expect(patches[0]?.rectMm).toEqual([10, 10, 38, 38]);
  const [x, y, w, h] = patches[23]!.rectMm;
  expect([x + w + 10, y + h + 10]).toEqual([widthMm, heightMm]);
  expect(greyCard().patches[0]?.rectMm).toEqual([0, 0, 200, 250]);
});

test("a code of the card names its sheet and corner, other codes do not", () => {
  expect(readCardCode("LL/7F3K/3")).toEqual({ id: "7F3K", corner: 3 });
  for (const text of ["LL/7F3K/5", "LL//1", "HTTP://X/L01", "LL/7F3K/1/2", ""]) expect(readCardCode(text)).toBeNull();
});
