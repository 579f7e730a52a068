import type { Work } from "./narrow.ts";

/**
 * A set of at most `atMost` members that takes one from every set given: `none` when there is no such set, `undecided` when the
 * work ran out. By trying the members of the set with the fewest in turn; sets without a common member each need one of their own.
 */
export const hittingSet = (
  sets: readonly (readonly number[])[],
  atMost: number,
  work: Work,
): readonly number[] | "none" | "undecided" => {
  const dive = (open: readonly (readonly number[])[], left: number): readonly number[] | "none" | "undecided" => {
    if (open.length === 0) return [];
    work.left -= open.length * 8;
    if (work.left <= 0) return "undecided";
    if (apart(open) > left) return "none";
    const tightest = open.reduce((one, other) => (other.length < one.length ? other : one));
    let rest = open;
    for (const member of byUse(tightest, open)) {
      const below = dive(
        rest.filter((set) => !set.includes(member)),
        left - 1,
      );
      if (below !== "none") return below === "undecided" ? below : [member, ...below];
      rest = rest.map((set) => (set.includes(member) ? set.filter((one) => one !== member) : set));
      if (rest.some((set) => set.length === 0)) return "none";
    }
    return "none";
  };
  return dive(withoutLarger(sets), atMost);
};

/** How many of the sets can be picked, small ones first, so that no two share a member. */
const apart = (sets: readonly (readonly number[])[]): number => {
  const used = new Set<number>();
  let count = 0;
  for (const set of sets.toSorted((a, b) => a.length - b.length))
    if (!set.some((member) => used.has(member))) {
      count++;
      for (const member of set) used.add(member);
    }
  return count;
};

/** The members of a set, those that are in most of the others first. */
const byUse = (set: readonly number[], sets: readonly (readonly number[])[]): readonly number[] => {
  const uses = new Map(set.map((member) => [member, sets.filter((one) => one.includes(member)).length]));
  return set.toSorted((a, b) => uses.get(b)! - uses.get(a)! || a - b);
};

/** Without the sets that hold another one whole: hitting the smaller hits them. */
const withoutLarger = (sets: readonly (readonly number[])[]): readonly (readonly number[])[] => {
  const kept: Set<number>[] = [];
  for (const set of sets.toSorted((a, b) => a.length - b.length)) {
    const members = new Set(set);
    if (!kept.some((smaller) => [...smaller].every((member) => members.has(member)))) kept.push(members);
  }
  return kept.map((set) => [...set]);
};
