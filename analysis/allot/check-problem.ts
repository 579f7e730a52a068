import type { AllotmentProblem, Leaf } from "./allotment.ts";

const repeated = (ids: readonly string[]): string | undefined => ids.find((id, index) => ids.indexOf(id) !== index);

/** Whether the facts of the leaf itself let it hang in the opening, locks and bans apart. */
export const suits = (leaf: Leaf, opening: { readonly id: string; readonly spec: string }): boolean =>
  "spec" in leaf.fits ? leaf.fits.spec === opening.spec : leaf.fits.openings.includes(opening.id);

/**
 * Why the problem cannot be taken as it stands, naming the thing at fault; null when it can.
 * Too few leaves is not a fault: that is an ordinary `impossible`.
 */
export const faultIn = (problem: AllotmentProblem): string | null =>
  twice(problem) ?? unknownName(problem) ?? badDifference(problem) ?? badNumber(problem) ?? badLock(problem);

const twice = ({ leaves, openings, spaces, existing, differences, locks }: AllotmentProblem): string | null => {
  const lists: readonly (readonly [string, readonly string[]])[] = [
    ["leaf", leaves.map(({ id }) => id)],
    ["opening", openings.map(({ id }) => id)],
    ["space", spaces.map(({ id }) => id)],
    ["face", [...leaves.flatMap(({ faces }) => [faces.A.id, faces.B.id]), ...existing.map(({ id }) => id)]],
    ["row of the difference table", differences.faces],
    ["lock of leaf", locks.map(({ leaf }) => leaf)],
  ];
  for (const [what, ids] of lists) {
    const id = repeated(ids);
    if (id !== undefined) return `${what} ${id} stands twice`;
  }
  return null;
};

const unknownName = ({
  leaves,
  openings,
  spaces,
  existing,
  locks,
  bans,
  mayStayEmpty,
}: AllotmentProblem): string | null => {
  const leafIds = new Set(leaves.map(({ id }) => id));
  const openingIds = new Set(openings.map(({ id }) => id));
  const spaceIds = new Set(spaces.map(({ id }) => id));
  const faceIds = new Set(existing.map(({ id }) => id));
  const named: readonly (readonly [string, ReadonlySet<string>, readonly (readonly [string, string | null])[]])[] = [
    ["space", spaceIds, openings.flatMap(({ id, spaces }) => spaces.map((space) => [`opening ${id}`, space] as const))],
    ["space", spaceIds, existing.map(({ id, space }) => [`existing face ${id}`, space] as const)],
    [
      "opening",
      openingIds,
      leaves.flatMap(({ id, fits }) =>
        "spec" in fits ? [] : fits.openings.map((opening) => [`leaf ${id}`, opening] as const),
      ),
    ],
    ["leaf", leafIds, locks.map(({ leaf }) => ["a lock", leaf] as const)],
    ["opening", openingIds, locks.map(({ leaf, opening }) => [`the lock of leaf ${leaf}`, opening] as const)],
    ["leaf", leafIds, bans.map(({ leaf }) => ["a ban", leaf] as const)],
    [
      "opening",
      openingIds,
      bans.flatMap((ban) => ("opening" in ban ? [[`the ban of leaf ${ban.leaf}`, ban.opening] as const] : [])),
    ],
    [
      "space",
      spaceIds,
      bans.flatMap((ban) => ("space" in ban ? [[`the ban of leaf ${ban.leaf}`, ban.space] as const] : [])),
    ],
    [
      "opening",
      openingIds,
      mayStayEmpty.map((opening) => ["the list of openings that may stay empty", opening] as const),
    ],
    [
      "opening or existing face",
      new Set([...openingIds, ...faceIds]),
      spaces.flatMap(({ id, pairs = [] }) =>
        pairs.flatMap(({ one, other }) => [one, other].map((seat) => [`space ${id}`, seat] as const)),
      ),
    ],
  ];
  for (const [what, known, uses] of named)
    for (const [where, id] of uses)
      if (id !== null && !known.has(id)) return `${where} names ${what} ${id}, which does not exist`;
  return null;
};

const badDifference = ({ leaves, existing, differences: { faces, deltaE } }: AllotmentProblem): string | null => {
  const rows = new Set(faces);
  const needed = [...leaves.flatMap(({ faces }) => [faces.A.id, faces.B.id]), ...existing.map(({ id }) => id)];
  const missing = needed.find((id) => !rows.has(id));
  if (missing !== undefined) return `face ${missing} has no row in the difference table`;
  for (const [i, one] of faces.entries())
    for (const [j, other] of faces.entries()) {
      const value = deltaE[i]?.[j];
      if (value === undefined) return `the difference of ${one} and ${other} is missing`;
      if (value !== null && !(value >= 0 && value < Number.POSITIVE_INFINITY))
        return `the difference of ${one} and ${other} is ${value}, not a number from 0 up`;
      if (value !== (deltaE[j]?.[i] ?? null))
        return `the difference of ${one} and ${other} depends on which comes first`;
    }
  return null;
};

const badNumber = ({ spaces, meetingWeight, notComparedAs }: AllotmentProblem): string | null => {
  const numbers: readonly (readonly [string, number])[] = [
    ["the weight of the two leaves of a pair", meetingWeight],
    ["the difference taken where faces cannot be compared", notComparedAs],
    ...spaces.flatMap(({ id, weight, pairs = [] }) =>
      [weight, ...pairs.map((pair) => pair.weight)].map((w) => [`a weight in space ${id}`, w] as const),
    ),
  ];
  const bad = numbers.find(([, value]) => !(value >= 0 && value < Number.POSITIVE_INFINITY));
  return bad ? `${bad[0]} is ${bad[1]}, not a number from 0 up` : null;
};

const badLock = ({ leaves, openings, locks, bans }: AllotmentProblem): string | null => {
  const taken = new Map<string, string[]>();
  for (const { leaf: leafId, opening: openingId, place, turned } of locks) {
    const leaf = leaves.find(({ id }) => id === leafId)!;
    const opening = openings.find(({ id }) => id === openingId)!;
    const lock = `leaf ${leafId} is locked to opening ${openingId}`;
    if (leaf.state === "out") return `${lock}, but it is out`;
    if (!suits(leaf, opening))
      return `${lock}, but does not fit it (${"spec" in leaf.fits ? leaf.fits.spec : "fits only what it lists"}; the opening asks for ${opening.spec})`;
    if (place === 1 && opening.leaves === 1) return `${lock}, place 1, but the opening takes one leaf`;
    if (turned === true && !leaf.mayTurn) return `${lock} turned, but may not turn`;
    const banned = bans.find(
      (ban) =>
        ban.leaf === leafId &&
        ("opening" in ban ? ban.opening === openingId : !ban.face && opening.spaces.includes(ban.space)),
    );
    if (banned)
      return `${lock}, but banned from ${"opening" in banned ? `opening ${banned.opening}` : `space ${banned.space}`}`;
    const others = taken.get(openingId) ?? [];
    if (others.length === opening.leaves) return `${lock}, but so is ${others.join(" and ")}`;
    taken.set(openingId, [...others, leafId]);
  }
  const places = locks.flatMap(({ opening, place }) => (place !== undefined ? [`${opening}, place ${place}`] : []));
  const place = repeated(places);
  return place === undefined ? null : `two leaves are locked to opening ${place}`;
};
