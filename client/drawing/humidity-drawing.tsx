import type { Overview } from "../../server/contract/views.ts";
import { shortTime } from "../times.ts";
import { type Frame, type HumidityPoint, percentSpan, placePoint } from "./humidity-line.ts";

const frame: Frame = { width: 400, height: 210, left: 34, right: 12, top: 12, bottom: 30 };
const hour = 3_600_000;

/** Relative humidity of the store over time with the agreed band; readings outside it are square and hold their number. */
export const HumidityDrawing = (props: {
  readings: Overview["store"]["readings"];
  band: readonly [number, number];
  timeZone: string;
}) => {
  const [first] = props.readings;
  const last = props.readings.at(-1);
  if (!first || !last) return null;
  const start = Date.parse(first.at);
  const points: HumidityPoint[] = props.readings.map(({ at, humidityPercent }) => ({
    hours: (Date.parse(at) - start) / hour,
    percent: humidityPercent,
  }));
  const hours = points.at(-1)?.hours ?? 0;
  const span = percentSpan(points, props.band);
  const at = (point: HumidityPoint) => placePoint(point, hours, span, frame);
  const level = (percent: number) => at({ hours: 0, percent })[1];
  const right = frame.width - frame.right;
  const [low, high] = props.band;
  return (
    <svg
      class="humidity"
      viewBox={`0 0 ${frame.width} ${frame.height}`}
      role="img"
      aria-label={`Humidity of the store from ${shortTime(first.at, props.timeZone)} to ${shortTime(last.at, props.timeZone)}; the table below holds the same`}
    >
      <rect class="band" x={frame.left} y={level(high)} width={right - frame.left} height={level(low) - level(high)} />
      {[low, high].map((percent) => (
        <g key={percent}>
          <line class="limit" x1={frame.left} x2={right} y1={level(percent)} y2={level(percent)} />
          <text x={frame.left - 5} y={level(percent) + 5} text-anchor="end">
            {percent}
          </text>
        </g>
      ))}
      <polyline class="curve" points={points.map((point) => at(point).join(",")).join(" ")} />
      {props.readings.map((reading, index) => {
        const point = points[index];
        if (!point) return null;
        const [x, y] = at(point);
        return reading.outside ? (
          <g key={reading.id}>
            <rect class="outside" x={x - 5} y={y - 5} width={10} height={10} />
            <text
              class="outside-word"
              x={Math.min(right - 14, Math.max(frame.left + 14, x))}
              y={point.percent > high ? y - 10 : y + 20}
              text-anchor="middle"
            >
              {Math.round(point.percent)} %
            </text>
          </g>
        ) : (
          <circle key={reading.id} class="inside" cx={x} cy={y} r={3.5} />
        );
      })}
      <text x={frame.left} y={frame.height - 8}>
        {shortTime(first.at, props.timeZone)}
      </text>
      <text x={right} y={frame.height - 8} text-anchor="end">
        {shortTime(last.at, props.timeZone)}
      </text>
    </svg>
  );
};
