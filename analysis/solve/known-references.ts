import { apply3, type Vector3 } from "../algebra/matrix3.ts";
import { xyzToSrgb } from "../colour/encoding.ts";
import { type Lab65, lab65ToXyz } from "../colour/lab.ts";
import { logChannels, toCameraChannels } from "./log-channels.ts";
import { model } from "./model-constants.ts";

/** Colours of a chart's or a grey card's patches by their names, under the reference's id. Printed cards are not in it. */
export type KnownReferences = Readonly<Record<string, Readonly<Record<string, Lab65>>>>;

const srgb = toCameraChannels("srgb");

/** A known patch as light: linear sRGB to logarithms. */
export const logOfLab = (lab: Lab65): Vector3 => logChannels(srgb, apply3(xyzToSrgb, lab65ToXyz(lab)));

/** Greys serve to find the light: all cameras agree on them, whatever their matrix. */
export const isGrey = ([L, a, b]: Lab65): boolean => Math.hypot(a, b) < model.greyChroma && L > model.greyLightness;

/** Lab of a neutral card of a given reflectance, 0..1. */
export const greyOfReflectance = (reflectance: number): Lab65 => [116 * Math.cbrt(reflectance) - 16, 0, 0];

/** Light the printed patches send back, roughly: office paper, and black toner over a part of it. Black drowns in flare. */
export const printedTones: Readonly<Record<string, number>> = {
  "paper-left": 0.85,
  "paper-right": 0.85,
  "grey-25": 0.6,
  "grey-50": 0.35,
  "grey-75": 0.15,
};
