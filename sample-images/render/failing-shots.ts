import { cameraAt, single, type Wish } from "./compose.ts";
import { demoLeaves } from "./demo-leaves.ts";
import { lamps } from "./illuminant.ts";
import type { ReferenceKind } from "./references.ts";
import type { Gate, Shot } from "./shot.ts";
import { sites } from "./sites.ts";

/** A photo that one gate must refuse. */
export interface FailingShot extends Shot {
  readonly gate: Gate;
}

const plainShot = (gate: Gate, minutes: number, reference: ReferenceKind | null, wish: Partial<Wish> = {}): Shot => {
  const leaf = demoLeaves[3];
  if (!leaf) throw new Error("the demo has no leaf for the failing photos");
  const taken = `2026-03-03T16:${String(minutes).padStart(2, "0")}:00+00:00`;
  return single(`failing/${gate}.jpg`, sites.consulting, { leaf, face: "A" }, reference ? [[reference, "right"]] : [], {
    taken,
    clutter: [["batten", -640]],
    size: [1536, 2048],
    ...wish,
  });
};

/** One photo of leaf W04 for each gate, everything else about it in order. */
export const failingShots = (): readonly FailingShot[] => {
  const tooBright = plainShot("clipped", 4, "card");
  const glaring = plainShot("glare", 6, "card");
  const oblique = plainShot("too-oblique", 8, "card");
  const small = plainShot("too-small", 10, "card");
  const cut = plainShot("cut-off", 12, "card");
  const mixed = plainShot("mixed-light", 16, "card");
  const dark = plainShot("too-dark", 18, "card");
  const { widthPx, heightPx } = glaring.camera;
  const size = [widthPx, heightPx] as const;
  return [
    { ...plainShot("blur", 2, "card"), gate: "blur", softnessPx: 6 },
    { ...tooBright, gate: "clipped", gain: tooBright.gain * 10 },
    {
      ...glaring,
      gate: "glare",
      glare: [
        { xPx: widthPx * 0.4, yPx: heightPx * 0.3, sizePx: widthPx * 0.1, strength: 1.1 },
        { xPx: widthPx * 0.52, yPx: heightPx * 0.62, sizePx: widthPx * 0.06, strength: 0.6 },
      ],
    },
    {
      ...oblique,
      gate: "too-oblique",
      camera: cameraAt([60, -1080, -90], 3000, 64, 1300, 2500, size, 0.4, oblique.phone.k1),
    },
    {
      ...small,
      gate: "too-small",
      camera: cameraAt([500, -1300, -90], 8800, 6, 1500, 10000, size, 0.5, small.phone.k1),
    },
    { ...cut, gate: "cut-off", camera: cameraAt([90, -1540, -90], 2900, 2, 1500, 2250, size, 0.5, cut.phone.k1) },
    { ...plainShot("no-reference", 14, null), gate: "no-reference" },
    { ...mixed, gate: "mixed-light", light: { ...mixed.light, lamps: lamps.warm, lampShare: 0.5, lampSlope: [-1, 0] } },
    { ...dark, gate: "too-dark", gain: dark.gain * 0.05, noise: 3 },
    { ...plainShot("wrong-chart", 20, "other-chart"), gate: "wrong-chart" },
  ];
};
