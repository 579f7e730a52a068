import sharp from "sharp";
import { displayP3Profile } from "../../../sample-images/render/display-p3-profile.ts";
import { sharpOf } from "../photo-files.ts";
import { ofClass, withPower } from "./icc-profile.ts";
import { jpegProfile, withSegments, xmpSegment } from "./jpeg-parts.ts";
import { busy, busyJpeg, busyPng, flagged, type OddPicture, row, taken } from "./odd-picture.ts";
import { pngChunk, pngProfile, withPngChunks } from "./png-parts.ts";

const profiled = (profile: Buffer) => () => withSegments(busyJpeg, ...jpegProfile(profile));
const p3 = displayP3Profile();
const unknown = flagged(/unknown colour profile/);
const seeThrough = flagged(/see-through/);

/** Four bytes, most significant first. */
const number32 = (value: number): Buffer =>
  Buffer.from([value >>> 24, (value >> 16) & 255, (value >> 8) & 255, value & 255]);

/** A sRGB photo that holds a second picture behind its end, by which some screens brighten it. */
const brightened = async (): Promise<Buffer> =>
  Buffer.concat([
    withSegments(
      busyJpeg,
      xmpSegment('<rdf:Description xmlns:hdrgm="http://ns.adobe.com/hdr-gain-map/1.0/" hdrgm:Version="1.0"/>'),
    ),
    await sharp({ create: { width: 300, height: 225, channels: 3, background: "#808080" } })
      .jpeg()
      .toBuffer(),
  ]);

/** Rows 41 to 50 and 58: colours that are not those of a phone's photo. */
export const colours: readonly OddPicture[] = [
  row(
    41,
    "CMYK with a profile",
    () => sharpOf(busy).toColourspace("cmyk").withIccProfile("cmyk").jpeg().toBuffer(),
    flagged(/CMYK/),
  ),
  row(42, "CMYK without a profile", () => sharpOf(busy).toColourspace("cmyk").jpeg().toBuffer(), flagged(/CMYK/)),
  row(43, "a grey JPEG", () => sharpOf(busy).toColourspace("b-w").jpeg().toBuffer(), flagged(/grey/)),
  row(43, "a grey PNG", () => sharpOf(busy).toColourspace("b-w").png().toBuffer(), flagged(/grey/)),
  row(44, "a 16-bit PNG", () => sharpOf(busy).toColourspace("rgb16").png({ compressionLevel: 1 }).toBuffer(), taken),
  row(45, "half see-through", () => sharpOf(busy).ensureAlpha(0.5).png().toBuffer(), seeThrough),
  row(46, "see-through with hidden colours", () => sharpOf(busy).ensureAlpha(0).png().toBuffer(), seeThrough),
  row(
    46,
    "a PNG of which one colour is not seen",
    () => withPngChunks(busyPng, pngChunk("tRNS", Buffer.from([0, 120, 0, 90, 0, 70]))),
    seeThrough,
  ),
  row(47, "a JPEG in Display P3", profiled(p3), taken),
  row(47, "a PNG in Display P3", () => withPngChunks(busyPng, pngProfile(p3)), taken),
  row(48, "a damaged profile", profiled(p3.subarray(0, 200)), unknown),
  row(48, "a PNG with a damaged profile", () => withPngChunks(busyPng, pngProfile(Buffer.alloc(3000, 7))), unknown),
  row(49, "4 MB of junk as a profile", profiled(Buffer.alloc(4e6, 7)), unknown),
  row(50, "a scanner's profile", profiled(ofClass(p3, "scnr")), unknown),
  row(50, "a printer's profile", profiled(ofClass(p3, "prtr")), unknown),
  row(50, "a profile of another curve", profiled(withPower(p3, 1)), unknown),
  row(50, "a profile of a plain power close to sRGB", profiled(withPower(p3, 2.2)), taken),
  row(50, "a PNG of linear codes", () => withPngChunks(busyPng, pngChunk("gAMA", number32(100_000))), unknown),
  row(
    50,
    "a PNG in the colours of television",
    () => withPngChunks(busyPng, pngChunk("cICP", Buffer.from([9, 16, 0, 1]))),
    unknown,
  ),
  row(58, "a second picture for bright screens", brightened, { status: 200, noted: /HDR/ }),
];
