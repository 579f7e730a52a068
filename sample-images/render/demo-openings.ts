import type { Pattern } from "./leaf-layout.ts";

/** A row of the door schedule. */
export interface DemoOpening {
  readonly opening: string;
  readonly leaves: number;
  readonly widthMm: number;
  readonly heightMm: number;
  readonly thicknessMm: number;
  readonly pattern: Pattern;
  readonly veneer: string;
  readonly fireRating: string;
  readonly sideA: string;
  readonly sideB: string;
  readonly hinge: "left" | "right" | "both";
  readonly note: string;
}

type Size = Pick<DemoOpening, "widthMm" | "heightMm" | "thicknessMm" | "pattern" | "veneer" | "fireRating">;
const walnut: Size = {
  widthMm: 926,
  heightMm: 2040,
  thicknessMm: 44,
  pattern: "flush",
  veneer: "walnut crown",
  fireRating: "FD30S",
};
const walnutPair: Size = { ...walnut, widthMm: 726, fireRating: "FD30" };
const ash: Size = {
  widthMm: 826,
  heightMm: 2040,
  thicknessMm: 40,
  pattern: "flush",
  veneer: "ash quarter",
  fireRating: "",
};
const narrowAsh: Size = { ...ash, widthMm: 626 };
const sapele: Size = {
  widthMm: 838,
  heightMm: 1981,
  thicknessMm: 44,
  pattern: "4-panel",
  veneer: "sapele quarter",
  fireRating: "",
};

const row =
  (size: Size, sideA: string) =>
  (opening: string, sideB: string, hinge: DemoOpening["hinge"], note = "", leaves = 1): DemoOpening => ({
    ...size,
    opening,
    leaves,
    sideA,
    sideB,
    hinge,
    note,
  });

const corridor = row(walnut, "Corridor");
const waiting = row(walnut, "Waiting room");
const staff = row(ash, "Staff lobby");
const stores = row(narrowAsh, "Store passage");
const stair = row(sapele, "Stair hall");

/** The openings of the invented refit, in the order of the schedule. Side A of an opening is where it is seen with its neighbours. */
export const openings: readonly DemoOpening[] = [
  corridor("1.01", "Consulting 1.01", "left"),
  corridor("1.02", "Consulting 1.02", "right"),
  corridor("1.03", "Consulting 1.03", "left"),
  corridor("1.04", "Consulting 1.04", "right"),
  corridor("1.05", "Consulting 1.05", "left"),
  corridor("1.06", "Consulting 1.06", "right", "rooflight over"),
  row(walnutPair, "Waiting room")("1.10", "Entrance", "both", "pair, meeting stiles under downlights", 2),
  waiting("1.11", "Reception", "left"),
  waiting("1.12", "WC lobby", "right"),
  staff("1.20", "Staff room", "left"),
  staff("1.21", "Changing room", "right"),
  staff("1.22", "Meeting room", "left"),
  staff("1.23", "Clean utility", "right"),
  stores("1.24", "Cupboard 1.24", "both", "pair", 2),
  stores("1.25", "Store 1.25", "left"),
  stair("1.30", "Office 1.30", "left"),
  stair("1.31", "Office 1.31", "right"),
  stair("1.32", "Office 1.32", "left"),
  stair("1.33", "Records room", "right", "existing leaf X33, 28 years old"),
  stair("1.34", "Linen room", "left", "existing leaf X34, 28 years old"),
];

const table = (head: string, rows: readonly (readonly (string | number)[])[]): string =>
  `${[head, ...rows.map((cells) => cells.join(","))].join("\n")}\n`;
const quoted = (text: string): string => (text.includes(",") ? `"${text}"` : text);

export const doorScheduleCsv = (): string =>
  table(
    "opening,leaves,width_mm,height_mm,thickness_mm,pattern,veneer,fire_rating,side_a_space,side_b_space,hinge,note",
    openings.map((o) => [
      o.opening,
      o.leaves,
      o.widthMm,
      o.heightMm,
      o.thicknessMm,
      o.pattern,
      o.veneer,
      o.fireRating,
      o.sideA,
      o.sideB,
      o.hinge,
      quoted(o.note),
    ]),
  );

const lines = [
  { line: 1, item: "walnut leaf 926", code: "PL-W926", price: 412, quantity: 8, size: walnut },
  { line: 2, item: "walnut leaf 726 of a matched pair", code: "PL-W726P", price: 399, quantity: 2, size: walnutPair },
  { line: 3, item: "ash leaf 826", code: "PL-A826", price: 286, quantity: 4, size: ash },
  { line: 4, item: "ash leaf 626", code: "PL-A626", price: 248, quantity: 3, size: narrowAsh },
  { line: 5, item: "sapele leaf 838", code: "PL-S838", price: 364, quantity: 3, size: sapele },
] as const;

export const orderCsv = (): string =>
  table(
    "line,item,code,price,quantity,width_mm,height_mm,thickness_mm,pattern,veneer,fire_rating",
    lines.map(({ line, item, code, price, quantity, size: s }) => [
      line,
      item,
      code,
      price,
      quantity,
      s.widthMm,
      s.heightMm,
      s.thicknessMm,
      s.pattern,
      s.veneer,
      s.fireRating,
    ]),
  );

export const deliveryNoteCsv = (): string =>
  table(
    "line,item,quantity",
    lines.map(({ line, item, quantity }) => [line, item, quantity]),
  );
