import type { OrderLine } from "../contract/delivery.ts";
import type { Pattern } from "../contract/leaf.ts";
import { makePattern } from "./make-pattern.ts";
import { cellReader } from "./read-cells.ts";
import { type Fault, readTable, refuseFaults } from "./read-table.ts";

const columns = {
  needed: [
    "line",
    "item",
    "code",
    "price",
    "quantity",
    "width_mm",
    "height_mm",
    "thickness_mm",
    "pattern",
    "veneer",
    "fire_rating",
  ],
  optional: ["note_quantity", "leaves_per_unit"],
};

/** A bare number is the number of a line: 3 is L3. */
const lineId = (text: string): string => (/^\d+$/.test(text) ? `L${text}` : text);

/**
 * Order lines and their patterns from CSV text. `price` is for one leaf, `quantity` counts leaves, `note_quantity` is what the
 * delivery note says where it differs. Throws a Refusal that names line and column of every fault.
 */
export const readOrder = (csv: string): { lines: OrderLine[]; patterns: Pattern[] } => {
  const faults: Fault[] = [];
  const patterns = new Map<string, Pattern>();
  const taken = new Set<string>();
  const lines = readTable("order", csv, columns).map((row): OrderLine => {
    const cell = cellReader(row, faults);
    const pattern = makePattern(
      cell.text("pattern"),
      cell.amount("width_mm", [100, 3000]),
      cell.amount("height_mm", [300, 4000]),
    );
    if ("why" in pattern) cell.fault("pattern", pattern.why);
    else patterns.set(pattern.id, pattern);
    const ordered = cell.whole("quantity", [0, 5000]);
    const perUnit = cell.whole("leaves_per_unit", [1, 2], 1);
    if (perUnit === 2 && ordered % 2 === 1) cell.fault("quantity", `${ordered} leaves do not make whole pairs`);
    const id = lineId(cell.code("line"));
    cell.once("line", "line", id, taken);
    return {
      id,
      item: cell.text("item"),
      productCode: cell.text("code"),
      price: cell.amount("price", [0, 1_000_000]),
      ordered,
      onNote: cell.whole("note_quantity", [0, 5000], ordered),
      counted: null,
      pattern: "why" in pattern ? "X" : pattern.id,
      thicknessMm: cell.amount("thickness_mm", [10, 150]),
      veneer: cell.text("veneer"),
      fireRating: cell.text("fire_rating") || null,
      leavesPerUnit: perUnit === 2 ? 2 : 1,
    };
  });
  refuseFaults("order", faults);
  return { lines, patterns: [...patterns.values()] };
};
