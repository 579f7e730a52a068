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
    const end = start + along;
    let sum = 0;
    let count = Math.min(after, along);
    for (let i = start; i < start + count; i++) sum += plane[i]!;
    for (let i = start; i < end; i++) {
      if (i + after < end) {
        sum += plane[i + after]!;
        count++;
      }
      if (i > start + before) {
        sum -= plane[i - before - 1]!;
        count--;
      }
      rows[i] = sum / count;
    }
  }
  const out = new Float32Array(plane.length);
  const sums = new Float64Array(along);
  let count = Math.min(after, across);
  for (let row = 0; row < count; row++) for (let i = 0; i < along; i++) sums[i]! += rows[row * along + i]!;
  for (let row = 0; row < across; row++) {
    const enters = row + after;
    const leaves = row - before - 1;
    if (enters < across) {
      count++;
      for (let i = 0, from = enters * along; i < along; i++, from++) sums[i]! += rows[from]!;
    }
    if (leaves >= 0) {
      count--;
      for (let i = 0, from = leaves * along; i < along; i++, from++) sums[i]! -= rows[from]!;
    }
    for (let i = 0, to = row * along; i < along; i++, to++) out[to] = sums[i]! / count;
  }
  return out;
};

/** A plane of means over squares of `side` cells that do not overlap; a last square cut by the border is left away. */
export const coarsen = ({ along, across }: Size, plane: ArrayLike<number>, side: number): Float32Array => {
  const width = Math.floor(along / side);
  const height = Math.floor(across / side);
  const out = new Float32Array(width * height);
  for (let row = 0; row < height * side; row++) {
    let from = row * along;
    const start = Math.floor(row / side) * width;
    for (let to = start; to < start + width; to++) {
      let sum = 0;
      for (const end = from + side; from < end; from++) sum += plane[from]!;
      out[to]! += sum;
    }
  }
  const share = 1 / (side * side);
  for (let i = 0; i < out.length; i++) out[i]! *= share;
  return out;
};
