import { apply3, inverse3, type Matrix3, multiply3, type Vector3 } from "../algebra/matrix3.ts";
import { toSrgbPrimaries } from "../colour/encoding.ts";
import type { Encoding } from "../pixels.ts";
import { model } from "./model-constants.ts";

/** Linear light of a photo to the channels of a typical camera, in which a change of light is a factor on each. */
export const toCameraChannels = (encoding: Encoding): Matrix3 =>
  multiply3(inverse3(model.typicalCamera), toSrgbPrimaries(encoding));

/** Below this a channel is only noise; keeps the logarithm finite. */
const leastLight = 1e-5;

/** Lightness and two colours: mean of the logarithms, red against green, blue against green. */
export const logChannels = (toCamera: Matrix3, rgb: Vector3): Vector3 => {
  const camera = apply3(toCamera, rgb);
  const red = Math.log(Math.max(camera[0], leastLight));
  const green = Math.log(Math.max(camera[1], leastLight));
  const blue = Math.log(Math.max(camera[2], leastLight));
  return [(red + green + blue) / 3, red - green, blue - green];
};

/** Logarithms of the camera's channels from lightness and two colours, each linear in them: the same for a light. */
export const cameraLogs = ([lightness, redGreen, blueGreen]: Vector3): Vector3 => {
  const green = lightness - (redGreen + blueGreen) / 3;
  return [green + redGreen, green, green + blueGreen];
};

/** `cameraLogs` as a matrix, to carry covariances. */
export const cameraLogsMatrix: Matrix3 = [1, 2 / 3, -1 / 3, 1, -1 / 3, -1 / 3, 1, -1 / 3, 2 / 3];
