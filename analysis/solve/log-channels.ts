import { apply3, inverse3, type Matrix3, multiply3, type Vector3 } from "../algebra/matrix3.ts";
import { toSrgbPrimaries } from "../colour/encoding.ts";
import type { Encoding } from "../pixels.ts";
import { model } from "./model-constants.ts";

/** Linear light of a photo to the channels of a typical camera, in which a change of light is a factor on each. */
export const toCameraChannels = (encoding: Encoding): Matrix3 =>
  multiply3(inverse3(model.typicalCamera), toSrgbPrimaries(encoding));

/** Below this a channel is only noise; keeps the logarithm finite. */
const leastLight = 1e-5;

/** How much of the tint belongs to the lightness, so that a change of light moves the tint of wood alone. */
const tintInLightness = model.tintInLightness;

/**
 * Logarithms of a camera's channels as lightness, warmth (red against blue) and tint (red and blue against green). Woods
 * differ in lightness and warmth and hardly in tint; wood against grey changes with the kind of light in tint and hardly
 * else. So the three may be solved one by one.
 */
export const logChannels = (toCamera: Matrix3, rgb: Vector3): Vector3 => {
  const [red, green, blue] = apply3(toCamera, rgb);
  return fromCameraLogs([logOfLight(red), logOfLight(green), logOfLight(blue)]);
};

export const logOfLight = (light: number): number => Math.log(Math.max(light, leastLight));

export const fromCameraLogs = ([red, green, blue]: Vector3): Vector3 => {
  const tint = (red + blue) / 2 - green;
  return [(red + green + blue) / 3 + tintInLightness * tint, red - blue, tint];
};

/** `cameraLogs` as a matrix, to carry covariances. */
export const cameraLogsMatrix: Matrix3 = [
  1,
  1 / 2,
  1 / 3 - tintInLightness,
  1,
  0,
  -2 / 3 - tintInLightness,
  1,
  -1 / 2,
  1 / 3 - tintInLightness,
];

/** Logarithms of the camera's channels from lightness, warmth and tint. */
export const cameraLogs = (channels: Vector3): Vector3 => apply3(cameraLogsMatrix, channels);
