/**
 * An order in which to eliminate unknowns so that the factor stays sparse and what hangs on one unknown stays short: in rounds,
 * unknowns with about the fewest neighbours, no two of one round neighbours of each other; their neighbours become
 * neighbours of one another (multiple minimum degree, Liu 1985, from memory). A chain of n is done in about log n rounds.
 * `neighbours` lists what shares an equation with each. `hubs`, shared by very many others (a value that every photo
 * knows), come last. Returns the unknowns in the order of their elimination.
 */
export const eliminationOrder = (
  neighbours: ReadonlyMap<number, ReadonlySet<number>>,
  hubs: ReadonlySet<number>,
): readonly number[] => {
  const left = new Map(
    [...neighbours].flatMap(([i, near]) =>
      hubs.has(i) ? [] : [[i, new Set([...near].filter((j) => !hubs.has(j)))] as const],
    ),
  );
  const degree = (i: number) => left.get(i)!.size;
  const order: number[] = [];
  let open = [...left.keys()];
  while (open.length > 0) {
    open.sort((i, j) => degree(i) - degree(j) || i - j);
    const most = degreeSlack * degree(open[0]!) + 1;
    const barred = new Set<number>();
    const rest: number[] = [];
    for (const i of open) {
      if (barred.has(i) || degree(i) > most) {
        rest.push(i);
        continue;
      }
      order.push(i);
      const near = [...left.get(i)!];
      for (const one of near) {
        barred.add(one);
        const its = left.get(one)!;
        its.delete(i);
        for (const other of near) if (other !== one) its.add(other);
      }
    }
    open = rest;
  }
  return [...order, ...hubs];
};

/** Unknowns with up to so many times the fewest neighbours go in the same round: fewer rounds, hardly more fill. */
const degreeSlack = 1.5;
