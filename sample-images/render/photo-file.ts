import { execFile } from "node:child_process";
import { mkdtemp, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { promisify } from "node:util";
import sharp from "sharp";
import { displayP3Profile } from "./display-p3-profile.ts";
import type { Shot } from "./shot.ts";

interface Codes {
  readonly data: Uint8Array;
  readonly width: number;
  readonly height: number;
}

/** The picture as the phone stores it, so that its EXIF orientation turns it upright again. */
const storedAs = ({ data, width, height }: Codes, orientation: number): Codes => {
  const swapped = orientation >= 5;
  const [w, h] = swapped ? [height, width] : [width, height];
  const out = new Uint8Array(data.length);
  for (let y = 0; y < height; y++)
    for (let x = 0; x < width; x++) {
      const mx = width - 1 - x;
      const my = height - 1 - y;
      const place: readonly [number, number] = (
        [
          [x, y],
          [mx, y],
          [mx, my],
          [x, my],
          [y, x],
          [y, mx],
          [my, mx],
          [my, x],
        ] as const
      )[orientation - 1]!;
      const from = (y * width + x) * 3;
      const to = (place[1] * w + place[0]) * 3;
      out[to] = data[from]!;
      out[to + 1] = data[from + 1]!;
      out[to + 2] = data[from + 2]!;
    }
  return { data: out, width: w, height: h };
};

/** Puts another colour profile into a JPEG; its code values stay as they are. */
export const withProfile = (jpeg: Buffer, icc: Buffer): Buffer => {
  const kept: Buffer[] = [jpeg.subarray(0, 2)];
  let at = 2;
  while (jpeg[at + 1] !== 0xda) {
    const length = 2 + jpeg.readUInt16BE(at + 2);
    const segment = jpeg.subarray(at, at + length);
    const isProfile = segment[1] === 0xe2 && segment.toString("latin1", 4, 15) === "ICC_PROFILE";
    if (!isProfile) kept.push(segment);
    at += length;
  }
  const head = Buffer.from([0xff, 0xe2, 0, 0, ...Buffer.from("ICC_PROFILE\0", "latin1"), 1, 1]);
  head.writeUInt16BE(2 + 14 + icc.length, 2);
  const firstTable = kept.findIndex((segment) => segment[1] === 0xdb);
  kept.splice(firstTable, 0, Buffer.concat([head, icc]));
  return Buffer.concat([...kept, jpeg.subarray(at)]);
};

/** A JPEG with the phone's name, the time, the orientation and the profile of its code values. */
export const jpegOf = async (shot: Shot, codes: Uint8Array): Promise<Buffer> => {
  const { widthPx, heightPx } = shot.camera;
  const stored = storedAs({ data: codes, width: widthPx, height: heightPx }, shot.orientation);
  const [day = "", time = ""] = shot.taken.slice(0, 19).split("T");
  const jpeg = await sharp(stored.data, { raw: { width: stored.width, height: stored.height, channels: 3 } })
    .withMetadata({ orientation: shot.orientation })
    .withExifMerge({
      IFD0: { Make: shot.phone.make, Model: shot.phone.model },
      IFD2: { DateTimeOriginal: `${day.replaceAll("-", ":")} ${time}`, OffsetTimeOriginal: shot.taken.slice(19) },
    })
    .jpeg({ quality: shot.quality, chromaSubsampling: "4:2:0", mozjpeg: false })
    .toBuffer();
  return shot.encoding === "display-p3" ? withProfile(jpeg, displayP3Profile()) : jpeg;
};

/** A HEIC of the same picture by `heif-enc` (Debian package libheif-examples); null where that program is missing. */
export const heicOf = async (shot: Shot, codes: Uint8Array): Promise<Buffer | null> => {
  const folder = await mkdtemp(join(tmpdir(), "render-"));
  try {
    const source = join(folder, "photo.jpg");
    await writeFile(source, await jpegOf({ ...shot, quality: 98 }, codes));
    await promisify(execFile)("heif-enc", ["-q", "58", "-o", join(folder, "photo.heic"), source]);
    return await readFile(join(folder, "photo.heic"));
  } catch (cause) {
    if ((cause as NodeJS.ErrnoException).code === "ENOENT") return null;
    throw cause;
  } finally {
    await rm(folder, { recursive: true, force: true });
  }
};
