/** Stations along one side of an outline at which the edge is looked for. */
export const stations = 48;

/** Place = c0 + c1 u + c2 u2 with u from -1 to 1 along the side. */
export type Curve = readonly [number, number, number];

export const curveAt = ([c0, c1, c2]: Curve, station: number): number => {
  const u = ((station + 0.5) / stations) * 2 - 1;
  return c0 + c1 * u + c2 * u * u;
};

/** Greatest bow of a side, px, that counts as one: lenses of phones and bowed leaves keep below. */
const mostBowPx = 12;

/** The curve that most places lie on, passing over those that are off: start from the best line through two of them. */
export const fitCurve = (places: readonly (number | null)[]): Curve | null => {
  const seen = places.flatMap((place, k) => (place === null ? [] : [{ u: ((k + 0.5) / stations) * 2 - 1, place }]));
  if (seen.length < stations / 4) return null;
  let start: Curve = [0, 0, 0];
  let most = -1;
  for (let i = 0; i < seen.length; i += 2) {
    for (let j = i + 6; j < seen.length; j += 3) {
      const one = seen[i]!;
      const other = seen[j]!;
      const c1 = (other.place - one.place) / (other.u - one.u);
      const c0 = one.place - c1 * one.u;
      let close = 0;
      for (const { u, place } of seen) close += Math.max(0, 1 - Math.abs(place - c0 - c1 * u) / 2);
      if (close > most) {
        most = close;
        start = [c0, c1, 0];
      }
    }
  }
  let curve = start;
  for (const near of [5, 3, 2, 2]) {
    const fitted = weightedParabola(seen, curve, near);
    if (fitted === null) return null;
    curve = fitted;
  }
  return Math.abs(curve[2]) > mostBowPx ? null : curve;
};

/** Least squares parabola through the places within `near` px of the curve, nearer ones counting more. */
const weightedParabola = (
  seen: readonly { u: number; place: number }[],
  [c0, c1, c2]: Curve,
  near: number,
): Curve | null => {
  const m = new Float64Array(5);
  const v = new Float64Array(3);
  for (const { u, place } of seen) {
    const d = (place - c0 - c1 * u - c2 * u * u) / near;
    if (Math.abs(d) >= 1) continue;
    const w = (1 - d * d) ** 2;
    let power = w;
    for (let k = 0; k < 5; k++, power *= u) {
      m[k]! += power;
      if (k < 3) v[k]! += power * place;
    }
  }
  const [m0, m1, m2, m3, m4] = m as unknown as [number, number, number, number, number];
  const [v0, v1, v2] = v as unknown as [number, number, number];
  const det = m0 * (m2 * m4 - m3 * m3) - m1 * (m1 * m4 - m2 * m3) + m2 * (m1 * m3 - m2 * m2);
  if (m0 < 4 || Math.abs(det) < 1e-9) return null;
  return [
    (v0 * (m2 * m4 - m3 * m3) - m1 * (v1 * m4 - v2 * m3) + m2 * (v1 * m3 - v2 * m2)) / det,
    (m0 * (v1 * m4 - v2 * m3) - v0 * (m1 * m4 - m2 * m3) + m2 * (m1 * v2 - m2 * v1)) / det,
    (m0 * (m2 * v2 - m3 * v1) - m1 * (m1 * v2 - m2 * v1) + v0 * (m1 * m3 - m2 * m2)) / det,
  ];
};
