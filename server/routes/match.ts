import type { Express } from "express";
import type { Site } from "../site.ts";
import { planAllotment } from "../use-cases/plan-allotment.ts";
import { setWishes } from "../use-cases/set-wishes.ts";
import { viewMatch } from "../use-cases/view-match.ts";
import { viewRepeat } from "../use-cases/view-repeat.ts";
import { bind } from "./bind.ts";

/** The allotment of leaves and faces to openings, and how far the photos behind it can be trusted. */
export const match = (app: Express, site: Site): void => {
  bind(app, "match", ({ delivery }) => viewMatch(site, delivery));
  bind(app, "repeat", ({ delivery }) => viewRepeat(site, delivery));
  bind(app, "planAllotment", ({ delivery }, body) => planAllotment(site, delivery, body));
  bind(app, "setWishes", ({ delivery }, body) => setWishes(site, delivery, body));
};
