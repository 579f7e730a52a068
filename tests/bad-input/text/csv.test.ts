import fc from "fast-check";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { asWritten, shownAsText } from "../../../server/use-cases/formula-cells.ts";
import { readTable } from "../../../server/use-cases/read-table.ts";
import { type Api, apiOf } from "../../support/http.ts";
import { orderCsv } from "../../support/small-delivery.ts";
import { type TestSite, testSite } from "../../support/test-site.ts";

let site: TestSite;
let api: Api;
let delivery: string;

beforeAll(async () => {
  site = await testSite();
  api = apiOf(site);
  delivery = await api.begin();
});
afterAll(() => site.remove());

const importOrder = (csv: string) => api.call("importOrder", { delivery }, { csv });
const row = (line: number): string => `L${line},oak,C,1,1,826,2040,44,flush,oak,FD30,1\n`;
const header = orderCsv.slice(0, orderCsv.indexOf("\n") + 1);

const linesNow = () =>
  site.store
    .open(delivery)
    .read()
    .lines.map(({ id, price, item }) => [id, price, item]);

describe("C71: CSV files that are too large", () => {
  test.each([
    ["a million rows, 22 MB", () => `${header}${"L1,oak,C,1,1,8,2,4\n".repeat(1_000_000)}`],
    ["5,001 rows", () => header + Array.from({ length: 5001 }, (_, line) => row(line)).join("")],
    ["101 columns", () => `${Array.from({ length: 101 }, (_, column) => `c${column}`).join(",")}\n1\n`],
  ])("%s", async (_, csv) => {
    const text = csv();
    const began = performance.now();
    const { body } = await importOrder(text).expect(413);
    expect(performance.now() - began).toBeLessThan(2000);
    expect(body.detail).toMatch(/too large|more than 5000 rows or 100 columns/);
  });
  test("5,000 rows are read, and for how long is printed", async () => {
    const csv = header + Array.from({ length: 5000 }, (_, line) => row(line)).join("");
    const columns = { needed: header.trim().split(","), optional: [] };
    const began = performance.now();
    expect(readTable("order", csv, columns).length).toBe(5000);
    const took = performance.now() - began;
    console.log(`C71: 5,000 rows of ${Math.round(csv.length / 1000)} kB read in ${took.toFixed(0)} ms`);
    expect(took).toBeLessThan(2000);
  });
  test("a cell of 2,001 characters", async () => {
    const { body } = await importOrder(orderCsv.replace("oak 826", "x".repeat(2001))).expect(422);
    expect(body.detail).toMatch(/line 2, item: longer than 2000 characters/);
  });
});

describe("C72: forms of CSV that read the same", () => {
  test.each([
    ["byte-order mark", `\uFEFF${orderCsv}`],
    ["semicolons", orderCsv.replaceAll(",", ";")],
    ["tabs", orderCsv.replaceAll(",", "\t")],
    ["quotes", orderCsv.replace("oak 826", '"oak 826"')],
    ["CR", orderCsv.replaceAll("\n", "\r")],
    ["CRLF", orderCsv.replaceAll("\n", "\r\n")],
    ["no line end at the end", orderCsv.trimEnd()],
  ])("%s", async (_, csv) => {
    await importOrder(csv).expect(200);
    expect(linesNow()).toEqual([
      ["L1", 300, "oak 826"],
      ["L2", 250.5, "oak pair"],
    ]);
  });
  test("a line break within a cell", async () => {
    await importOrder(orderCsv.replace("oak 826", '"oak\n826, ""wide"""')).expect(200);
    expect(linesNow()[0]?.[2]).toBe('oak\n826, "wide"');
  });
  test.each([
    ["ragged", orderCsv.replace("FD30,1\n", "FD30,1,x\n"), /line 2: has 13 cells, 12 are expected/],
    ["an unclosed quote", orderCsv.replace("oak pair", '"oak pair'), /line \d/],
    ["NUL", orderCsv.replace("oak pair", "oak\0pair"), /line 3: holds a NUL/],
    ["Latin-1 read as UTF-8", orderCsv.replace("oak pair", "ch\uFFFDne"), /line 3: .*Latin-1/],
    ["UTF-16 read as UTF-8", `\uFFFD\uFFFD${Array.from(orderCsv).join("\0")}`, /UTF-16/],
  ])("%s is refused with its line", async (_, csv, says) => {
    expect((await importOrder(csv).expect(422)).body.detail).toMatch(says);
  });
});

describe("C73: cells that a spreadsheet would run", () => {
  const telling = [
    "=1+1",
    "+44 1",
    "-3",
    "@SUM(A1)",
    "\tx",
    "\rx",
    "'=1+1",
    "''@x",
    "＝1",
    "'tis",
    "",
    'plain, "quoted"',
  ];

  test("come out of our CSV as text and read back as they were", async () => {
    const reasons = telling.filter((text) => text.trim() === text && text !== "");
    const leaves = reasons.map((_, index) => `C${index}`);
    await importOrder(orderCsv.replace("300,4", "300,40")).expect(200);
    await api.call("countLine", { delivery, line: "L1" }, { counted: 40 }).expect(200);
    for (const [index, code] of leaves.entries()) {
      await api.leaf(delivery, code, "L1", "FL-2040X826");
      const decision = { outcome: "hold", reason: reasons[index], allowance: null, party: null, asks: null };
      await api.call("decideLeaf", { delivery, leaf: code }, { decision }).expect(200);
    }
    const answer = await api.call("leavesCsv", { delivery }).expect(200);
    expect(answer.headers["content-type"]).toMatch(/^text\/csv/);
    expect(answer.text.startsWith("\uFEFFleaf,line,item,")).toBe(true);
    const columns = answer.text.slice(1, answer.text.indexOf("\r\n")).split(",");
    const rows = readTable("leaves", answer.text, { needed: columns, optional: [] });
    expect(rows.map(({ cells }) => cells.reason)).toEqual(reasons);
    for (const cell of answer.text.split(/[,\r\n]+/)) expect(cell).not.toMatch(/^"?[=+\-@\t]/);
  });

  test("any text is kept by the two ways through the apostrophe", () => {
    for (const text of telling) expect(asWritten(shownAsText(text))).toBe(text);
    fc.assert(
      fc.property(fc.string({ unit: fc.constantFrom("'", "=", "+", "-", "@", "\t", "\r", "\0", "a") }), (text) => {
        expect(asWritten(shownAsText(text))).toBe(text);
        expect(shownAsText(text)).not.toMatch(/^[=+\-@\t\r\0]/);
      }),
      { seed: 73 },
    );
  });
});
