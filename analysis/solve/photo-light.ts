import type { Vector3 } from "../algebra/matrix3.ts";
import type { Equations } from "./equations.ts";
import { type LightTerms, lightTerms } from "./light-field.ts";
import { cameraLogs } from "./log-channels.ts";
import type { ChannelSolution } from "./solve-channel.ts";

export type Channels = readonly [ChannelSolution, ChannelSolution, ChannelSolution];

/** The light of a photo at a place in it: a factor on each of the camera's channels. `extra` adds its unknown, `factor` times. */
export const lightAt = (
  { light }: Equations,
  channels: Channels,
  photo: number,
  terms: LightTerms,
  extra?: { readonly unknown: number; readonly factor: number },
): Vector3 => {
  const first = light[photo]!;
  const logs = channels.map(({ estimate }) => {
    let sum = extra ? extra.factor * estimate[extra.unknown]! : 0;
    for (let k = 0; k < lightTerms; k++) sum += terms[k]! * estimate[first + k]!;
    return sum;
  });
  const [red, green, blue] = cameraLogs([logs[0]!, logs[1]!, logs[2]!]);
  return [Math.exp(red), Math.exp(green), Math.exp(blue)];
};
