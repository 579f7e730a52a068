import type { Express, Request, RequestHandler } from "express";
import { sha256 } from "../contract/ids.ts";
import { limits } from "../limits.ts";
import { Refusal } from "../problem.ts";
import type { Site, UploadFiles } from "../site.ts";
import { roomForPhoto } from "../use-cases/take-in-photo.ts";
import { paramsOf, route } from "./bind.ts";
import type { UploadGate } from "./upload-gate.ts";

const version = "1.0.0";

const speaksTus: RequestHandler = (request, response, next) => {
  response.set({ "Tus-Resumable": version, "Cache-Control": "no-store" });
  if (request.get("Tus-Resumable") !== version) throw new Refusal(`Send the header Tus-Resumable: ${version}.`, 412);
  if (!sha256.safeParse(request.params.photo).success)
    throw new Refusal("A photo in parts is named by its SHA-256: 64 digits and letters a to f.", 400);
  next();
};

const wholeNumber = (request: Request, header: string): number => {
  const value = request.get(header) ?? "";
  if (!/^\d{1,15}$/.test(value)) throw new Refusal(`Send the header ${header} with a number of bytes.`, 400);
  return Number(value);
};

/**
 * Serves the upload of a photo in as many tries as the signal needs, by the open protocol tus 1.0 (core and creation, tus.io).
 * The address names the photo by its SHA-256, so that a phone need not remember where it had begun. Once all bytes
 * are there, the call `uploadPhoto` says what the photo shows and takes it in.
 */
export const uploadInParts = (app: Express, site: Site, gate: UploadGate): void => {
  const opened = (request: Request) => {
    const { delivery, photo } = paramsOf("uploadPart", request);
    const store = site.store.open(delivery);
    return { store, photo, uploads: store.uploads satisfies UploadFiles };
  };

  route(app, "beginUpload", speaksTus, gate.room, async (request, response) => {
    const { store, uploads, photo } = opened(request);
    const bytes = wholeNumber(request, "Upload-Length");
    if (bytes === 0) throw new Refusal("The file is empty. Send the photo again.", 400);
    if (bytes > limits.upload.fileSize) throw new Refusal("A photo may have 40 MB.", 413);
    roomForPhoto(store, bytes);
    await uploads.begin(photo, bytes);
    response.status(201).location(request.originalUrl).end();
  });

  route(app, "uploadOffset", speaksTus, async (request, response) => {
    const { store, uploads, photo } = opened(request);
    const kept = store.photos.has(photo) && store.read().photos.find(({ id }) => id === photo);
    const progress = kept ? { offset: kept.bytes, bytes: kept.bytes } : await uploads.progress(photo);
    if (!progress) throw new Refusal("This photo was not begun.", 404);
    response.set({ "Upload-Offset": String(progress.offset), "Upload-Length": String(progress.bytes) }).end();
  });

  route(app, "uploadPart", speaksTus, gate.room, gate.turn, async (request, response) => {
    if (!request.is("application/offset+octet-stream"))
      throw new Refusal("Send the bytes as application/offset+octet-stream.", 415);
    const { uploads, photo } = opened(request);
    const from = wholeNumber(request, "Upload-Offset");
    const offset = await uploads
      .append(photo, from, request, () => request.destroy())
      .catch((error: unknown) => {
        if (error instanceof Refusal || request.complete) throw error;
        return null; // the connection broke: what arrived is kept, and there is nobody to answer
      });
    if (offset !== null) response.status(204).set("Upload-Offset", String(offset)).end();
  });
};
