import { readFile, writeFile } from "node:fs/promises";
import ExifReader from "exifreader";
import type { SupplierCopy } from "../site.ts";
import { preview } from "./decode.ts";

/**
 * Longest side of a copy that is sent, px. A leaf of two metres that fills the photo has 1.4 px to the mm then, so that a mark of a
 * few mm is still seen, and ten copies of about 1 MB each go in one mail.
 */
const longestPx = 3000;
/** JPEG quality of a copy: at 85 grain keeps its figure at a third of the bytes of 95. */
const quality = 85;

/** What a tag tells, by its name, in the words of the record. Source: names of EXIF 2.32, IPTC and XMP as npm exifreader has them. */
const kinds: readonly (readonly [says: string, name: RegExp])[] = [
  ["position", /^(GPS|Location|City|Country|Province|Sub-?location)/i],
  ["serial numbers", /serial|ImageUniqueID|DocumentID|InstanceID/i],
  ["owner", /owner|artist|author|by-?line|copyright|creator$|rights|contact|credit/i],
  ["thumbnail", /thumbnail/i],
  ["colour profile", /^colour profile$/],
  ["time", /datetime|^date|^time|timestamp|subsec|offsettime|(create|modify)date/i],
  ["camera and lens", /^(make|model|lens|software|hostcomputer|creatortool)/i],
  ["maker's notes", /makernote/i],
  ["comments", /comment|description|caption|keyword|subject|title|headline/i],
];

/** Groups told as a whole, and those of the picture itself, which the copy has of its own. */
const ofGroup: Readonly<Record<string, readonly string[]>> = {
  file: [],
  jfif: [],
  pngFile: [],
  gps: ["GPS"],
  Thumbnail: ["thumbnail"],
  icc: ["colour profile"],
};

/** How the other tags are stored, which tells nothing. */
const ofStorage = /Pointer$|^_raw$|^about$|^xmlns/;

/** Kinds of data in a file beside its picture, each once. Nothing of their values is given back. */
export const metadataKinds = (bytes: Buffer): string[] => {
  let names: readonly string[];
  try {
    const groups = ExifReader.load(bytes, { expanded: true });
    names = Object.entries(groups).flatMap(([group, tags]) =>
      group in ofGroup ? (ofGroup[group] ?? []) : Object.keys(tags ?? {}),
    );
  } catch {
    return [];
  }
  const found = names
    .filter((name) => !ofStorage.test(name))
    .map((name) => kinds.find(([, of]) => of.test(name))?.[0] ?? "other data of the camera");
  return [...new Set(found)].sort();
};

/** Writes the copy of a photo that may leave this computer to `to`: upright, in sRGB, encoded again, without any metadata. */
export const supplierCopy = async (path: string, to: string): Promise<SupplierCopy> => {
  const jpeg = await preview(path, longestPx, quality);
  await writeFile(to, jpeg); // again from the start where a child was ended over it
  return { bytes: jpeg.length, removed: metadataKinds(await readFile(path)) };
};
