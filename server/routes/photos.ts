import type { Express } from "express";
import type { Site } from "../site.ts";
import { filePhoto } from "../use-cases/file-photo.ts";
import { originalPhoto, showPhoto, showStraight } from "../use-cases/show-photo.ts";
import { bind, paramsOf, route } from "./bind.ts";
import { photoUpload } from "./photo-upload.ts";
import { uploadGate } from "./upload-gate.ts";
import { uploadInParts } from "./upload-in-parts.ts";

/** A picture is shown, never run: whatever its bytes hold, a browser takes it for what we say and gives it no rights. */
const pictureHeaders = {
  "Content-Security-Policy": "default-src 'none'; sandbox",
  "Cache-Control": "private, max-age=31536000, immutable",
};

/** Photos: taking in, filing, showing. */
export const photos = (app: Express, site: Site): void => {
  const gate = uploadGate(site);
  photoUpload(app, site, gate);
  uploadInParts(app, site, gate);
  bind(app, "filePhoto", ({ delivery, photo }, body, by) => filePhoto(site, delivery, photo, { ...body, by }));
  route(app, "photoPreview", async (request, response) => {
    const { delivery, photo } = paramsOf("photoPreview", request);
    const jpeg = await showPhoto(site, delivery, photo);
    response.set(pictureHeaders).type("image/jpeg").send(jpeg);
  });
  route(app, "straightFace", async (request, response) => {
    const { delivery, photo, leaf, face } = paramsOf("straightFace", request);
    const jpeg = await showStraight(site, delivery, photo, leaf, face);
    response
      .set({ ...pictureHeaders, "Cache-Control": "no-store" })
      .type("image/jpeg")
      .send(jpeg);
  });
  route(app, "photoOriginal", (request, response) => {
    const { delivery, photo } = paramsOf("photoOriginal", request);
    const { name, path } = originalPhoto(site, delivery, photo);
    response.set(pictureHeaders).type("application/octet-stream").attachment(name);
    response.type("application/octet-stream").sendFile(path, { dotfiles: "allow" });
  });
};
