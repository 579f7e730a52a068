import type { Board, Values } from "./board.ts";

/** The board with only some of its places, in the order given; the leaves stay. */
export const partOfBoard = (board: Board, places: readonly number[]): Board => {
  const { words, values } = board;
  const newAt = new Map(places.map((place, at) => [place, at]));
  const rows = <Numbers extends Int32Array | Float64Array>(from: Numbers, width: number, to: Numbers): Numbers => {
    for (const [at, place] of places.entries()) to.set(from.subarray(place * width, (place + 1) * width), at * width);
    return to;
  };
  return {
    ...board,
    places: places.map((place) => board.places[place]!),
    pairs: [],
    domains: rows(board.domains, words, new Int32Array(places.length * words)),
    ties: places.map((place) =>
      board.ties[place]!.flatMap((tie) => {
        const other = newAt.get(tie.other);
        return other === undefined ? [] : [{ ...tie, other }];
      }),
    ),
    alone: places.map((place) => board.alone[place]!),
    aloneWorst: rows(board.aloneWorst, values, new Float64Array(places.length * values)),
    aloneSum: rows(board.aloneSum, values, new Float64Array(places.length * values)),
  };
};

/** The values of a plan at those places. */
export const partOfPlan = (plan: Values, places: readonly number[]): Values =>
  Int32Array.from(places, (place) => plan[place]!);
