import { expect, test } from "vitest";
import type { Quad } from "../../../analysis/pixels.ts";
import { judgeFace } from "../../../analysis/rectify/face-gates.ts";
import type { FaceGrid } from "../../../analysis/rectify/resample.ts";

type Light = (u: number, v: number) => readonly [number, number, number];

/** An oak-like face of 800 x 2000 mm in 4 mm cells: linear light of the wood times that of the light, glare added. */
const face = (light: Light, glare: (u: number, v: number) => number = () => 0, clipped = 0): FaceGrid => {
  const [width, height] = [200, 500];
  const data = new Float32Array(width * height * 3);
  const usable = new Uint8Array(width * height).fill(1);
  for (let i = 0; i < width * height; i++) {
    const u = (i % width) / width;
    const v = Math.floor(i / width) / height;
    const grain = 1 + 0.06 * Math.sin(u * 300 + 3 * Math.sin(v * 9));
    const [r, g, b] = light(u, v);
    const white = glare(u, v);
    data.set([0.42 * r * grain + white, 0.3 * g * grain + white, 0.17 * b * grain + white], i * 3);
    if (i < clipped * width * height) usable[i] = 0;
  }
  return { data, usable, width, height, mmPerCell: 4 };
};

const straight: Quad = [
  [500, 200],
  [1300, 200],
  [1300, 2200],
  [500, 2200],
];

const failed = (grid: FaceGrid, corners = straight, px = { widthPx: 1800, heightPx: 2400 }): string[] =>
  judgeFace(grid, { corners, ...px, heightMm: 2000, encoding: "srgb" })
    .filter(({ passed }) => !passed)
    .map(({ gate }) => gate);

const oneLight: Light = (u, v) => [1 - 0.15 * u, 1 - 0.15 * u + 0.05 * v, 1 - 0.14 * u + 0.05 * v];

test("a face under one light that falls off passes every gate", () => expect(failed(face(oneLight))).toEqual([]));

test("a small shine passes, a large one is glare", () => {
  const shine = (radius: number) => (u: number, v: number) => (Math.hypot(u - 0.5, 2.5 * (v - 0.4)) < radius ? 0.2 : 0);
  expect(failed(face(oneLight, shine(0.18)))).toEqual([]);
  expect(failed(face(oneLight, shine(0.45)))).toEqual(["glare"]);
});

test("daylight from one side and a lamp from the other are two lights", () => {
  expect(failed(face((u) => [1.15 - 0.3 * u, 1, 0.75 + 0.5 * u]))).toEqual(["mixed-light"]);
});

test("daylight that is brighter as well as bluer is no glare: it adds blue without red", () => {
  expect(failed(face((u) => [1, 1 + 0.25 * u, 0.7 + 0.9 * u]))).toEqual(["mixed-light"]);
});

test("a large shine to one side is glare and no second light", () => {
  const shine = (u: number, v: number) => 0.3 * Math.exp(-(((u - 0.8) / 0.35) ** 2) - ((v - 0.7) / 0.25) ** 2);
  expect(failed(face(oneLight, shine))).toEqual(["glare"]);
});

test("both at once are both told", () => {
  const shine = (u: number, v: number) => (Math.hypot(u - 0.5, 2.5 * (v - 0.5)) < 0.5 ? 0.3 : 0);
  expect(failed(face((u) => [1.15 - 0.3 * u, 1, 0.75 + 0.5 * u], shine))).toEqual(["glare", "mixed-light"]);
});

test("a fifth of the face clipped: nothing is said of its colour", () => {
  expect(failed(face(oneLight, undefined, 0.2))).toEqual(["clipped"]);
  expect(failed(face((u) => [1.15 - 0.3 * u, 1, 0.75 + 0.5 * u], undefined, 0.2))).toEqual(["clipped"]);
});

test("a corner outside the picture", () => {
  expect(
    failed(face(oneLight), [
      [-5, 200],
      [800, 200],
      [800, 2200],
      [-5, 2200],
    ]),
  ).toEqual(["cut-off"]);
});

test("a quarter of a pixel a mm is too few", () => {
  expect(
    failed(face(oneLight), [
      [800, 900],
      [1000, 900],
      [1000, 1400],
      [800, 1400],
    ]),
  ).toEqual(["too-small"]);
});

test("seen from 55 degrees aside", () => {
  // A face 800 mm wide turned about its upright axis, 3 m off, through a camera of 1800 px focal length.
  const turn = (55 * Math.PI) / 180;
  const corner = (x: number, y: number): readonly [number, number] => {
    const depth = 3000 + x * Math.sin(turn);
    return [900 + (1800 * x * Math.cos(turn)) / depth, 1200 + (1800 * y) / depth];
  };
  const aside: Quad = [corner(-400, -1000), corner(400, -1000), corner(400, 1000), corner(-400, 1000)];
  const oblique = judgeFace(face(oneLight), {
    corners: aside,
    widthPx: 1800,
    heightPx: 2400,
    heightMm: 2000,
    encoding: "srgb",
  }).find(({ gate }) => gate === "too-oblique")!;
  expect(oblique.value).toBeCloseTo(55, 0);
  expect(oblique.passed).toBe(false);
});
