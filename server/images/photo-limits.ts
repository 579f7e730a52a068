/** What a photo may be. Anything beyond is refused with a sentence before it is decoded. */
export const PHOTO_LIMITS = {
  /** 64 MP: a phone's 48 MP mode passes, its 108 MP mode does not. */
  pixels: 64e6,
  longestSidePx: 20_000,
  shortestLongSidePx: 1000,
  /** A photo of a progressive JPEG has about ten scans; thousands are an attack on the decoder. */
  jpegScans: 100,
  /** Panoramas bend straight edges; they are kept as evidence but not measured. */
  longestToShortest: 3,
} as const;
