import { daylightBetween, type Illuminant, lamps } from "./illuminant.ts";
import { type Phone, phones } from "./phone.ts";
import type { Room } from "./room.ts";

/** A place on the site where leaves are photographed: its room, its light, and how much the light changes from photo to photo. */
export interface Site {
  readonly room: Room;
  readonly slope: readonly [x: number, y: number];
  readonly radial: number;
  readonly restless: number;
  readonly daylight: Illuminant;
  readonly lamps: Illuminant;
  /** Share of the lamps in the brightness of a photo, give or take what is restless. */
  readonly lampShare: number;
  readonly phone: Phone;
}

export const sites = {
  /** North window, curtains of foil: one stand for all walnut leaves. */
  consulting: {
    room: { wall: [76, 5.5, 11], floor: [61, 1, 5], bare: 1, seed: 11 },
    slope: [-0.045, 0.03],
    radial: 0.018,
    restless: 0.12,
    daylight: daylightBetween(0.9),
    lamps: lamps.neutral,
    lampShare: 0.1,
    phone: phones.brannoch,
  },
  waiting: {
    room: { wall: [88, -0.4, 4], floor: [55, 2, 8], bare: 0.1, seed: 22 },
    slope: [0.05, 0.02],
    radial: 0.015,
    restless: 0.8,
    daylight: daylightBetween(0.5),
    lamps: lamps.neutral,
    lampShare: 0.35,
    phone: phones.tarnside,
  },
  lobby: {
    room: { wall: [86, -0.6, 2.5], floor: [52, 0.5, 3.5], bare: 0.3, seed: 33 },
    slope: [-0.02, 0.03],
    radial: 0.012,
    restless: 1,
    daylight: daylightBetween(0.3),
    lamps: lamps.neutral,
    lampShare: 0.5,
    phone: phones.brannoch,
  },
  stair: {
    room: { wall: [82, 1.8, 9], floor: [57, 3, 9], bare: 0.25, seed: 44 },
    slope: [0.04, -0.02],
    radial: 0.016,
    restless: 0.9,
    daylight: daylightBetween(0.4),
    lamps: lamps.warm,
    lampShare: 0.45,
    phone: phones.tarnside,
  },
  landing: {
    room: { wall: [82, 1.8, 9], floor: [57, 3, 9], bare: 0, seed: 55 },
    slope: [-0.03, -0.02],
    radial: 0.016,
    restless: 0.9,
    daylight: daylightBetween(0.6),
    lamps: lamps.warm,
    lampShare: 0.6,
    phone: phones.tarnside,
  },
} as const satisfies Record<string, Site>;
