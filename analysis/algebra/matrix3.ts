/** Three numbers of one kind: linear RGB, XYZ, Lab. */
export type Vector3 = readonly [number, number, number];

/** A 3 x 3 matrix, row by row. */
export type Matrix3 = readonly [number, number, number, number, number, number, number, number, number];

export const identity3: Matrix3 = [1, 0, 0, 0, 1, 0, 0, 0, 1];

export const diagonal3 = ([x, y, z]: Vector3): Matrix3 => [x, 0, 0, 0, y, 0, 0, 0, z];

export const apply3 = (m: Matrix3, [x, y, z]: Vector3): Vector3 => [
  m[0] * x + m[1] * y + m[2] * z,
  m[3] * x + m[4] * y + m[5] * z,
  m[6] * x + m[7] * y + m[8] * z,
];

export const multiply3 = (m: Matrix3, n: Matrix3): Matrix3 => {
  const a = apply3(m, [n[0], n[3], n[6]]);
  const b = apply3(m, [n[1], n[4], n[7]]);
  const c = apply3(m, [n[2], n[5], n[8]]);
  return [a[0], b[0], c[0], a[1], b[1], c[1], a[2], b[2], c[2]];
};

export const transpose3 = (m: Matrix3): Matrix3 => [m[0], m[3], m[6], m[1], m[4], m[7], m[2], m[5], m[8]];

export const combine3 = (m: Matrix3, n: Matrix3, factor: number): Matrix3 => [
  m[0] + factor * n[0],
  m[1] + factor * n[1],
  m[2] + factor * n[2],
  m[3] + factor * n[3],
  m[4] + factor * n[4],
  m[5] + factor * n[5],
  m[6] + factor * n[6],
  m[7] + factor * n[7],
  m[8] + factor * n[8],
];

/** The covariance of `J x` when `c` is that of `x`. */
export const propagate3 = (J: Matrix3, c: Matrix3): Matrix3 => multiply3(multiply3(J, c), transpose3(J));

/** The inverse by cofactors. A singular matrix gives entries that are not finite. */
export const inverse3 = (m: Matrix3): Matrix3 => {
  const [a, b, c, d, e, f, g, h, i] = m;
  const A = e * i - f * h;
  const B = f * g - d * i;
  const C = d * h - e * g;
  const k = 1 / (a * A + b * B + c * C);
  return [
    A * k,
    (c * h - b * i) * k,
    (b * f - c * e) * k,
    B * k,
    (a * i - c * g) * k,
    (c * d - a * f) * k,
    C * k,
    (b * g - a * h) * k,
    (a * e - b * d) * k,
  ];
};
