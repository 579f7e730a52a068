import { pipeline } from "node:stream";
import type { Express } from "express";
import type { Site } from "../site.ts";
import { issueRecord } from "../use-cases/issue-record.ts";
import {
  issuedCopy,
  issuedJson,
  issuedLetter,
  issuedMail,
  issuedPdf,
  issuedZip,
  viewRecord,
} from "../use-cases/issued-files.ts";
import { viewReturns } from "../use-cases/view-returns.ts";
import { bind, paramsOf, route } from "./bind.ts";

/** Records: what waits for one, issuing, and the issued files with the letter that goes with them. */
export const records = (app: Express, site: Site): void => {
  bind(app, "returns", ({ delivery }) => viewReturns(site, delivery));
  bind(app, "issueRecord", ({ delivery }, body, by) => issueRecord(site, delivery, { ...body, by }));
  bind(app, "record", ({ delivery, number }) => viewRecord(site, delivery, number));
  route(app, "recordPdf", async (request, response) => {
    const { delivery, number } = paramsOf("recordPdf", request);
    response.type("application/pdf").send(await issuedPdf(site, delivery, number));
  });
  route(app, "recordJson", async (request, response) => {
    const { delivery, number } = paramsOf("recordJson", request);
    response.type("application/json").send(await issuedJson(site, delivery, number));
  });
  route(app, "recordCopy", (request, response) => {
    const { delivery, number, copy } = paramsOf("recordCopy", request);
    const path = issuedCopy(site, delivery, number, copy);
    response.set("Content-Security-Policy", "default-src 'none'; sandbox").type("image/jpeg");
    response.sendFile(path, { dotfiles: "allow" });
  });
  route(app, "recordZip", async (request, response) => {
    const { delivery, number } = paramsOf("recordZip", request);
    const zip = await issuedZip(site, delivery, number);
    response.attachment(`record-${number}.zip`).type("application/zip");
    pipeline(zip, response, () => undefined); // whoever asked sees that it broke off
  });
  route(app, "recordLetter", (request, response) => {
    const { delivery, number } = paramsOf("recordLetter", request);
    response.type("text/plain").send(issuedLetter(site, delivery, number));
  });
  route(app, "recordMail", async (request, response) => {
    const { delivery, number } = paramsOf("recordMail", request);
    const mail = await issuedMail(site, delivery, number);
    response.attachment(`record-${number}.eml`).type("message/rfc822").send(mail);
  });
};
