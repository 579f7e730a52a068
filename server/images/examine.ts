import { readFile } from "node:fs/promises";
import sharp from "sharp";
import type { Examined } from "../site.ts";
import { cameraData } from "./camera-data.ts";
import { encodingIn, readThrough } from "./decode.ts";
import { type FileKind, fileKind, jpegShape, pngShape } from "./file-kind.ts";
import { heicEncoding, heicSize } from "./heic.ts";
import { PHOTO_LIMITS } from "./photo-limits.ts";

type Refused = Extract<Examined, { kind: "refused" }>;

const refused = (status: Refused["status"], why: string): Refused => ({ kind: "refused", status, why });

const incomplete = refused(
  422,
  "The photo arrived incomplete. Send it again; if that does not help, the file is damaged: take the photo again.",
);

/** What the picture is, from its head alone. `oddities` keep its colour from being measured. */
interface Head {
  readonly width: number;
  readonly height: number;
  readonly oddities: readonly string[];
}

const profileOddity = (profiled: boolean): string => (profiled ? "" : "unknown colour profile");

const headOf = async (bytes: Buffer, kind: FileKind): Promise<Head> => {
  if (kind === "heic") {
    const { width, height, seeThrough } = heicSize(bytes);
    const oddities = [profileOddity(heicEncoding(bytes) !== null), seeThrough ? "see-through picture" : ""];
    return { width, height, oddities };
  }
  const meta = await sharp(bytes, { limitInputPixels: false }).metadata();
  const { width, height } = meta.autoOrient;
  const oddities = [
    meta.space === "cmyk" ? "print colours (CMYK)" : "",
    meta.channels <= 2 ? "grey picture" : "",
    meta.hasAlpha ? "see-through picture" : "",
    profileOddity(encodingIn(bytes, meta.icc) !== null),
  ];
  return { width, height, oddities };
};

/** Why a picture of this size is not taken, or null. */
const wrongSize = ({ width, height }: Head, kind: FileKind): Refused | null => {
  const pixels = kind === "heic" ? PHOTO_LIMITS.heicPixels : PHOTO_LIMITS.pixels;
  const longest = Math.max(width, height);
  if (width * height > pixels)
    return refused(
      413,
      `The photo has ${Math.ceil((width * height) / 1e6)} megapixels; ${pixels / 1e6} are the most${kind === "heic" ? " of a HEIC" : ""}. Use the camera's 12 megapixel mode.`,
    );
  if (longest > PHOTO_LIMITS.longestSidePx)
    return refused(413, `The photo is ${longest} px long; 20000 are the most. Take a plain photo, no panorama.`);
  if (longest < PHOTO_LIMITS.shortestLongSidePx)
    return refused(422, `The photo is only ${longest} px long; 1000 are the least. Send the original, not a preview.`);
  return null;
};

/** What a photo that carries a second picture to brighten the first on some screens says of it. */
const BRIGHTENED = [
  "http://ns.adobe.com/hdr-gain-map/1.0/",
  "http://ns.apple.com/HDRGainMap/1.0/",
  "urn:iso:std:iso:ts:21496:-1",
  "urn:com:apple:photo:2020:aux:hdrgainmap",
];

const isBrightened = (head: Buffer): boolean => BRIGHTENED.some((name) => head.includes(name));

const isPanorama = ({ width, height }: Head): boolean =>
  Math.max(width, height) > PHOTO_LIMITS.longestToShortest * Math.min(width, height);

/** Looks at a file before it is kept: what it is, how large, when and by what camera it was taken; or why it is refused. */
export const examine = async (path: string): Promise<Examined> => {
  const bytes = await readFile(path);
  if (bytes.length === 0) return refused(400, "The file is empty. Send the photo again.");
  const kind = fileKind(bytes);
  if (kind === "other") return refused(415, "This is no photo we can read. Set the camera to JPEG and take it again.");
  const jpeg = kind === "jpeg" ? jpegShape(bytes) : null;
  const shape = kind === "png" ? pngShape(bytes) : jpeg;
  if ((jpeg && jpeg.scans > PHOTO_LIMITS.jpegScans) || (shape && shape.parts > PHOTO_LIMITS.parts))
    return refused(
      422,
      `This ${kind.toUpperCase()} is built in an unusual way. Take the photo with the phone's own camera.`,
    );
  if (shape && !shape.ended) return incomplete;
  const cannot =
    kind === "heic"
      ? refused(415, "This HEIC photo cannot be opened. Set the camera to JPEG and take it again.")
      : incomplete;
  const head = await headOf(bytes, kind).catch(() => null);
  if (!head) return cannot;
  const size = wrongSize(head, kind);
  if (size) return size;
  if (jpeg && jpeg.heldBytes > PHOTO_LIMITS.jpegHeldBytes)
    return refused(413, "This JPEG takes too much memory to open. Use the camera's 12 megapixel mode.");
  const read = await readThrough(bytes).catch(() => null);
  if (!read) return cannot;

  const { takenAt, camera, orientation } = cameraData(bytes);
  const oddities = [
    ...head.oddities,
    isPanorama(head) ? "panorama" : "",
    orientation !== null && !(orientation >= 1 && orientation <= 8) ? "unknown way up, shown as stored" : "",
    read.oddHead ? "oddly written JPEG" : "",
  ];
  const flags = oddities.filter(Boolean).map((oddity) => `${oddity}: kept, colour not measured`);
  if (isBrightened(bytes.subarray(0, jpeg?.headBytes ?? bytes.length)))
    flags.push("holds a second picture for bright screens (HDR): the plain one is used");
  return { kind: "photo", width: head.width, height: head.height, takenAt, camera, flags };
};
