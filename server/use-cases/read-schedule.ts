import type { Delivery, Opening, OrderLine } from "../contract/delivery.ts";
import type { Leaf, Pattern } from "../contract/leaf.ts";
import { makePattern } from "./make-pattern.ts";
import { type CellReader, cellReader } from "./read-cells.ts";
import { type Fault, readTable, refuseFaults } from "./read-table.ts";

const columns = {
  needed: [
    "opening",
    "leaves",
    "width_mm",
    "height_mm",
    "thickness_mm",
    "pattern",
    "veneer",
    "fire_rating",
    "side_a_space",
    "side_b_space",
    "hinge",
    "note",
  ],
  optional: ["existing_leaf"],
};

type Space = Delivery["spaces"][number];

const kindOf = (name: string): Space["kind"] =>
  (["landing", "corridor", "hall", "store"] as const).find((kind) => name.toLowerCase().includes(kind)) ?? "room";

/** A code of 12 characters made from a name; a number behind it where two names would share one. */
const codeFor = (name: string, taken: ReadonlyMap<string, Space>): string => {
  const plain =
    name
      .toUpperCase()
      .replace(/[^A-Z0-9.]+/g, "-")
      .replace(/^[-.]+|-+$/g, "") || "SPACE";
  const used = new Set([...taken.values()].map(({ id }) => id));
  for (let number = 1; ; number++) {
    const id = number === 1 ? plain.slice(0, 12) : `${plain.slice(0, 9)}-${number}`;
    if (!used.has(id)) return id;
  }
};

const spaceAt = (name: string, spaces: Map<string, Space>): string | null => {
  if (name === "") return null;
  const known = spaces.get(name);
  if (known) return known.id;
  const space: Space = { id: codeFor(name, spaces), name, kind: kindOf(name) };
  spaces.set(name, space);
  return space.id;
};

const hingeWords = /^(left|right) from ([ab]),? opens to ([ab])$/i;
const halfTold = /^(left|right|both)$/i;

/** A bare "left" says nothing until one knows from where: it is kept in the note, no hinge side is read from it. */
const hingeAt = (cell: CellReader): Opening["hinge"] => {
  const text = cell.text("hinge");
  if (text === "" || halfTold.test(text)) return null;
  const words = hingeWords.exec(text);
  const side = (letter: string | undefined): 0 | 1 => (letter?.toLowerCase() === "a" ? 0 : 1);
  if (!words) {
    cell.fault("hinge", `"${text.slice(0, 40)}" does not say "left from A, opens to A"`);
    return null;
  }
  return {
    side: words[1]?.toLowerCase() === "left" ? "left" : "right",
    seenFrom: side(words[2]),
    opensTowards: side(words[3]),
  };
};

const noteAt = (cell: CellReader): string => {
  const hinge = cell.text("hinge");
  const told = halfTold.test(hinge) ? `hinge ${hinge.toLowerCase()} (seen from where is not told)` : "";
  return [cell.text("note"), told]
    .filter((words) => words !== "")
    .join("; ")
    .slice(0, 200);
};

/** From its own column, or from a note that says "existing leaf X33". */
const existingAt = (cell: CellReader): string | null =>
  cell.codeOrNone("existing_leaf") ??
  /existing leaf ([A-Z0-9][A-Z0-9.-]{0,11})/i.exec(cell.text("note"))?.[1]?.toUpperCase() ??
  null;

interface Asked {
  readonly pattern: string;
  readonly thicknessMm: number;
  readonly veneer: string;
}

const isFor = (line: OrderLine, asked: Asked): boolean =>
  line.pattern === asked.pattern &&
  line.thicknessMm === asked.thicknessMm &&
  line.veneer.toLowerCase() === asked.veneer.toLowerCase();

const existingLeaf = (code: string, asked: Asked): Leaf => ({
  code,
  line: null,
  pattern: asked.pattern,
  thicknessMm: asked.thicknessMm,
  batch: null,
  identity: "as-ordered",
  pairWith: null,
  replaces: null,
  massKg: null,
  unwrappedAt: null,
  cut: true,
  shape: [],
  decision: null,
});

/** What a door schedule says. `existing` are leaves that hang there already and stay. */
export interface Schedule {
  readonly openings: Opening[];
  readonly spaces: Space[];
  readonly patterns: Pattern[];
  readonly existing: Leaf[];
}

/**
 * Openings, spaces and existing leaves from CSV text. A leaf is wanted by size, thickness, pattern and veneer; the order lines
 * that give it are found here. Throws a Refusal that names line and column of every fault.
 */
export const readSchedule = (csv: string, lines: readonly OrderLine[]): Schedule => {
  const faults: Fault[] = [];
  const spaces = new Map<string, Space>();
  const patterns = new Map<string, Pattern>();
  const existing: Leaf[] = [];
  const taken = { openings: new Set<string>(), leaves: new Set<string>() };
  const openings = readTable("door schedule", csv, columns).map((row): Opening => {
    const cell = cellReader(row, faults);
    const id = cell.code("opening");
    cell.once("opening", "opening", id, taken.openings);
    const pattern = makePattern(
      cell.text("pattern"),
      cell.amount("width_mm", [100, 3000]),
      cell.amount("height_mm", [300, 4000]),
    );
    const asked = {
      pattern: "why" in pattern ? "X" : pattern.id,
      thicknessMm: cell.amount("thickness_mm", [10, 150]),
      veneer: cell.text("veneer"),
    };
    if ("why" in pattern) cell.fault("pattern", pattern.why);
    else patterns.set(pattern.id, pattern);
    const stays = existingAt(cell);
    if (stays !== null) {
      cell.once("existing_leaf", "leaf", stays, taken.leaves);
      existing.push(existingLeaf(stays, asked));
    }
    const wanted = lines.filter((line) => isFor(line, asked)).map((line) => line.id);
    if (stays === null && wanted.length === 0 && !("why" in pattern))
      cell.fault(
        "pattern",
        `no order line has ${asked.veneer || "a"} leaf of ${pattern.name} x ${asked.thicknessMm} mm`,
      );
    return {
      id,
      lines: stays === null ? wanted : [],
      leaves: cell.whole("leaves", [1, 2]) === 2 ? 2 : 1,
      sides: [spaceAt(cell.text("side_a_space"), spaces), spaceAt(cell.text("side_b_space"), spaces)],
      fireRating: cell.text("fire_rating") || null,
      hinge: hingeAt(cell),
      existingLeaf: stays,
      note: noteAt(cell),
    };
  });
  refuseFaults("door schedule", faults);
  return { openings, spaces: [...spaces.values()], patterns: [...patterns.values()], existing };
};
