import type { Express } from "express";
import type { Site } from "../site.ts";
import { addLeaf } from "../use-cases/add-leaf.ts";
import { decideLeaf } from "../use-cases/decide-leaf.ts";
import { identifyLeaf } from "../use-cases/identify-leaf.ts";
import { logMark } from "../use-cases/log-mark.ts";
import { logShape } from "../use-cases/log-shape.ts";
import { setJoints } from "../use-cases/set-joints.ts";
import { unwrapLeaf } from "../use-cases/unwrap-leaf.ts";
import { viewLeaf } from "../use-cases/view-leaf.ts";
import { viewPattern } from "../use-cases/view-pattern.ts";
import { withdrawMark } from "../use-cases/withdraw-mark.ts";
import { bind } from "./bind.ts";

/** One leaf, and the pattern it is made by: unwrapping, what it is, its shape, its marks, the decision. */
export const leaves = (app: Express, site: Site): void => {
  bind(app, "leaf", ({ delivery, leaf }) => viewLeaf(site, delivery, leaf));
  bind(app, "addLeaf", ({ delivery }, body) => addLeaf(site, delivery, body));
  bind(app, "pattern", ({ delivery, pattern }) => viewPattern(site, delivery, pattern));
  bind(app, "setJoints", ({ delivery, pattern }, body) => setJoints(site, delivery, pattern, body));
  bind(app, "unwrapLeaf", ({ delivery, leaf }, body) => unwrapLeaf(site, delivery, leaf, body));
  bind(app, "identifyLeaf", ({ delivery, leaf }, body) => identifyLeaf(site, delivery, leaf, body));
  bind(app, "logShape", ({ delivery, leaf }, body) => logShape(site, delivery, leaf, body));
  bind(app, "decideLeaf", ({ delivery, leaf }, body) => decideLeaf(site, delivery, leaf, body));
  bind(app, "logMark", ({ delivery, leaf }, body) => logMark(site, delivery, leaf, body));
  bind(app, "withdrawMark", ({ delivery, mark }, body) => withdrawMark(site, delivery, mark, body));
};
