import type { Express, Request, RequestHandler } from "express";
import multer from "multer";
import { limits } from "../limits.ts";
import { Refusal } from "../problem.ts";
import type { Arrived, Site } from "../site.ts";
import { takeInPhoto } from "../use-cases/take-in-photo.ts";
import { bodyOf, paramsOf, route, sendReply } from "./bind.ts";
import { jsonBody } from "./json-body.ts";
import type { UploadGate } from "./upload-gate.ts";
import { actorOf } from "./who-may-call.ts";

const uploadsOf = (site: Site, request: Request) => site.store.open(paramsOf("uploadPhoto", request).delivery).uploads;

/** Where multer puts what arrives: in the delivery's own temporary folder, under a name of ours. */
const intoFolder = (site: Site): multer.StorageEngine => ({
  _handleFile: (request, file, done) => {
    uploadsOf(site, request)
      .receive(file.stream)
      .then((arrived) => done(null, arrived as Partial<Express.Multer.File>), done);
  },
  _removeFile: (request, file, done) => {
    uploadsOf(site, request)
      .discard(file as unknown as Arrived)
      .then(() => done(null), done);
  },
});

/** A form that is broken, or a connection: what multer's parser throws has no code, what the disk throws is a Refusal. */
const uploadFault = (error: unknown): unknown => {
  if (!(error instanceof Error) || error instanceof Refusal || error instanceof multer.MulterError) return error;
  const broke = !("code" in error) || error.code === "ERR_STREAM_PREMATURE_CLOSE" || error.code === "ECONNRESET";
  return broke ? new Refusal("The upload broke off or is no form: send the photo again.", 400) : error;
};

const aboutOf = (request: Request): unknown => {
  const { about } = request.body as { about?: unknown };
  if (typeof about !== "string") throw new Refusal("The field `about` is missing.", 400);
  try {
    return JSON.parse(about);
  } catch {
    throw new Refusal("The field `about` is not JSON.", 400);
  }
};

/**
 * Serves the upload of one photo in one request, and the taking in of one that came in parts. What was not kept is removed,
 * whatever happens.
 */
export const photoUpload = (app: Express, site: Site, gate: UploadGate): void => {
  const form = multer({ storage: intoFolder(site), limits: limits.upload, defParamCharset: "utf8" }).single("photo");

  const read: RequestHandler = (request, response, next) => {
    if (request.is("application/json")) return jsonBody(request, response, next);
    if (!request.is("multipart/form-data") || request.get("Content-Encoding"))
      throw new Refusal("Send a form with the photo in it (multipart/form-data), not compressed.", 415);
    form(request, response, (error: unknown) => next(uploadFault(error)));
  };
  /** What came in parts is there already: it waits for the decoder only, in its order. */
  const turn: RequestHandler = (request, response, next) =>
    request.is("application/json") ? next() : gate.turn(request, response, next);

  route(app, "uploadPhoto", gate.room, turn, read, async (request, response) => {
    const { delivery } = paramsOf("uploadPhoto", request);
    const by = actorOf("uploadPhoto", request, response);
    if (request.is("application/json")) {
      const about = bodyOf("uploadPhoto", request.body);
      sendReply(response, "uploadPhoto", await takeInPhoto(site, delivery, { ...about, by }, null));
      return;
    }
    const arrived = request.file as unknown as Arrived | undefined;
    if (!arrived) throw new Refusal("There is no photo in the upload.", 400);
    const takeIn = async () => takeInPhoto(site, delivery, { ...bodyOf("uploadPhoto", aboutOf(request)), by }, arrived);
    const reply = await takeIn().finally(() => uploadsOf(site, request).discard(arrived));
    sendReply(response, "uploadPhoto", reply);
  });
};
