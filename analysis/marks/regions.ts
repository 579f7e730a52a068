/** A connected piece of a plane above a threshold. Box in cells, `to` exclusive; it holds the cells above half the peak. */
export interface Region {
  readonly fromAlong: number;
  readonly fromAcross: number;
  readonly toAlong: number;
  readonly toAcross: number;
  readonly peak: number;
  readonly cells: readonly number[];
}

/** The connected pieces (diagonals count) of a plane at or above the threshold, in the order of their first cell. */
export const regionsAbove = (along: number, plane: Float32Array, threshold: number): Region[] => {
  const seen = new Uint8Array(plane.length);
  const regions: Region[] = [];
  for (let start = 0; start < plane.length; start++) {
    if (seen[start] || plane[start]! < threshold) continue;
    const cells = floodFrom(start, along, plane, threshold, seen);
    const peak = cells.reduce((most, cell) => Math.max(most, plane[cell]!), 0);
    regions.push(
      boxed(
        along,
        cells.filter((cell) => plane[cell]! >= peak / 2),
        peak,
      ),
    );
  }
  return regions;
};

const floodFrom = (
  start: number,
  along: number,
  plane: Float32Array,
  threshold: number,
  seen: Uint8Array,
): number[] => {
  const cells = [start];
  seen[start] = 1;
  for (const cell of cells) {
    const column = cell % along;
    for (let down = -along; down <= along; down += along)
      for (let right = -1; right <= 1; right++) {
        const next = cell + down + right;
        if (next < 0 || next >= plane.length || column + right < 0 || column + right >= along) continue;
        if (seen[next] || plane[next]! < threshold) continue;
        seen[next] = 1;
        cells.push(next);
      }
  }
  return cells;
};

const boxed = (along: number, cells: readonly number[], peak: number): Region => {
  let [fromAlong, toAlong, fromAcross, toAcross] = [along, 0, Number.POSITIVE_INFINITY, 0];
  for (const cell of cells) {
    const column = cell % along;
    const row = (cell - column) / along;
    fromAlong = Math.min(fromAlong, column);
    toAlong = Math.max(toAlong, column + 1);
    fromAcross = Math.min(fromAcross, row);
    toAcross = Math.max(toAcross, row + 1);
  }
  return { fromAlong, fromAcross, toAlong, toAcross, peak, cells };
};
