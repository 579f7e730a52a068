import type { Choice, SeenCosts } from "./seen-costs.ts";

/**
 * "Is there a plan in which nothing counts for more than this?" as a program of 0s and 1s in LP format: a leaf for every place, no leaf
 * twice, and beside a choice none that it would count for more with. One row for a choice and a place it sees (the choices at that
 * place exclude each other). `most`: ΔE00 after weighting.
 */
export const thresholdModel = (costs: SeenCosts, most: number): string => {
  const name = namesFor(costs);
  const clashes = costs.beside.flatMap(({ choice, costs: others }) => {
    const over = others.filter(({ worst }) => worst > most).map((other) => name(other.choice));
    return over.length === 0 ? [] : [`${sum([name(choice), ...over])} <= 1`];
  });
  const barred = [...costs.alone].filter(([, alone]) => alone > most).map(([choice]) => `${name(choice)} = 0`);
  return program("0", [...hanging(costs, name), ...clashes, ...barred], costs.choices.flat().map(name));
};

/**
 * "What is the least worst?" as one mixed-integer program in LP format: `worst` is at least what a choice counts for with the one chosen
 * at a place it sees, less so much when the choice is not taken that the row then says nothing (the sum over both places' choices of
 * worst >= cost * (x1 + x2 - 1), gathered into one row for a choice and a place, both ways round).
 */
export const leastWorstModel = (costs: SeenCosts): string => {
  const name = namesFor(costs);
  const row = (mine: Choice, others: readonly (readonly [Choice, number])[]): string => {
    const high = Math.max(...others.map(([, cost]) => cost));
    return `${sum([...others.map(([choice, cost]) => `${cost} ${name(choice)}`), `${high} ${name(mine)}`])} - worst <= ${high}`;
  };
  const back = new Map<string, { readonly mine: Choice; readonly others: (readonly [Choice, number])[] }>();
  for (const { choice, costs: others } of costs.beside)
    for (const { choice: mine, worst } of others) {
      const key = `${name(mine)} ${choice.place}`;
      const known = back.get(key) ?? { mine, others: [] };
      known.others.push([choice, worst]);
      back.set(key, known);
    }
  return program(
    "worst",
    [
      ...hanging(costs, name),
      ...[...costs.alone]
        .filter(([, cost]) => cost > 0)
        .map(([choice, cost]) => `${cost} ${name(choice)} - worst <= 0`),
      ...costs.beside
        .filter(({ costs: others }) => others.length > 0)
        .map(({ choice, costs: others }) =>
          row(
            choice,
            others.map((other) => [other.choice, other.worst]),
          ),
        ),
      ...[...back.values()].map(({ mine, others }) => row(mine, others)),
    ],
    costs.choices.flat().map(name),
  );
};

const namesFor = ({ choices }: SeenCosts): ((choice: Choice) => string) => {
  const names = new Map(choices.flatMap((list) => list.map((choice, n) => [choice, `x${choice.place}_${n}`] as const)));
  return (choice) => names.get(choice)!;
};

/** A leaf for every place, and every leaf at most once. */
const hanging = ({ choices }: SeenCosts, name: (choice: Choice) => string): string[] => {
  const all = choices.flat();
  const leaves = [...new Set(all.map(({ leaf }) => leaf))];
  return [
    ...choices.map((list) => `${sum(list.map(name))} = 1`),
    ...leaves.map((leaf) => `${sum(all.filter((choice) => choice.leaf === leaf).map(name))} <= 1`),
  ];
};

/** Terms on lines of their own: readers of the format cut long lines. */
const sum = (terms: readonly string[]): string => terms.join("\n + ");

const program = (least: string, rows: readonly string[], binaries: readonly string[]): string =>
  ["Minimize", ` least: ${least}`, "Subject To", ...rows, "Binary", ...binaries, "End"].join("\n");
