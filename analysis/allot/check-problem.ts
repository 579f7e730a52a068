import type { AllotmentProblem, Leaf, Opening } from "./allotment.ts";

const repeated = (ids: readonly string[]): string | undefined => ids.find((id, index) => ids.indexOf(id) !== index);

/** Whether the facts of the leaf itself let it hang in the opening, locks and bans apart. */
export const suits = (leaf: Leaf, opening: Pick<Opening, "id" | "spec" | "hand" | "fireMinutes">): boolean =>
  ("spec" in leaf.fits ? leaf.fits.spec === opening.spec : leaf.fits.openings.includes(opening.id)) &&
  (leaf.hand === undefined || opening.hand === undefined || leaf.hand === opening.hand) &&
  (leaf.fireMinutes ?? 0) >= (opening.fireMinutes ?? 0);

/** What keeps a leaf from hanging in an opening it does not suit. */
const whyUnsuited = ({ fits, hand, fireMinutes = 0 }: Leaf, opening: Opening): string => {
  if ("spec" in fits && fits.spec !== opening.spec) return `${fits.spec}; the opening asks for ${opening.spec}`;
  if ("openings" in fits && !fits.openings.includes(opening.id))
    return `fits only what it lists; the opening asks for ${opening.spec}`;
  if (fireMinutes < (opening.fireMinutes ?? 0))
    return `${fireMinutes} minutes of fire; the opening asks for ${opening.fireMinutes}`;
  return `hinged ${hand}; the opening is hinged ${opening.hand}`;
};

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
    ...spaces.map(({ id, walls = [] }) => [`on the walls of space ${id}:`, walls.flat()] as const),
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
    [
      "opening or existing face",
      new Set([...openingIds, ...faceIds]),
      spaces.flatMap(({ id, walls = [] }) => walls.flat().map((seat) => [`a wall of space ${id}`, seat] as const)),
    ],
  ];
  for (const [what, known, uses] of named)
    for (const [where, id] of uses)
      if (id !== null && !known.has(id)) return `${where} names ${what} ${id}, which does not exist`;
  return null;
};

const badDifference = ({ leaves, existing, differences }: AllotmentProblem): string | null => {
  const rows = new Set(differences.faces);
  const needed = [...leaves.flatMap(({ faces }) => [faces.A.id, faces.B.id]), ...existing.map(({ id }) => id)];
  const missing = needed.find((id) => !rows.has(id));
  if (missing !== undefined) return `face ${missing} has no row in the difference table`;
  return (
    badTable("difference", differences.faces, differences.deltaE) ??
    (differences.u95 ? badTable("uncertainty of the difference", differences.faces, differences.u95) : null)
  );
};

const badTable = (
  what: string,
  faces: readonly string[],
  table: readonly (readonly (number | null)[])[],
): string | null => {
  for (const [i, one] of faces.entries())
    for (const [j, other] of faces.entries()) {
      const value = table[i]?.[j];
      if (value === undefined) return `the ${what} of ${one} and ${other} is missing`;
      if (value !== null && !(value >= 0 && value < Number.POSITIVE_INFINITY))
        return `the ${what} of ${one} and ${other} is ${value}, not a number from 0 up`;
      if (value !== (table[j]?.[i] ?? null)) return `the ${what} of ${one} and ${other} depends on which comes first`;
    }
  return null;
};

const badNumber = (problem: AllotmentProblem): string | null => {
  const { leaves, spaces, sight, tolerance = 0, confidence = 0.5 } = problem;
  const given = (what: string, value: number | undefined): (readonly [string, number])[] =>
    value === undefined ? [] : [[what, value]];
  const fromZero = [
    ...given("the weight of the two leaves of a pair", problem.meetingWeight),
    ...given("the difference taken where faces cannot be compared", problem.notComparedAs),
    ...given("the tolerance", tolerance),
    ...(sight ? Object.entries(sight).map(([where, weight]) => [`the weight of faces ${where}`, weight] as const) : []),
    ...spaces.flatMap(({ id, weight, pairs = [], gentle, lightBesideDark, marksCount }) => [
      ...[weight, ...pairs.map((pair) => pair.weight)].map((w) => [`a weight in space ${id}`, w] as const),
      ...given(`what a step back adds in space ${id}`, gentle?.stepBack),
      ...given(`what light beside dark adds in space ${id}`, lightBesideDark?.adds),
      ...given(`the average lightness in space ${id}`, lightBesideDark?.average),
      ...given(`how much marks count in space ${id}`, marksCount),
    ]),
    ...leaves.flatMap(({ id, fireMinutes, faces: { A, B } }) => [
      ...given(`the fire rating of leaf ${id}`, fireMinutes),
      ...[A, B].flatMap((face) => given(`the mark of face ${face.id}`, face.mark)),
    ]),
    ...problem.openings.flatMap(({ id, fireMinutes }) => given(`the fire rating of opening ${id}`, fireMinutes)),
  ];
  const bad = fromZero.find(([, value]) => !(value >= 0 && value < Number.POSITIVE_INFINITY));
  if (bad) return `${bad[0]} is ${bad[1]}, not a number from 0 up`;
  if (!(confidence >= 0.5 && confidence < 1))
    return `the confidence is ${confidence}, not a number from 0.5 to below 1`;
  const faces = [...leaves.flatMap(({ faces: { A, B } }) => [A, B]), ...problem.existing];
  const unmeasured = faces.find(({ lightness = null }) => lightness !== null && !Number.isFinite(lightness));
  return unmeasured ? `the lightness of face ${unmeasured.id} is ${unmeasured.lightness}, not a number` : null;
};

const badLock = ({ leaves, openings, locks, bans }: AllotmentProblem): string | null => {
  const taken = new Map<string, string[]>();
  for (const { leaf: leafId, opening: openingId, place, turned } of locks) {
    const leaf = leaves.find(({ id }) => id === leafId)!;
    const opening = openings.find(({ id }) => id === openingId)!;
    const lock = `leaf ${leafId} is locked to opening ${openingId}`;
    if (leaf.state === "out") return `${lock}, but it is out`;
    if (!suits(leaf, opening)) return `${lock}, but does not fit it (${whyUnsuited(leaf, opening)})`;
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
