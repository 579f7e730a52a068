import compression from "compression";
import express, { type Express } from "express";
import helmet from "helmet";
import type { Access } from "./access/access.ts";
import { type HowOften, usualRates } from "./access/rates.ts";
import { Refusal } from "./problem.ts";
import { access } from "./routes/access.ts";
import { clientFiles } from "./routes/client-files.ts";
import { deliveries } from "./routes/deliveries.ts";
import { events } from "./routes/events.ts";
import { howOften } from "./routes/how-often.ts";
import { leaves } from "./routes/leaves.ts";
import { match } from "./routes/match.ts";
import { openApi } from "./routes/openapi.ts";
import { photos } from "./routes/photos.ts";
import { problemAnswer } from "./routes/problem-answer.ts";
import { records } from "./routes/records.ts";
import { ownNamesOnly, samePageOnly } from "./routes/same-page-only.ts";
import { sheets } from "./routes/sheets.ts";
import { sessionOf, whoCalls } from "./routes/who-may-call.ts";
import type { Site } from "./site.ts";

/** What the app needs beside the site. */
export interface AppSettings {
  readonly clientFolder: string;
  readonly version: string;
  readonly access: Access;
  readonly rates?: HowOften;
  /** Hears of faults of ours, never of refusals. */
  report(error: unknown): void;
}

/** No inline script or style, nothing from elsewhere. On plain http neither HSTS nor an upgrade may be asked for. */
const security = helmet({
  contentSecurityPolicy: {
    useDefaults: false,
    directives: {
      defaultSrc: ["'self'"],
      scriptSrc: ["'self'"],
      imgSrc: ["'self'", "blob:", "data:"],
      objectSrc: ["'none'"],
      baseUri: ["'none'"],
      frameAncestors: ["'none'"],
      formAction: ["'self'"],
    },
  },
  strictTransportSecurity: false,
  referrerPolicy: { policy: "no-referrer" },
});

/** The web application of a site. It does not listen. */
export const makeApp = (site: Site, settings: AppSettings): Express => {
  const app = express();
  app.disable("x-powered-by").set("query parser", "simple").set("etag", false);
  app.use(ownNamesOnly(settings.access.door), security, samePageOnly);
  app.use(
    compression({
      filter: (request, response) => !request.path.endsWith("/events") && compression.filter(request, response),
    }),
  );
  app.get("/healthz", (_request, response) => {
    response.json({ alive: true });
  });
  app.get("/openapi.json", (_request, response) => {
    response.json(openApi(settings.version));
  });
  app.use("/api", (_request, response, next) => {
    response.set("Cache-Control", "no-store"); // a picture says otherwise for itself
    next();
  });
  app.use("/api", whoCalls(settings.access));
  howOften(app, settings.rates ?? usualRates);
  access(app, site, settings.access);
  events(app, site, settings.access.sessions);
  for (const part of [deliveries, leaves, photos, match, records, sheets]) part(app, site);
  app.use("/api", (_request, response) => {
    sessionOf(response);
    throw new Refusal("There is no such call.", 404);
  });
  clientFiles(app, settings.clientFolder);
  app.use(problemAnswer((error) => settings.report(error)));
  return app;
};
