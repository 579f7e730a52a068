import { sharpOf } from "../photo-files.ts";
import { emptyHeic, familyHead, withColourCodes, withPictureSize } from "./heif-file.ts";
import { busy, busyJpeg, flagged, foreign, type OddPicture, row, sampleHeic, taken, tooLarge } from "./odd-picture.ts";

const latin1 = (text: string): Buffer => Buffer.from(text.padEnd(64, "\0"), "latin1");

const svg = (attributes: string, content = ""): Buffer =>
  Buffer.from(`<svg xmlns="http://www.w3.org/2000/svg" ${attributes}>${content}</svg>`);

const entities = `<!DOCTYPE svg [<!ENTITY a "ha"><!ENTITY b "&a;&a;&a;&a;"><!ENTITY c "&b;&b;&b;&b;">]>`;

/** Small heads of the files that a camera, a program or somebody with bad intent may name .jpg. */
const heads: readonly (readonly [number, string, Buffer])[] = [
  [16, "a drawing", svg('width="1200" height="900"')],
  [
    17,
    "a drawing that fetches a file and runs a script",
    svg("", '<image href="file:///etc/hostname"/><script>alert(1)</script>'),
  ],
  [18, "a drawing of entities in entities", Buffer.concat([Buffer.from(entities), svg("", "&c;")])],
  [
    18,
    "a drawing that asks for a file",
    Buffer.from('<!DOCTYPE svg [<!ENTITY x SYSTEM "file:///etc/hostname">]><svg>&x;</svg>'),
  ],
  [19, "a drawing of 16,000 squared", svg('width="16000" height="16000"')],
  [20, "a PDF", latin1("%PDF-1.7\n1 0 obj")],
  [21, "a page", latin1("<!doctype html><script>alert(1)</script>")],
  [23, "a DNG or other raw TIFF", latin1("II*\0\x08\0\0\0")],
  [23, "a TIFF of the other order", latin1("MM\0*\0\0\0\x08")],
  [23, "a CR2", latin1("II*\0\x10\0\0\0CR\x02\0")],
  [23, "a CR3", familyHead("crx ")],
  [27, "a BMP", latin1("BM\x36\0\0\0\0\0\0\0\x36\0\0\0")],
  [27, "an ICO", latin1("\0\0\x01\0\x01\0")],
  [27, "a JP2", latin1("\0\0\0\x0cjP  \r\n\x87\n")],
  [27, "a JXL", latin1("\xff\x0a\xfa\x1f")],
  [27, "a JXL in boxes", latin1("\0\0\0\x0cJXL \r\n\x87\n")],
  [27, "a PSD", latin1("8BPS\0\x01")],
  [28, "a ZIP or DOCX", latin1("PK\x03\x04\x14\0")],
  [28, "a Windows program", latin1("MZ\x90\0\x03\0")],
  [28, "a Linux program", latin1("\x7fELF\x02\x01\x01")],
  [28, "a shell script", latin1("#!/bin/sh\necho no\n")],
];

/** Rows 16 to 30: files of other kinds, and those that are of two kinds at once. */
export const strangers: readonly OddPicture[] = [
  ...heads.map(([number, name, bytes]) => row(number, name, () => bytes, foreign)),
  row(22, "a GIF", () => sharpOf(busy).gif({ effort: 1, colours: 4 }).toBuffer(), foreign),
  row(22, "a moving GIF", () => latin1("GIF89a\x01\0\x01\0\x80\0\0\0\0\0\xff\xff\xff!\xff\x0bNETSCAPE2.0"), foreign),
  row(23, "a TIFF", () => sharpOf(busy).tiff().toBuffer(), foreign),
  row(24, "a WebP", () => sharpOf(busy).webp({ effort: 0 }).toBuffer(), foreign),
  row(24, "a moving WebP", () => latin1("RIFF\x24\0\0\0WEBPVP8X\x0a\0\0\0\x02"), foreign),
  row(25, "an AVIF", () => familyHead("avif"), foreign),
  row(26, "a HEIC", sampleHeic, taken),
  row(26, "a HEIC without a picture", emptyHeic, foreign),
  row(26, "a HEIC cut in the middle", async () => (await sampleHeic()).subarray(0, 100_000), foreign),
  row(26, "a HEIC in Display P3 by its codes", async () => withColourCodes(await sampleHeic(), 12, 13), taken),
  row(
    26,
    "a HEIC in the colours of television",
    async () => withColourCodes(await sampleHeic(), 9, 16),
    flagged(/colour profile/),
  ),
  row(57, "a HEIC of 48 megapixels", async () => withPictureSize(await sampleHeic(), 8064, 6048), tooLarge),
  row(
    26,
    "a HEIC said to be 65,000 squared",
    async () => withPictureSize(await sampleHeic(), 65_000, 65_000),
    tooLarge,
  ),
  row(
    29,
    "a JPEG that is a page as well",
    () => Buffer.concat([busyJpeg, Buffer.from("<html><script>alert(1)</script></html>")]),
    taken,
  ),
  row(
    30,
    "a JPEG that is a ZIP as well",
    () => Buffer.concat([busyJpeg, latin1("PK\x03\x04"), Buffer.alloc(500), latin1("PK\x05\x06")]),
    taken,
  ),
];
