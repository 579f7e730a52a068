/**
 * An order of the unknowns that keeps the envelope of their equations narrow: reverse Cuthill-McKee (from memory).
 * `neighbours[i]` lists the unknowns that share an equation with unknown i. `hubs`, those tied to very many others
 * (a value shared by every photo), come last, where their long rows cost least.
 * Returns the place of each unknown in the new order.
 */
export const narrowOrder = (neighbours: readonly ReadonlySet<number>[], hubs: ReadonlySet<number>): Int32Array => {
  const size = neighbours.length;
  const degree = neighbours.map((set) => set.size);
  const isHub = degree.map((_, i) => hubs.has(i));
  const seen = new Uint8Array(size);
  const order: number[] = [];
  const byDegree = Array.from({ length: size }, (_, i) => i).sort((i, j) => degree[i]! - degree[j]!);
  for (const root of byDegree) {
    if (isHub[root] || seen[root]) continue;
    for (const i of breadthFirst(farthest(root, neighbours, isHub), neighbours, isHub, degree)) {
      seen[i] = 1;
      order.push(i);
    }
  }
  order.reverse();
  for (const i of byDegree) if (isHub[i]) order.push(i);
  const place = new Int32Array(size);
  for (let k = 0; k < size; k++) place[order[k]!] = k;
  return place;
};

/** A start at the rim: the last unknown reached from `root`, and the last reached from that. */
const farthest = (root: number, neighbours: readonly ReadonlySet<number>[], skip: readonly boolean[]): number => {
  const none: number[] = [];
  const once = breadthFirst(root, neighbours, skip, none).at(-1) ?? root;
  return breadthFirst(once, neighbours, skip, none).at(-1) ?? once;
};

const breadthFirst = (
  root: number,
  neighbours: readonly ReadonlySet<number>[],
  skip: readonly boolean[],
  degree: readonly number[],
): number[] => {
  const reached = new Set([root]);
  const order = [root];
  for (let at = 0; at < order.length; at++) {
    const next = [...neighbours[order[at]!]!].filter((i) => !skip[i] && !reached.has(i));
    if (degree.length > 0) next.sort((i, j) => degree[i]! - degree[j]!);
    for (const i of next) {
      reached.add(i);
      order.push(i);
    }
  }
  return order;
};
