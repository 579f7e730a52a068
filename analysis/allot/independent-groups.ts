import type { AllotmentProblem } from "./allotment.ts";
import { suits } from "./check-problem.ts";

/**
 * Parts a problem into groups that have nothing to do with each other: no leaf of one can hang in an opening of another,
 * and no space shows faces of two. Each is planned by itself, so that a difference forced in one does not hide what can
 * be won in the others. Leaves that can hang nowhere belong to no group.
 */
export const independentGroups = (problem: AllotmentProblem): AllotmentProblem[] => {
  const { leaves, openings, spaces, existing, locks, bans, mayStayEmpty } = problem;
  const up = new Map<string, string>();
  const root = (name: string): string => {
    const above = up.get(name) ?? name;
    return above === name ? name : root(above);
  };
  for (const opening of openings) {
    for (const space of opening.spaces) if (space) up.set(root(`space ${space}`), root(`opening ${opening.id}`));
    for (const leaf of leaves) if (suits(leaf, opening)) up.set(root(`leaf ${leaf.id}`), root(`opening ${opening.id}`));
  }
  const groups = [...new Set(openings.map(({ id }) => root(`opening ${id}`)))];
  return groups.map((group) => {
    const here = (kind: string, id: string) => root(`${kind} ${id}`) === group;
    const ownLeaves = leaves.filter(({ id }) => here("leaf", id));
    const own = new Set(ownLeaves.map(({ id }) => id));
    const ownSpaces = spaces.filter(({ id }) => here("space", id));
    const ownExisting = existing.filter(({ space }) => here("space", space));
    return {
      ...problem,
      leaves: ownLeaves,
      openings: openings.filter(({ id }) => here("opening", id)),
      spaces: ownSpaces,
      existing: ownExisting,
      locks: locks.filter(({ leaf }) => own.has(leaf)),
      bans: bans.filter(
        (ban) => own.has(ban.leaf) && ("opening" in ban ? here("opening", ban.opening) : here("space", ban.space)),
      ),
      mayStayEmpty: mayStayEmpty.filter((opening) => here("opening", opening)),
    };
  });
};
