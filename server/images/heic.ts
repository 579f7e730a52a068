import { createRequire } from "node:module";
import type { Encoding } from "../../analysis/pixels.ts";
import { encodingOf } from "./icc.ts";

/** What libheif holds for us under a name of its own, or what went wrong. */
interface Held {
  readonly code?: unknown;
}

interface Decoded extends Held {
  readonly image: Held;
  /** One channel of interleaved bytes; `stride` is the bytes from one row to the next. */
  readonly channels: readonly {
    readonly width: number;
    readonly height: number;
    readonly stride: number;
    readonly bits_per_pixel: number;
    readonly data: Uint8Array;
  }[];
}

/** The calls of libheif that we use (libheif-js, wasm-bundle). Its JavaScript wrapper keeps every file it opened, and prints. */
interface Heif {
  heif_context_alloc(): Held;
  heif_context_free(file: Held): void;
  heif_context_read_from_memory(file: Held, bytes: Uint8Array): Held;
  heif_js_context_get_primary_image_handle(file: Held): Held;
  heif_image_handle_get_width(picture: Held): number;
  heif_image_handle_get_height(picture: Held): number;
  heif_image_handle_has_alpha_channel(picture: Held): number;
  heif_image_handle_release(picture: Held): void;
  heif_js_decode_image2(picture: Held, space: unknown, order: unknown): Decoded;
  heif_image_release(decoded: Held): void;
  readonly heif_error_code: { readonly heif_error_Ok: unknown };
  readonly heif_colorspace: { readonly heif_colorspace_RGB: unknown };
  readonly heif_chroma: { readonly heif_chroma_interleaved_RGB: unknown };
}

/** Loaded with the first HEIC: most photos are none, and it is two megabytes. */
const load = (): Heif => createRequire(import.meta.url)("libheif-js/wasm-bundle") as Heif;

/** Opens a HEIC file, gives its main picture to `use`, and frees both. Throws when there is none. */
const withMainPicture = <T>(bytes: Buffer, use: (heif: Heif, picture: Held) => T): T => {
  const heif = load();
  const file = heif.heif_context_alloc();
  try {
    const read = heif.heif_context_read_from_memory(file, bytes);
    const picture = heif.heif_js_context_get_primary_image_handle(file);
    if (read.code !== heif.heif_error_code.heif_error_Ok || picture.code !== undefined)
      throw new Error("no picture in the HEIC file");
    try {
      return use(heif, picture);
    } finally {
      heif.heif_image_handle_release(picture);
    }
  } finally {
    heif.heif_context_free(file);
  }
};

/** Size of the main picture of a HEIC file, upright, px; none of it is decoded. Throws when the file cannot be opened. */
export const heicSize = (bytes: Buffer): { width: number; height: number; seeThrough: boolean } =>
  withMainPicture(bytes, (heif, picture) => ({
    width: heif.heif_image_handle_get_width(picture),
    height: heif.heif_image_handle_get_height(picture),
    seeThrough: heif.heif_image_handle_has_alpha_channel(picture) !== 0,
  }));

/** Decodes the main picture of a HEIC file, upright, to RGB code values. Throws when it cannot be decoded. */
export const decodeHeic = (bytes: Buffer): { data: Uint8Array; width: number; height: number } =>
  withMainPicture(bytes, (heif, picture) => {
    const { heif_colorspace_RGB } = heif.heif_colorspace;
    const { heif_chroma_interleaved_RGB } = heif.heif_chroma;
    const decoded = heif.heif_js_decode_image2(picture, heif_colorspace_RGB, heif_chroma_interleaved_RGB);
    if (decoded.code !== undefined) throw new Error("the HEIC picture cannot be decoded");
    try {
      const [channel] = decoded.channels;
      if (channel?.bits_per_pixel !== 8) throw new Error("the HEIC picture is not of 8 bits");
      const { width, height, stride } = channel;
      const data = new Uint8Array(width * height * 3);
      for (let y = 0; y < height; y += 1)
        data.set(channel.data.subarray(y * stride, y * stride + width * 3), y * width * 3);
      return { data, width, height };
    } finally {
      heif.heif_image_release(decoded.image);
    }
  });

/** Content of the first colour box of a kind (ISO/IEC 14496-12, "colr", from memory). */
const colourBox = (bytes: Buffer, kind: "prof" | "nclx"): Buffer | undefined => {
  const at = bytes.indexOf(`colr${kind}`, 0, "latin1");
  return at < 4 ? undefined : bytes.subarray(at + 8, at - 4 + bytes.readUInt32BE(at - 4));
};

/** Curves that a still picture's maker and its viewers take for that of sRGB: BT.709, none named, BT.601, sRGB (ITU-T H.273, from memory). */
const OUR_CURVES = [1, 2, 6, 13];

/** Primaries by their code (ITU-T H.273): BT.709, none named, and P3 with the white of daylight. */
const PRIMARIES: Readonly<Record<number, Encoding>> = { 1: "srgb", 2: "srgb", 12: "display-p3" };

/** Colour space of a HEIC file: by its profile, else by its colour codes; null when it is not one of ours. */
export const heicEncoding = (bytes: Buffer): Encoding | null => {
  const profile = colourBox(bytes, "prof");
  if (profile) return encodingOf(profile);
  const codes = colourBox(bytes, "nclx");
  if (!codes) return "srgb";
  if (codes.length < 4 || !OUR_CURVES.includes(codes.readUInt16BE(2))) return null;
  return PRIMARIES[codes.readUInt16BE(0)] ?? null;
};
