/**
 * The largest number of pairs that can be made at once of `count` members when `mates[n]` are those that n may be paired with
 * (both ways). Edmonds' blossom method in its cubic form, from memory; held to trying all pairings in its test.
 */
export const largestPairing = (mates: readonly (readonly number[])[]): number => {
  const count = mates.length;
  const mateOf = new Int32Array(count).fill(-1);
  let pairs = 0;
  for (let member = 0; member < count; member++) {
    if (mateOf[member]! >= 0) continue;
    const free = mates[member]!.find((other) => mateOf[other]! < 0 && other !== member);
    if (free === undefined) continue;
    mateOf[member] = free;
    mateOf[free] = member;
    pairs++;
  }
  for (let member = 0; member < count; member++) if (mateOf[member]! < 0 && pairUp(mates, mateOf, member)) pairs++;
  return pairs;
};

/** Gives the member a mate by letting others change theirs along a chain; false when no chain does it. */
const pairUp = (mates: readonly (readonly number[])[], mateOf: Int32Array, root: number): boolean => {
  const count = mates.length;
  const from = new Int32Array(count).fill(-1);
  const base = Int32Array.from({ length: count }, (_, member) => member);
  const reached = new Uint8Array(count);
  const queue = [root];
  reached[root] = 1;
  const commonBase = (one: number, other: number): number => {
    const above = new Uint8Array(count);
    for (let at = one; ; at = from[mateOf[at]!]!) {
      at = base[at]!;
      above[at] = 1;
      if (mateOf[at]! < 0) break;
    }
    for (let at = base[other]!; ; at = base[from[mateOf[at]!]!]!) if (above[at] === 1) return at;
  };
  const markTo = (start: number, common: number, next: number, inBlossom: Uint8Array) => {
    for (let [at, child] = [start, next]; base[at] !== common; ) {
      const mate = mateOf[at]!;
      inBlossom[base[at]!] = 1;
      inBlossom[base[mate]!] = 1;
      from[at] = child;
      child = mate;
      at = from[mate]!;
    }
  };
  const contract = (one: number, other: number) => {
    const common = commonBase(one, other);
    const inBlossom = new Uint8Array(count);
    markTo(one, common, other, inBlossom);
    markTo(other, common, one, inBlossom);
    for (let member = 0; member < count; member++) {
      if (inBlossom[base[member]!] === 0) continue;
      base[member] = common;
      if (reached[member] === 1) continue;
      reached[member] = 1;
      queue.push(member);
    }
  };
  for (const member of queue)
    for (const other of mates[member]!) {
      if (base[member] === base[other] || mateOf[member] === other) continue;
      if (other === root || (mateOf[other]! >= 0 && from[mateOf[other]!]! >= 0)) contract(member, other);
      else if (from[other]! < 0) {
        from[other] = member;
        const mate = mateOf[other]!;
        if (mate < 0) {
          changeAlong(mateOf, from, other);
          return true;
        }
        reached[mate] = 1;
        queue.push(mate);
      }
    }
  return false;
};

/** Pairs the last of a chain with the one before it, and so on back to where the chain began. */
const changeAlong = (mateOf: Int32Array, from: Int32Array, last: number) => {
  for (let at = last; at >= 0; ) {
    const before = from[at]!;
    const next = mateOf[before]!;
    mateOf[at] = before;
    mateOf[before] = at;
    at = next;
  }
};
