import { type Body, calls, type Reply, type Signed } from "../contract/calls.ts";
import type { Conflict } from "../contract/conflict.ts";
import { roles } from "../contract/roles.ts";
import { Refusal } from "../problem.ts";
import type { Site } from "../site.ts";
import { chooseChart } from "./choose-chart.ts";
import { countLine } from "./count-line.ts";
import { decideLeaf } from "./decide-leaf.ts";
import { filePhoto } from "./file-photo.ts";
import { identifyLeaf } from "./identify-leaf.ts";
import { setJoints } from "./set-joints.ts";
import { setSight } from "./set-sight.ts";
import { setTerms } from "./set-terms.ts";
import { setWishes } from "./set-wishes.ts";
import { unwrapLeaf } from "./unwrap-leaf.ts";

type Name = Conflict["call"];

type Enter = {
  readonly [One in Name]: (
    site: Site,
    delivery: string,
    params: Conflict["params"],
    body: Signed<One>,
  ) => Promise<unknown>;
};

const enter: Enter = {
  decideLeaf: (site, delivery, { leaf = "" }, body) => decideLeaf(site, delivery, leaf, body),
  identifyLeaf: (site, delivery, { leaf = "" }, body) => identifyLeaf(site, delivery, leaf, body),
  unwrapLeaf: (site, delivery, { leaf = "" }, body) => unwrapLeaf(site, delivery, leaf, body),
  countLine: (site, delivery, { line = "" }, body) => countLine(site, delivery, line, body),
  setTerms: (site, delivery, _, body) => setTerms(site, delivery, body),
  filePhoto: (site, delivery, { photo = "" }, body) => filePhoto(site, delivery, photo, body),
  setJoints: (site, delivery, { pattern = "" }, body) => setJoints(site, delivery, pattern, body),
  setWishes: (site, delivery, _, body) => setWishes(site, delivery, body),
  setSight: (site, delivery, _, body) => setSight(site, delivery, body),
  chooseChart: (site, delivery, _, body) => chooseChart(site, delivery, body),
};

/** Enters again what was set aside, by the rules as they stand now. */
const enterAgain = <One extends Name>(
  site: Site,
  delivery: string,
  kept: Conflict & { call: One },
  by: Signed<One>["by"],
) => {
  const body = calls[kept.call].body.parse(kept.body) as Body<One>;
  return enter[kept.call](site, delivery, kept.params, { ...body, by });
};

/**
 * Settles a conflict: what stands there stays, or what was set aside is entered in its place under the name of who settles it.
 * A hand settles what a hand may enter. Where the rules refuse the entry by now, the conflict stays open.
 */
export const settleConflict = async (
  site: Site,
  deliveryId: string,
  id: string,
  { by, take }: Signed<"settleConflict">,
): Promise<Reply<"settleConflict">> => {
  const store = site.store.open(deliveryId);
  const found = store.read().conflicts.find((one) => one.id === id);
  if (!found) throw new Refusal("There is no such conflict.", 404);
  if (found.settled) throw new Refusal(`${found.settled.by} settled this already.`);
  if (by.role === "hand" && roles[found.call] !== "hand") throw new Refusal("Only the foreman may settle this.", 403);
  if (take === "yours") await enterAgain(site, deliveryId, found, by);
  const kept = take === "yours" ? found.yours : found.theirs;
  const { seq } = await store.change(by, `Settled ${found.what}: as ${kept.by} entered it`, (delivery) => {
    const conflict = delivery.conflicts.find((one) => one.id === id);
    if (!conflict || conflict.settled) throw new Refusal("This was settled in the meantime.");
    conflict.settled = { take, by: by.name, device: by.device, at: site.now() };
  });
  return { seq };
};
