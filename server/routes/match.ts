import type { Express } from "express";
import type { Site } from "../site.ts";
import { askLate, askMoves, askReturns, askWhatIf } from "../use-cases/ask-allotment.ts";
import { askLift } from "../use-cases/ask-lift.ts";
import { askReplacement } from "../use-cases/ask-replacement.ts";
import { askSureness } from "../use-cases/ask-sureness.ts";
import { planAllotment } from "../use-cases/plan-allotment.ts";
import { planFewMoves } from "../use-cases/plan-few-moves.ts";
import { setSight } from "../use-cases/set-sight.ts";
import { setWishes } from "../use-cases/set-wishes.ts";
import { stopPlanning } from "../use-cases/stop-planning.ts";
import { takePlanBack } from "../use-cases/take-plan-back.ts";
import { viewMatch } from "../use-cases/view-match.ts";
import { viewRepeat } from "../use-cases/view-repeat.ts";
import { bind } from "./bind.ts";

/** The allotment of leaves and faces to openings, and how far the photos behind it can be trusted. */
export const match = (app: Express, site: Site): void => {
  bind(app, "match", ({ delivery }) => viewMatch(site, delivery));
  bind(app, "repeat", ({ delivery }) => viewRepeat(site, delivery));
  bind(app, "planAllotment", ({ delivery }, body, by) => planAllotment(site, delivery, { ...body, by }));
  bind(app, "stopPlanning", ({ delivery }) => stopPlanning(site, delivery));
  bind(app, "takePlanBack", ({ delivery }, body, by) => takePlanBack(site, delivery, { ...body, by }));
  bind(app, "planFewMoves", ({ delivery }, body, by) => planFewMoves(site, delivery, { ...body, by }));
  bind(app, "askReturns", ({ delivery }, body) => askReturns(site, delivery, body));
  bind(app, "askLate", ({ delivery }, body) => askLate(site, delivery, body));
  bind(app, "askMoves", ({ delivery }, body) => askMoves(site, delivery, body));
  bind(app, "askWhatIf", ({ delivery }, body) => askWhatIf(site, delivery, body));
  bind(app, "askLift", ({ delivery }) => askLift(site, delivery));
  bind(app, "askSureness", ({ delivery }) => askSureness(site, delivery));
  bind(app, "askReplacement", ({ delivery, ...at }) => askReplacement(site, delivery, at));
  bind(app, "setSight", ({ delivery }, body, by) => setSight(site, delivery, { ...body, by }));
  bind(app, "setWishes", ({ delivery }, body, by) => setWishes(site, delivery, { ...body, by }));
};
