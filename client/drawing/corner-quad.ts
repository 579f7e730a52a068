/** A place in the upright photo, px. */
export type Point = [number, number];
/** Top left, top right, bottom right, bottom left of the leaf as seen upright. */
export type Quad = [Point, Point, Point, Point];
export const cornerNames = ["top left", "top right", "bottom right", "bottom left"] as const;

/** A leaf of the given size in the middle of the photo: where a person starts to drag from. */
export const middleQuad = (
  photo: { readonly width: number; readonly height: number },
  leaf: { readonly widthMm: number; readonly heightMm: number },
): Quad => {
  const scale = 0.8 * Math.min(photo.width / leaf.widthMm, photo.height / leaf.heightMm);
  const halfWidth = (leaf.widthMm * scale) / 2;
  const halfHeight = (leaf.heightMm * scale) / 2;
  const [x, y] = [photo.width / 2, photo.height / 2];
  return [
    [x - halfWidth, y - halfHeight],
    [x + halfWidth, y - halfHeight],
    [x + halfWidth, y + halfHeight],
    [x - halfWidth, y + halfHeight],
  ];
};

/** The quad with one corner moved; the corner stays inside the photo. */
export const moveCorner = (
  quad: Quad,
  corner: number,
  to: Point,
  photo: { readonly width: number; readonly height: number },
): Quad => {
  const inside: Point = [Math.max(0, Math.min(photo.width, to[0])), Math.max(0, Math.min(photo.height, to[1]))];
  return quad.map((point, index) => (index === corner ? inside : point)) as Quad;
};

/** True for four corners that go round clockwise without a dent: anything else is no leaf. */
export const isUprightQuad = (quad: Quad): boolean =>
  quad.every((point, index) => {
    const next = quad[(index + 1) % 4] ?? point;
    const after = quad[(index + 2) % 4] ?? point;
    return (next[0] - point[0]) * (after[1] - next[1]) - (next[1] - point[1]) * (after[0] - next[0]) > 0;
  });
