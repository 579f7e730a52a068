import type { Delivery } from "../contract/delivery.ts";
import type { JournalLine } from "./journal-line.ts";

const lists = ["leaves", "marks", "photos", "wavedOff", "conflicts"] as const;
type List = (typeof lists)[number];

/** Which leaves each place of the lists tells of, as far as the journal was read. */
type Places = Record<List, string[][]>;

const isList = (name: unknown): name is List => lists.some((list) => list === name);

const codesOf = (value: unknown): string[] => {
  if (typeof value !== "object" || value === null) return [];
  if ("shows" in value) return (value as Delivery["photos"][number]).shows.map(({ leaf }) => leaf);
  const code = "code" in value ? value.code : "leaf" in value ? value.leaf : null;
  return typeof code === "string" ? [code] : [];
};

const codesOfAll = (value: unknown): string[][] => (Array.isArray(value) ? value.map(codesOf) : []);

/** Follows one patch: what leaves it touches, and what lies where after it. */
const follow = (places: Places, { path, value }: JournalLine["patches"][number]): string[] => {
  const [list, index, field] = path;
  if (path.length === 0) {
    for (const name of lists) places[name] = codesOfAll((value as Partial<Delivery>)[name]);
    return [];
  }
  if (!isList(list)) return [];
  const at = places[list];
  if (path.length === 1) {
    places[list] = codesOfAll(value);
    return [...at, ...places[list]].flat();
  }
  if (index === "length") return at.splice(value as number).flat();
  if (typeof index !== "number") return [];
  const before = at[index] ?? [];
  if (path.length === 2) at[index] = codesOf(value);
  else if (list === "photos" && field === "shows" && path.length === 3) at[index] = codesOf({ shows: value });
  return [...before, ...(at[index] ?? [])];
};

/** The leaves that each line of a journal tells of, by its number: their own data, their marks, their photos. */
export const leavesTouched = (lines: readonly JournalLine[]): Map<number, string[]> => {
  const places: Places = { leaves: [], marks: [], photos: [], wavedOff: [], conflicts: [] };
  return new Map(
    lines.map(({ seq, patches }) => [seq, [...new Set(patches.flatMap((patch) => follow(places, patch)))].sort()]),
  );
};
