interface Size {
  readonly along: number;
  readonly across: number;
}

/** Running mean of a plane over squares of `side` cells; near the border over what there is of the square. */
export const smooth = ({ along, across }: Size, plane: Float32Array, side: number): Float32Array => {
  if (side <= 1) return plane;
  const rows = new Float32Array(plane.length);
  const before = side >> 1;
  const after = side - 1 - before;
  for (let row = 0; row < across; row++) {
    const start = row * along;
    let sum = 0;
    for (let i = 0; i < Math.min(after, along); i++) sum += plane[start + i]!;
    for (let i = 0; i < along; i++) {
      if (i + after < along) sum += plane[start + i + after]!;
      if (i > before) sum -= plane[start + i - before - 1]!;
      rows[start + i] = sum / (Math.min(along - 1, i + after) - Math.max(0, i - before) + 1);
    }
  }
  const out = new Float32Array(plane.length);
  const sums = new Float64Array(along);
  for (let row = 0; row < Math.min(after, across); row++)
    for (let i = 0; i < along; i++) sums[i]! += rows[row * along + i]!;
  for (let row = 0; row < across; row++) {
    const enters = row + after;
    const leaves = row - before - 1;
    const count = Math.min(across - 1, enters) - Math.max(0, leaves + 1) + 1;
    for (let i = 0; i < along; i++) {
      if (enters < across) sums[i]! += rows[enters * along + i]!;
      if (leaves >= 0) sums[i]! -= rows[leaves * along + i]!;
      out[row * along + i] = sums[i]! / count;
    }
  }
  return out;
};

/** A plane of means over squares of `side` cells that do not overlap; a last square cut by the border is left away. */
export const coarsen = ({ along, across }: Size, plane: ArrayLike<number>, side: number): Float32Array => {
  const width = Math.floor(along / side);
  const height = Math.floor(across / side);
  const out = new Float32Array(width * height);
  for (let row = 0; row < height * side; row++) {
    const to = Math.floor(row / side) * width;
    for (let i = 0; i < width * side; i++) out[to + Math.floor(i / side)]! += plane[row * along + i]!;
  }
  return out.map((sum) => sum / (side * side));
};
