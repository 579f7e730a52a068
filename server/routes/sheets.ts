import type { Express, Response } from "express";
import type { Site } from "../site.ts";
import { lookUpCode } from "../use-cases/look-up-code.ts";
import { printAllotment } from "../use-cases/print-allotment.ts";
import { printCard } from "../use-cases/print-card.ts";
import { printLabels } from "../use-cases/print-labels.ts";
import { printLeavesCsv } from "../use-cases/print-leaves-csv.ts";
import { bind, paramsOf, route } from "./bind.ts";

const sendPdf = (response: Response, name: string, pdf: Buffer): void => {
  response.type("application/pdf").set("Content-Disposition", `inline; filename="${name}.pdf"`).send(pdf);
};

/** Sheets to print and the codes on them: labels, the allotment for the top edges, the reference card. */
export const sheets = (app: Express, site: Site): void => {
  bind(app, "lookUpCode", ({ delivery }, body) => lookUpCode(site, delivery, body));
  route(app, "labelSheet", async (request, response) => {
    sendPdf(response, "labels", await printLabels(site, paramsOf("labelSheet", request).delivery));
  });
  route(app, "allotmentSheet", async (request, response) => {
    sendPdf(response, "allotment", await printAllotment(site, paramsOf("allotmentSheet", request).delivery));
  });
  route(app, "leavesCsv", (request, response) => {
    const csv = printLeavesCsv(site, paramsOf("leavesCsv", request).delivery);
    response.type("text/csv").attachment("leaves.csv").send(csv);
  });
  route(app, "cardSheet", async (_request, response) => {
    sendPdf(response, "reference-card", await printCard(site));
  });
};
