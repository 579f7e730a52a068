import type { Board, Relation } from "./board.ts";

/**
 * Places that can change their leaves without changing anything: the same leaves may hang there, they cost the same by themselves,
 * and every other place sees both in the same way. For each place, all that are alike with it and itself, in their order.
 */
export const alikePlaces = (board: Board): readonly (readonly number[])[] => {
  const groups: number[][] = [];
  const groupOf = board.places.map((_, place) => {
    const known = groups.find((group) => isAlike(board, group[0]!, place));
    if (known) known.push(place);
    else groups.push([place]);
    return known ?? groups.at(-1)!;
  });
  return groupOf;
};

const isAlike = (board: Board, one: number, other: number): boolean => {
  const { ties, domains, words, aloneWorst, values } = board;
  const [mine, theirs] = [ties[one]!, ties[other]!];
  if (mine.length !== theirs.length) return false;
  const between = mine.find((tie) => tie.other === other);
  if (!between) return false;
  const back = theirs.find((tie) => tie.other === one)!;
  return (
    sameRelations(between.relations, back.relations) &&
    mine.every(
      (tie) =>
        tie === between ||
        theirs.some((match) => match.other === tie.other && sameRelations(tie.relations, match.relations)),
    ) &&
    sameRow(domains, one * words, other * words, words) &&
    sameRow(aloneWorst, one * values, other * values, values)
  );
};

const sameRelations = (some: readonly Relation[], others: readonly Relation[]): boolean =>
  some.length === others.length &&
  some.every(({ mine, theirs, table }) =>
    others.some((one) => one.mine === mine && one.theirs === theirs && one.table === table),
  );

const sameRow = (numbers: ArrayLike<number>, one: number, other: number, width: number): boolean => {
  for (let i = 0; i < width; i++) if (numbers[one + i] !== numbers[other + i]) return false;
  return true;
};
