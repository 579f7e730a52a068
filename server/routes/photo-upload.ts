import { createHash, randomUUID } from "node:crypto";
import { createWriteStream } from "node:fs";
import { rm } from "node:fs/promises";
import { join } from "node:path";
import { Transform } from "node:stream";
import { pipeline } from "node:stream/promises";
import type { Express, Request, RequestHandler } from "express";
import multer from "multer";
import { limits } from "../limits.ts";
import { Refusal } from "../problem.ts";
import type { Site } from "../site.ts";
import { type Arrived, takeInPhoto } from "../use-cases/take-in-photo.ts";
import { bodyOf, paramsOf, route, sendReply } from "./bind.ts";

/** Writes a stream to a file and flushes it, hashing on the way. */
const receive = async (stream: NodeJS.ReadableStream, path: string): Promise<Arrived> => {
  const hash = createHash("sha256");
  let bytes = 0;
  const measure = new Transform({
    transform: (chunk: Buffer, _encoding, done) => {
      hash.update(chunk);
      bytes += chunk.length;
      done(null, chunk);
    },
  });
  await pipeline(stream, measure, createWriteStream(path, { flags: "wx", flush: true }));
  return { path, bytes, sha256: hash.digest("hex") };
};

/** Where multer puts what arrives: in the delivery's own temporary folder, under a name of ours. */
const intoFolder = (folderOf: (request: Request) => string): multer.StorageEngine => ({
  _handleFile: (request, file, done) => {
    const path = join(folderOf(request), randomUUID());
    receive(file.stream, path).then(
      (arrived) => done(null, arrived as Partial<Express.Multer.File>),
      (error: unknown) => {
        const fail = () => done(error);
        rm(path, { force: true }).then(fail, fail);
      },
    );
  },
  _removeFile: (_request, file, done) => {
    rm(file.path, { force: true }).then(() => done(null), done);
  },
});

/** What multer's parser throws has no code: the form is broken. What the disk throws has one. */
const uploadFault = (error: unknown): unknown => {
  if (!(error instanceof Error) || error instanceof Refusal || error instanceof multer.MulterError) return error;
  if (!("code" in error)) return new Refusal("The upload broke off or is no form: send the photo again.", 400);
  return error.code === "ENOSPC"
    ? new Refusal("The disk is full: the photo was not kept. Free some space and send it again.", 507)
    : error;
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

/** Serves the upload of one photo. What was not kept is removed, whatever happens. */
export const photoUpload = (app: Express, site: Site): void => {
  let inFlight = 0;
  const folderOf = (request: Request): string =>
    site.store.open(paramsOf("uploadPhoto", request).delivery).temporaryFolder;
  const storage = intoFolder(folderOf);
  const form = multer({ storage, limits: limits.upload, defParamCharset: "utf8" }).single("photo");

  const upload: RequestHandler = (request, response, next) =>
    form(request, response, (error: unknown) => next(uploadFault(error)));

  const notTooMany: RequestHandler = (request, response, next) => {
    folderOf(request); // an unknown delivery is refused before anything is received
    if (inFlight >= limits.uploadsAtOnce) {
      response.set("Retry-After", "2");
      throw new Refusal("Many photos are arriving at once: send this one again in a moment.", 503);
    }
    inFlight++;
    response.once("close", () => {
      inFlight--;
    });
    next();
  };

  route(app, "uploadPhoto", notTooMany, upload, async (request, response) => {
    const arrived = request.file as unknown as Arrived | undefined;
    if (!arrived) throw new Refusal("There is no photo in the upload.", 400);
    const { delivery } = paramsOf("uploadPhoto", request);
    const takeIn = async () => takeInPhoto(site, delivery, bodyOf("uploadPhoto", aboutOf(request)), arrived);
    const reply = await takeIn().finally(() => rm(arrived.path, { force: true }));
    sendReply(response, "uploadPhoto", reply);
  });
};
