import type { Express } from "express";
import type { Site } from "../site.ts";
import { addLeaf } from "../use-cases/add-leaf.ts";
import { decideLeaf } from "../use-cases/decide-leaf.ts";
import { identifyLeaf } from "../use-cases/identify-leaf.ts";
import { logMark } from "../use-cases/log-mark.ts";
import { logShape } from "../use-cases/log-shape.ts";
import { setJoints } from "../use-cases/set-joints.ts";
import { unwrapLeaf } from "../use-cases/unwrap-leaf.ts";
import { viewLeafHistory } from "../use-cases/view-history.ts";
import { viewLeaf } from "../use-cases/view-leaf.ts";
import { viewPattern } from "../use-cases/view-pattern.ts";
import { waveOff } from "../use-cases/wave-off.ts";
import { withdrawMark } from "../use-cases/withdraw-mark.ts";
import { bind } from "./bind.ts";

/** One leaf, and the pattern it is made by: unwrapping, what it is, its shape, its marks, the decision. */
export const leaves = (app: Express, site: Site): void => {
  bind(app, "leaf", ({ delivery, leaf }) => viewLeaf(site, delivery, leaf));
  bind(app, "leafHistory", ({ delivery, leaf }, _body, by) => viewLeafHistory(site, delivery, leaf, by));
  bind(app, "addLeaf", ({ delivery }, body, by) => addLeaf(site, delivery, { ...body, by }));
  bind(app, "pattern", ({ delivery, pattern }) => viewPattern(site, delivery, pattern));
  bind(app, "setJoints", ({ delivery, pattern }, body, by) => setJoints(site, delivery, pattern, { ...body, by }));
  bind(app, "unwrapLeaf", ({ delivery, leaf }, body, by) => unwrapLeaf(site, delivery, leaf, { ...body, by }));
  bind(app, "identifyLeaf", ({ delivery, leaf }, body, by) => identifyLeaf(site, delivery, leaf, { ...body, by }));
  bind(app, "logShape", ({ delivery, leaf }, body, by) => logShape(site, delivery, leaf, { ...body, by }));
  bind(app, "decideLeaf", ({ delivery, leaf }, body, by) => decideLeaf(site, delivery, leaf, { ...body, by }));
  bind(app, "logMark", ({ delivery, leaf }, body, by) => logMark(site, delivery, leaf, { ...body, by }));
  bind(app, "waveOff", ({ delivery, leaf }, body, by) => waveOff(site, delivery, leaf, { ...body, by }));
  bind(app, "withdrawMark", ({ delivery, mark }, body, by) => withdrawMark(site, delivery, mark, { ...body, by }));
};
