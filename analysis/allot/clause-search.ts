import type { Work } from "./narrow.ts";
import { add, remove, valuesOf } from "./value-sets.ts";

/** A statement about a yes-or-no variable n: 2n says yes, 2n + 1 says no. */
export type Literal = number;

/** Takes variables that clash, as bits of word number `word`; false when it needs no more. */
export type TakeClashes = (word: number, bits: number) => boolean;

/** Variables of which two that clash are not both yes, and one of every list is. Variable n is bit n % 32 of word n / 32. */
export interface Choices {
  /** The bits of all variables there are. */
  readonly variables: Int32Array;
  /** Tells `take` which of the `open` variables clash with one, in an order that is always the same. */
  readonly eachClash: (variable: number, open: Int32Array, take: TakeClashes) => void;
  readonly oneOf: readonly (readonly number[])[];
}

/** Yes for each of these variables, no for all others; or the certainty that there is no such choice; or neither within the work. */
export type Choice =
  | { readonly kind: "found"; readonly yes: readonly number[] }
  | { readonly kind: "none" }
  | { readonly kind: "undecided" };

interface Clause {
  readonly literals: Int32Array;
  /** On how many levels of decisions it rested when it was learned: the fewer, the more it is worth. 0: never dropped. */
  readonly levels: number;
  dropped: boolean;
}

/** Why a variable has its value: decided or known from the start (null), a clause, or another variable that is yes and clashes with it. */
type Reason = Clause | number | null;

/** Conflicts before the first fresh start; the later ones come after Luby's multiples of it (as usual, from memory). */
const conflictsToRestart = 100;

/** Learned clauses kept before the worse half is dropped, and how many more after each time. */
const clausesKept = { first: 3000, more: 500 } as const;

/** How much less a conflict of one conflict ago counts when a variable is chosen (as usual, from memory). */
const fading = 0.95;

/**
 * Finds a choice or shows that there is none: decides, follows what is forced, and learns from every conflict a clause that keeps it
 * from coming back. Conflict-driven clause learning with two watched literals, first unique implication point, activities and fresh
 * starts (Marques-Silva and Sakallah 1999; Moskewicz and others 2001; both from memory).
 */
export const searchClauses = ({ variables, eachClash, oneOf }: Choices, work: Work): Choice => {
  const size = 32 * variables.length;
  const value = new Int8Array(size);
  const level = new Int32Array(size);
  const reason: Reason[] = Array.from({ length: size }, () => null);
  const trail = new Int32Array(size);
  const levelStarts: number[] = [];
  let [trailLength, head] = [0, 0];
  /** Variables that are not no. */
  const open = variables.slice();
  const watches: (Clause[] | undefined)[] = Array.from({ length: 2 * size });
  let learned: Clause[] = [];
  const order = activityOrder(size, valuesOf(variables, 0, variables.length));
  const seen = new Uint8Array(size);

  const truth = (literal: Literal): number => (literal & 1 ? -value[literal >>> 1]! : value[literal >>> 1]!);
  const assign = (literal: Literal, why: Reason) => {
    const variable = literal >>> 1;
    value[variable] = literal & 1 ? -1 : 1;
    if (literal & 1) remove(open, 0, variable);
    level[variable] = levelStarts.length;
    reason[variable] = why;
    trail[trailLength++] = literal;
  };
  const watchFor = (literal: Literal, clause: Clause) => {
    const list = watches[literal];
    if (list) list.push(clause);
    else watches[literal] = [clause];
  };
  const watch = (clause: Clause) => {
    watchFor(clause.literals[0]!, clause);
    watchFor(clause.literals[1]!, clause);
  };

  /** Follows what is forced; gives the literals of a clause that is broken by it, null when none is. */
  const follow = (): ArrayLike<Literal> | null => {
    while (head < trailLength) {
      const literal = trail[head++]!;
      if ((literal & 1) === 0) {
        const clash = followYes(literal >>> 1);
        if (clash >= 0) return [literal + 1, 2 * clash + 1];
      }
      const broken = followClauses(literal ^ 1);
      if (broken) return broken;
    }
    return null;
  };
  /** Says no to all that clash with a yes; gives one that is yes too, -1 when none is. */
  const followYes = (yes: number): number => {
    let clash = -1;
    eachClash(yes, open, (word, bits) => {
      work.left -= 4;
      for (let rest = bits; rest !== 0; rest &= rest - 1) {
        const other = word * 32 + 31 - Math.clz32(rest & -rest);
        work.left--;
        if (value[other] === 1) {
          clash = other;
          return false;
        }
        assign(2 * other + 1, yes);
      }
      return true;
    });
    return clash;
  };
  const followClauses = (untrue: Literal): Int32Array | null => {
    const list = watches[untrue];
    if (!list) return null;
    work.left -= 4 * list.length;
    let kept = 0;
    for (let i = 0; i < list.length; i++) {
      const clause = list[i]!;
      if (clause.dropped) continue;
      const { literals } = clause;
      if (literals[0] === untrue) {
        literals[0] = literals[1]!;
        literals[1] = untrue;
      }
      if (truth(literals[0]!) === 1 || !watchAnother(clause, untrue)) list[kept++] = clause;
      else continue;
      const first = truth(literals[0]!);
      if (first === 1) continue;
      if (first === -1) {
        for (i++; i < list.length; i++) list[kept++] = list[i]!;
        list.length = kept;
        return literals;
      }
      assign(literals[0]!, clause);
    }
    list.length = kept;
    return null;
  };
  const watchAnother = (clause: Clause, untrue: Literal): boolean => {
    const { literals } = clause;
    for (let k = 2; k < literals.length; k++) {
      if (truth(literals[k]!) === -1) continue;
      literals[1] = literals[k]!;
      literals[k] = untrue;
      watchFor(literals[1]!, clause);
      return true;
    }
    return false;
  };

  const takeBack = (to: number) => {
    const start = levelStarts[to]!;
    for (let i = trailLength - 1; i >= start; i--) {
      const variable = trail[i]! >>> 1;
      if (value[variable] === -1) add(open, 0, variable);
      value[variable] = 0;
      order.putBack(variable);
    }
    trailLength = head = start;
    levelStarts.length = to;
  };

  /** The literals that together forced this variable's value, without its own. */
  const eachCause = (variable: number, take: (literal: Literal) => void) => {
    const why = reason[variable]!;
    if (typeof why === "number") take(2 * why + 1);
    else if (why !== null) for (const literal of why.literals) if (literal >>> 1 !== variable) take(literal);
  };

  /** What the conflict teaches: a clause whose first literal is untrue on this level only. */
  const learn = (broken: ArrayLike<Literal>): Literal[] => {
    const lower: Literal[] = [];
    let open = 0;
    const touch = (literal: Literal) => {
      work.left--;
      const variable = literal >>> 1;
      if (seen[variable] === 1 || level[variable] === 0) return;
      seen[variable] = 1;
      order.raise(variable);
      if (level[variable] === levelStarts.length) open++;
      else lower.push(literal);
    };
    for (let i = 0; i < broken.length; i++) touch(broken[i]!);
    let at = trailLength - 1;
    for (;;) {
      while (seen[trail[at]! >>> 1] === 0) at--;
      const literal = trail[at--]!;
      seen[literal >>> 1] = 0;
      if (--open === 0) {
        const needed = lower.filter((one) => !follows(one >>> 1));
        for (const one of lower) seen[one >>> 1] = 0;
        return [literal ^ 1, ...needed];
      }
      eachCause(literal >>> 1, touch);
    }
  };
  /** Whether the others of the clause force this variable anyway. */
  const follows = (variable: number): boolean => {
    if (reason[variable] === null) return false;
    let all = true;
    eachCause(variable, (literal) => {
      if (seen[literal >>> 1] === 0 && level[literal >>> 1]! > 0) all = false;
    });
    return all;
  };
  const keep = (literals: Literal[]) => {
    let [back, highest] = [0, 1];
    for (let i = 1; i < literals.length; i++)
      if (level[literals[i]! >>> 1]! > back) {
        back = level[literals[i]! >>> 1]!;
        highest = i;
      }
    const levels = new Set(literals.map((literal) => level[literal >>> 1])).size;
    takeBack(back);
    if (literals.length === 1) return assign(literals[0]!, null);
    [literals[1], literals[highest]] = [literals[highest]!, literals[1]!];
    const clause = { literals: Int32Array.from(literals), levels, dropped: false };
    learned.push(clause);
    watch(clause);
    assign(literals[0]!, clause);
  };
  const dropHalf = () => {
    const inUse = new Set(Array.from(trail.subarray(0, trailLength), (literal) => reason[literal >>> 1]));
    const byWorth = learned.toSorted((a, b) => a.levels - b.levels);
    for (const clause of byWorth.slice(byWorth.length >>> 1))
      if (clause.levels > 2 && !inUse.has(clause)) clause.dropped = true;
    learned = learned.filter(({ dropped }) => !dropped);
  };

  for (const list of oneOf) {
    if (list.length === 0) return { kind: "none" };
    const literals = Int32Array.from(list, (variable) => 2 * variable);
    if (literals.length === 1) {
      if (truth(literals[0]!) === -1) return { kind: "none" };
      if (truth(literals[0]!) === 0) assign(literals[0]!, null);
    } else watch({ literals, levels: 0, dropped: false });
  }
  let [conflicts, restarts, nextRestart, most] = [0, 0, conflictsToRestart, clausesKept.first as number];
  while (work.left > 0) {
    const broken = follow();
    if (broken) {
      if (levelStarts.length === 0) return { kind: "none" };
      conflicts++;
      keep(learn(broken));
      order.fade();
      continue;
    }
    if (conflicts >= nextRestart) {
      nextRestart = conflicts + conflictsToRestart * luby(++restarts);
      if (levelStarts.length > 0) takeBack(0);
      if (learned.length > most) {
        dropHalf();
        most += clausesKept.more;
      }
    }
    const next = order.takeHighest((variable) => value[variable] === 0);
    if (next < 0) return { kind: "found", yes: valuesOf(open, 0, open.length) };
    levelStarts.push(trailLength);
    assign(2 * next, null);
  }
  return { kind: "undecided" };
};

/** 1, 1, 2, 1, 1, 2, 4, ... Source: Luby, Sinclair and Zuckerman 1993 (from memory). `n` from 1 up. */
const luby = (n: number): number => {
  let size = 1;
  while (size < n + 1) size *= 2;
  return size === n + 1 ? size / 2 : luby(n - size / 2 + 1);
};

/** Variables, numbered below `most`, by how often they took part in late conflicts: a heap with the most active on top. */
const activityOrder = (most: number, variables: readonly number[]) => {
  const activity = new Float64Array(most);
  const heap = Int32Array.from(variables);
  const place = new Int32Array(most).fill(-1);
  for (const [at, variable] of heap.entries()) place[variable] = at;
  let size = heap.length;
  let step = 1;
  const before = (a: number, b: number): boolean =>
    activity[a]! > activity[b]! || (activity[a]! === activity[b]! && a < b);
  const put = (variable: number, at: number) => {
    heap[at] = variable;
    place[variable] = at;
  };
  const up = (variable: number, start: number) => {
    let at = start;
    while (at > 0) {
      const above = (at - 1) >>> 1;
      if (!before(variable, heap[above]!)) break;
      put(heap[above]!, at);
      at = above;
    }
    put(variable, at);
  };
  const down = (variable: number, start: number) => {
    let at = start;
    for (;;) {
      let below = 2 * at + 1;
      if (below >= size) break;
      if (below + 1 < size && before(heap[below + 1]!, heap[below]!)) below++;
      if (!before(heap[below]!, variable)) break;
      put(heap[below]!, at);
      at = below;
    }
    put(variable, at);
  };
  return {
    raise: (variable: number): void => {
      activity[variable]! += step;
      if (activity[variable]! > 1e100) {
        for (let i = 0; i < most; i++) activity[i]! *= 1e-100;
        step *= 1e-100;
      }
      if (place[variable]! >= 0) up(variable, place[variable]!);
    },
    fade: (): void => {
      step /= fading;
    },
    putBack: (variable: number): void => {
      if (place[variable]! >= 0) return;
      up(variable, size++);
    },
    /** The most active that is asked for, -1 when none is left. */
    takeHighest: (asked: (variable: number) => boolean): number => {
      while (size > 0) {
        const top = heap[0]!;
        place[top] = -1;
        const last = heap[--size]!;
        if (size > 0) down(last, 0);
        if (asked(top)) return top;
      }
      return -1;
    },
  };
};
