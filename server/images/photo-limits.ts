/** What a photo may be. What is beyond is refused with a sentence, most of it before anything is decoded; bytes: limits.ts. */
export const PHOTO_LIMITS = {
  /** px. A phone's 48 MP mode passes, its 108 MP mode does not; six bytes a pixel keep the decoding process below 500 MB. */
  pixels: 64e6,
  /** px of a HEIC. Its decoder runs in WebAssembly: 48 megapixels took 10 s on a busy machine and 680 MB, and the process is ended then. */
  heicPixels: 25e6,
  /** px. No phone's picture is longer but a panorama; the file formats would allow 65,500 and 2,147,483,647. */
  longestSidePx: 20_000,
  /** px. A leaf of two metres is then seen with half a pixel a mm at least; a shorter picture is a preview, not a photo. */
  shortestLongSidePx: 1000,
  /** A progressive JPEG has about ten scans; thousands in a small file keep the decoder busy for seconds. */
  jpegScans: 100,
  /** Segments of a JPEG, chunks before a PNG's picture: a phone writes fewer than a hundred; millions of empty ones take 16 s. */
  parts: 50_000,
  /** Bytes of coefficients held at once: 64 megapixels of a phone's own progressive JPEG (4:2:0) pass, of 4:4:4 33. */
  jpegHeldBytes: 200e6,
  /** px. Above it codes are read at half size only, still finer than a 12 MP photo at full size. */
  codesAtFullSize: 52e6,
  /** Panoramas bend straight edges; they are kept as evidence but not measured. */
  longestToShortest: 3,
  /** Seconds until the decoder gives a picture up: a photo needs one, 64 megapixels a few. */
  decodeSeconds: 10,
  /** Longest name of a camera that is kept, letters. */
  cameraLetters: 120,
} as const;
