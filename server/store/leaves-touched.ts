import type { Delivery } from "../contract/delivery.ts";
import type { JournalLine } from "./journal-line.ts";

type Lists = Pick<Delivery, "leaves" | "marks" | "photos">;

/** Which leaves each place of the lists tells of, as far as the journal was read. */
interface Places {
  readonly leaves: string[][];
  readonly marks: string[][];
  readonly photos: string[][];
}

const isList = (name: unknown): name is keyof Lists => name === "leaves" || name === "marks" || name === "photos";

const codesOf = (list: keyof Lists, value: unknown): string[] => {
  if (typeof value !== "object" || value === null) return [];
  if (list === "leaves") return "code" in value ? [String(value.code)] : [];
  if (list === "marks") return "leaf" in value ? [String(value.leaf)] : [];
  return "shows" in value ? (value as Lists["photos"][number]).shows.map(({ leaf }) => leaf) : [];
};

/** Follows one patch: what leaves it touches, and what lies where after it. */
const follow = (places: Places, { path, value }: JournalLine["patches"][number]): string[] => {
  const [list, index, field] = path;
  if (path.length === 0) {
    for (const name of ["leaves", "marks", "photos"] as const)
      places[name].splice(0, Number.POSITIVE_INFINITY, ...(value as Lists)[name].map((one) => codesOf(name, one)));
    return [];
  }
  if (!isList(list)) return [];
  const at = places[list];
  if (index === "length") return at.splice(value as number).flat();
  if (typeof index !== "number") return [];
  const before = at[index] ?? [];
  if (path.length === 2) at[index] = codesOf(list, value);
  else if (list === "photos" && field === "shows" && path.length === 3) at[index] = codesOf(list, { shows: value });
  return [...before, ...(at[index] ?? [])];
};

/** The leaves that each line of a journal tells of, by its number: their own data, their marks, their photos. */
export const leavesTouched = (lines: readonly JournalLine[]): Map<number, string[]> => {
  const places: Places = { leaves: [], marks: [], photos: [] };
  return new Map(
    lines.map(({ seq, patches }) => [seq, [...new Set(patches.flatMap((patch) => follow(places, patch)))].sort()]),
  );
};
