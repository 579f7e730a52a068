import { createRequire } from "node:module";
import type { Encoding } from "../../analysis/pixels.ts";
import { encodingOf } from "./icc.ts";

interface HeifImage {
  get_width(): number;
  get_height(): number;
  is_primary(): boolean;
  display(
    target: { data: Uint8ClampedArray; width: number; height: number },
    done: (result: { data: Uint8ClampedArray } | null) => void,
  ): void;
  free?(): void;
}
interface HeifModule {
  HeifDecoder: new () => { decode(bytes: Uint8Array): HeifImage[] };
}

const load = (): HeifModule => createRequire(import.meta.url)("libheif-js/wasm-bundle") as HeifModule;

/** The ICC profile of a HEIC file: the "prof" colour box, which holds it whole (ISO/IEC 14496-12, from memory). */
const profileOf = (bytes: Buffer): Buffer | undefined => {
  const at = bytes.indexOf("colrprof", 0, "latin1");
  return at < 0 ? undefined : bytes.subarray(at + 8, at + 8 + bytes.readUInt32BE(at + 8));
};

/** Colour space of a HEIC file, null when its profile is not one of ours. */
export const heicEncoding = (bytes: Buffer): Encoding | null => encodingOf(profileOf(bytes));

const mainPicture = (bytes: Buffer): HeifImage => {
  const images = new (load().HeifDecoder)().decode(bytes);
  const image = images.find((one) => one.is_primary()) ?? images[0];
  if (!image) throw new Error("no picture in the HEIC file");
  return image;
};

/** Size of the main picture of a HEIC file, upright, px; none of it is decoded. Throws when the file cannot be opened. */
export const heicSize = (bytes: Buffer): { width: number; height: number } => {
  const image = mainPicture(bytes);
  const size = { width: image.get_width(), height: image.get_height() };
  image.free?.();
  return size;
};

/** Decodes the main picture of a HEIC file, upright, to RGB code values. Throws when it cannot be decoded. */
export const decodeHeic = async (bytes: Buffer): Promise<{ data: Uint8Array; width: number; height: number }> => {
  const image = mainPicture(bytes);
  const width = image.get_width();
  const height = image.get_height();
  const rgba = new Uint8ClampedArray(width * height * 4);
  const shown = await new Promise<{ data: Uint8ClampedArray } | null>((resolve) =>
    image.display({ data: rgba, width, height }, resolve),
  );
  image.free?.();
  if (!shown) throw new Error("the HEIC picture cannot be decoded");
  const data = new Uint8Array(width * height * 3);
  for (let from = 0, to = 0; to < data.length; from += 4, to += 3) {
    data[to] = rgba[from]!;
    data[to + 1] = rgba[from + 1]!;
    data[to + 2] = rgba[from + 2]!;
  }
  return { data, width, height };
};
