/** Which curve and primaries the code values of a photo follow. */
export type Encoding = "srgb" | "display-p3";

/**
 * An upright picture of 8-bit codes, red, green and blue of a pixel side by side. A camera held on its side stores its
 * pixels turned; they are left where they are and read by steps: the top left pixel is at `first` in `data`, the next to
 * the right `right` further on, the next below `down` further on.
 */
export interface Stepped {
  readonly data: Uint8Array | Uint8ClampedArray;
  readonly width: number;
  readonly height: number;
  readonly first: number;
  readonly right: number;
  readonly down: number;
}

/** A photo as decoded, three channels, profile not applied. */
export interface Pixels extends Stepped {
  readonly data: Uint8Array;
  readonly encoding: Encoding;
}

/** A photo whose pixels are stored upright, row by row; length of `data` is width * height * 3. */
export const uprightPixels = (data: Uint8Array, width: number, height: number, encoding: Encoding): Pixels => ({
  data,
  width,
  height,
  first: 0,
  right: 3,
  down: 3 * width,
  encoding,
});

/**
 * A photo whose pixels are stored row by row, `storedWidth` to a row, as turned or mirrored as its EXIF orientation says
 * (2 to 8, by which sides of the upright photo the first row and column are; CIPA DC-008, from memory; else upright).
 */
export const turnedPixels = (
  data: Uint8Array,
  storedWidth: number,
  storedHeight: number,
  orientation: number,
  encoding: Encoding,
): Pixels => {
  const onItsSide = [5, 6, 7, 8].includes(orientation);
  const [width, height] = onItsSide ? [storedHeight, storedWidth] : [storedWidth, storedHeight];
  const [alongRow, downRows] = [3, 3 * storedWidth];
  const right = (onItsSide ? downRows : alongRow) * ([2, 3, 6, 7].includes(orientation) ? -1 : 1);
  const down = (onItsSide ? alongRow : downRows) * ([3, 4, 7, 8].includes(orientation) ? -1 : 1);
  const first = Math.max(0, -right) * (width - 1) + Math.max(0, -down) * (height - 1);
  return { data, width, height, first, right, down, encoding };
};

/** A place in the upright photo, px; (0, 0) is the outer corner of the top left pixel, so its centre is (0.5, 0.5). */
export type Point = readonly [x: number, y: number];

/** Four corners in the order top left, top right, bottom right, bottom left of the thing as seen upright. */
export type Quad = readonly [Point, Point, Point, Point];
