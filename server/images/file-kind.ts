/** What a file is by its first bytes; its name and the type sent with it are not asked. */
export type FileKind = "jpeg" | "png" | "heic" | "other";

const HEIC_BRANDS = new Set(["heic", "heix", "hevc", "hevx", "mif1", "msf1"]);

export const fileKind = (bytes: Buffer): FileKind => {
  if (bytes.length >= 3 && bytes.readUIntBE(0, 3) === 0xffd8ff) return "jpeg";
  if (bytes.length >= 8 && bytes.toString("latin1", 0, 8) === "\x89PNG\r\n\x1a\n") return "png";
  if (
    bytes.length >= 12 &&
    bytes.toString("latin1", 4, 8) === "ftyp" &&
    HEIC_BRANDS.has(bytes.toString("latin1", 8, 12))
  )
    return "heic";
  return "other";
};

/** Number of scans of a JPEG: start-of-scan markers, which cannot occur inside scan data, where 0xff is always stuffed. */
export const jpegScans = (bytes: Buffer): number => {
  let scans = 0;
  for (let at = bytes.indexOf("\xff\xda", 0, "latin1"); at >= 0; at = bytes.indexOf("\xff\xda", at + 2, "latin1"))
    scans += 1;
  return scans;
};
