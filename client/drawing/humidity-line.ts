/** What the line is drawn from: hours since the first reading, relative humidity in percent. */
export interface HumidityPoint {
  readonly hours: number;
  readonly percent: number;
}

export interface Frame {
  readonly width: number;
  readonly height: number;
  readonly left: number;
  readonly bottom: number;
  readonly top: number;
  readonly right: number;
}

/** The percent shown at the foot and the head of the drawing: whole tens that hold all readings and the band. */
export const percentSpan = (points: readonly HumidityPoint[], band: readonly [number, number]): [number, number] => {
  const all = [...points.map(({ percent }) => percent), ...band];
  return [
    Math.max(0, Math.floor(Math.min(...all) / 10) * 10 - 10),
    Math.min(100, Math.ceil(Math.max(...all) / 10) * 10 + 10),
  ];
};

/** Where a point lies in the frame. `hours` is the length of the whole line; one reading stands in the middle. */
export const placePoint = (
  point: HumidityPoint,
  hours: number,
  span: readonly [number, number],
  frame: Frame,
): [number, number] => {
  const across = hours > 0 ? point.hours / hours : 0.5;
  const up = (point.percent - span[0]) / (span[1] - span[0]);
  return [
    frame.left + across * (frame.width - frame.left - frame.right),
    frame.height - frame.bottom - up * (frame.height - frame.bottom - frame.top),
  ];
};
