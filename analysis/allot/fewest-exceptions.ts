import { hittingSet } from "./hitting-set.ts";
import type { Work } from "./narrow.ts";

/** Whether a demand can be met on some of its members: how, or never, or not known within the work. */
export type Attempt<Way> =
  | { readonly kind: "found"; readonly way: Way }
  | { readonly kind: "none" }
  | { readonly kind: "undecided" };

/** Something asked of members 0, 1, 2 ..., which gets no harder when fewer of them are asked. */
export interface Demand<Way> {
  readonly members: number;
  /** Members of which no exception may be made. */
  readonly fast: ReadonlySet<number>;
  /** Small lots of members that often clash among themselves: they are looked at first. */
  readonly lots: readonly (readonly number[])[];
  /** True when it cannot be met on these members; a cheap look that may not see it. */
  clashes(asked: readonly number[], work: Work): boolean;
  /** A thorough look. */
  attempt(asked: readonly number[], work: Work): Attempt<Way>;
}

/** The fewest exceptions met with so far, and how few there must be at least. */
export interface Exceptions<Way> {
  readonly excepted: readonly number[];
  readonly way: Way;
  readonly bound: number;
}

/**
 * The fewest members to leave out so that the demand can be met on the rest. Members that clash are collected, small sets of which one
 * at least must be left out; the fewest that take one from each are tried, and where that is not enough the try shows a new clash
 * (implicit hitting sets, from memory). Starts from some exceptions known to do, and yields after every step; `work` is what may be spent.
 */
export function* fewestExceptions<Way>(
  demand: Demand<Way>,
  start: Omit<Exceptions<Way>, "bound">,
  work: Work,
): Generator<Exceptions<Way>, Exceptions<Way>> {
  const all = Array.from({ length: demand.members }, (_, member) => member);
  const clashes: number[][] = [];
  const clash = clashFinder(demand, work);
  let best = start;
  let bound = 0;
  const now = (): Exceptions<Way> => ({ ...best, bound });
  const without = (excepted: readonly number[]): number[] => all.filter((member) => !excepted.includes(member));
  for (let share = 400_000; bound < best.excepted.length && work.left > 0; ) {
    const hit = hittingSet(clashes, bound, work);
    if (hit === "undecided") return now();
    if (hit === "none") {
      bound++;
      continue;
    }
    yield now();
    let excepted = hit;
    let settled = false;
    while (excepted.length < best.excepted.length && work.left > 0) {
      const asked = without(excepted);
      const lot = clash.inLots(asked, share);
      const before = work.left;
      const attempt: Attempt<Way> = lot
        ? { kind: "none" }
        : withShare(work, share * 4, (some) => demand.attempt(asked, some));
      if (attempt.kind === "undecided") break;
      settled = true;
      if (attempt.kind === "found") {
        best = { excepted, way: attempt.way };
        break;
      }
      const smallest = clash.smallest(lot ?? asked, Math.min(share, 4 * (before - work.left) + leastShare));
      clashes.push(smallest);
      const next = mostOften(smallest, clashes);
      if (next === undefined) return now();
      excepted = [...excepted, next];
      yield now();
    }
    if (!settled) share *= 2;
  }
  return now();
}

/** Looks that are always worth trying: showing that fewer members clash takes about what it took to show it of all of them. */
const leastShare = 20_000;

/** Lets a look have a share of the work; what it does not use goes back. */
const withShare = <Result>(work: Work, share: number, look: (some: Work) => Result): Result => {
  const some: Work = { left: Math.min(work.left, share) };
  const granted = some.left;
  const result = look(some);
  work.left -= granted - some.left;
  return result;
};

/** Finds members that clash. Those seen not to, and fewer of them, are not looked at again with as small a share. */
const clashFinder = <Way>(demand: Demand<Way>, work: Work) => {
  const calm: { readonly members: ReadonlySet<number>; readonly share: number }[] = [];
  const clashes = (asked: readonly number[], share: number): boolean => {
    if (
      asked.length === 0 ||
      calm.some((quiet) => quiet.share >= share && asked.every((member) => quiet.members.has(member)))
    )
      return false;
    const does = withShare(work, share, (some) => demand.clashes(asked, some));
    if (!does) calm.push({ members: new Set(asked), share });
    return does;
  };
  return {
    /** The members of a lot that clash by themselves, if any lot does. */
    inLots: (asked: readonly number[], share: number): readonly number[] | null => {
      const still = new Set(asked);
      for (const lot of demand.lots) {
        const open = lot.filter((member) => still.has(member));
        if (clashes(open, share)) return open;
      }
      return null;
    },
    /** Fewer of the members that clash as well: leaves out ever smaller runs of them, as long as the rest still does. */
    smallest: (clash: readonly number[], share: number): number[] => {
      let left = clash;
      for (let run = Math.ceil(clash.length / 2); run >= 1; run = run === 1 ? 0 : Math.ceil(run / 2))
        for (let from = 0; from < left.length; ) {
          const fewer = [...left.slice(0, from), ...left.slice(from + run)];
          if (clashes(fewer, share)) left = fewer;
          else from += run;
        }
      return left.filter((member) => !demand.fast.has(member));
    },
  };
};

/** The member that is in most of the sets; the smallest of those alike, none of an empty set. */
const mostOften = (members: readonly number[], sets: readonly (readonly number[])[]): number | undefined => {
  const uses = (member: number): number => sets.filter((set) => set.includes(member)).length;
  return members.toSorted((a, b) => uses(b) - uses(a) || a - b)[0];
};
