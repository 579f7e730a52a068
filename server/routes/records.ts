import type { Express } from "express";
import type { Site } from "../site.ts";
import { issueRecord } from "../use-cases/issue-record.ts";
import { issuedJson, issuedPdf } from "../use-cases/issued-files.ts";
import { viewReturns } from "../use-cases/view-returns.ts";
import { bind, paramsOf, route } from "./bind.ts";

/** Records: what waits for one, issuing, and the issued files. */
export const records = (app: Express, site: Site): void => {
  bind(app, "returns", ({ delivery }) => viewReturns(site, delivery));
  bind(app, "issueRecord", ({ delivery }, body) => issueRecord(site, delivery, body));
  route(app, "recordPdf", async (request, response) => {
    const { delivery, number } = paramsOf("recordPdf", request);
    response.type("application/pdf").send(await issuedPdf(site, delivery, number));
  });
  route(app, "recordJson", async (request, response) => {
    const { delivery, number } = paramsOf("recordJson", request);
    response.type("application/json").send(await issuedJson(site, delivery, number));
  });
};
