import { expect, it } from "vitest";
import { apply3, type Vector3 } from "../../../analysis/algebra/matrix3.ts";
import { cameraLogs, cameraLogsMatrix, fromCameraLogs } from "../../../analysis/solve/log-channels.ts";

it("goes from a camera's logarithms to lightness, warmth and tint and back", () => {
  const logs: Vector3 = [-0.7, -1.1, -1.9];
  const channels = fromCameraLogs(logs);
  cameraLogs(channels).forEach((value, k) => {
    expect(value).toBeCloseTo(logs[k]!, 12);
  });
  apply3(cameraLogsMatrix, channels).forEach((value, k) => {
    expect(value).toBeCloseTo(logs[k]!, 12);
  });
  expect(channels[1]).toBeCloseTo(1.2, 12);
  expect(channels[2]).toBeCloseTo(-0.2, 12);
});
