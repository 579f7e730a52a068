import type { Reading } from "../contract/delivery.ts";
import type { SupplierTerms } from "../contract/terms.ts";
import type { StoreLog } from "../contract/views.ts";
import { moistureAtEquilibrium } from "./store-moisture.ts";

type Limits = SupplierTerms["store"];
type Air = Pick<Reading, "temperatureC" | "humidityPercent">;

const hourMs = 3_600_000;

const isOutside = (air: Air, limits: Limits): boolean =>
  air.humidityPercent < limits.humidityMinPercent ||
  air.humidityPercent > limits.humidityMaxPercent ||
  air.temperatureC < limits.temperatureMinC ||
  air.temperatureC > limits.temperatureMaxC;

const hoursBetween = (one: Reading, other: Reading): number => (Date.parse(other.at) - Date.parse(one.at)) / hourMs;

const between = (from: number, to: number, share: number): number => from + (to - from) * share;

/** Where on the straight line from one value to the other a limit is crossed, as a share of the way. */
const crossings = (from: number, to: number, limits: readonly number[]): number[] =>
  limits.map((limit) => (limit - from) / (to - from)).filter((share) => share > 0 && share < 1);

/** Share of the time between two readings during which the air was outside the band, taking the change as steady. */
const shareOutside = (one: Reading, other: Reading, limits: Limits): number => {
  const cuts = [
    0,
    ...crossings(one.humidityPercent, other.humidityPercent, [limits.humidityMinPercent, limits.humidityMaxPercent]),
    ...crossings(one.temperatureC, other.temperatureC, [limits.temperatureMinC, limits.temperatureMaxC]),
    1,
  ].sort((a, b) => a - b);
  return cuts.slice(1).reduce((sum, to, index) => {
    const from = cuts[index] ?? 0;
    const middle = (from + to) / 2;
    const air = {
      temperatureC: between(one.temperatureC, other.temperatureC, middle),
      humidityPercent: between(one.humidityPercent, other.humidityPercent, middle),
    };
    return isOutside(air, limits) ? sum + to - from : sum;
  }, 0);
};

/** "Thu 5 Mar 07:45": the time on the wall where it was read. */
const day = (at: string): string => {
  const onTheWall = new Date(`${at.slice(0, 16)}Z`);
  const part = (options: Intl.DateTimeFormatOptions) =>
    onTheWall.toLocaleString("en-GB", { ...options, timeZone: "UTC" });
  return `${part({ weekday: "short" })} ${onTheWall.getUTCDate()} ${part({ month: "short" })} ${at.slice(11, 16)}`;
};

const swings = (readings: readonly Reading[], limits: Limits): string[] =>
  readings.flatMap((reading, index) => {
    const within = readings.slice(0, index).filter((earlier) => hoursBetween(earlier, reading) <= 24);
    const most = within.reduce<Reading | null>((far, earlier) => {
      const change = Math.abs(earlier.humidityPercent - reading.humidityPercent);
      return !far || change > Math.abs(far.humidityPercent - reading.humidityPercent) ? earlier : far;
    }, null);
    return most && Math.abs(most.humidityPercent - reading.humidityPercent) > limits.swingPercentPerDay
      ? [
          `Humidity went from ${most.humidityPercent} to ${reading.humidityPercent} % within a day, by ${day(reading.at)}.`,
        ]
      : [];
  });

const gaps = (readings: readonly Reading[], limits: Limits, now: string): string[] => {
  const times = [...readings.map(({ at }) => at), now];
  return times.slice(1).flatMap((to, index) => {
    const from = times[index] ?? to;
    const hours = (Date.parse(to) - Date.parse(from)) / hourMs;
    return hours > limits.longestGapHours ? [`No reading for ${Math.round(hours)} hours after ${day(from)}.`] : [];
  });
};

const wetTrade = /\b(plaster|screed|paint|render|concrete|tiling)/i;
const dryingTrade = /\b(heater|dehumidifier|blower|radiator)/i;

const events = (readings: readonly Reading[]): string[] =>
  readings.flatMap(({ at, event }) => [
    ...(wetTrade.test(event) ? [`Wet work near the store, ${day(at)}: ${event}.`] : []),
    ...(dryingTrade.test(event) ? [`Forced drying near the store, ${day(at)}: ${event}.`] : []),
  ]);

/**
 * The log of the store, judged by the terms: what moisture wood would come to at each reading, hours outside the band
 * between the first and the last one, and what to look at. Nothing is left out: a bad reading stays in.
 * Straight lines between readings, and which events to warn of: common practice, no source.
 */
export const storeLog = (log: readonly Reading[], limits: Limits, now: string): StoreLog => {
  const readings = log.toSorted((a, b) => Date.parse(a.at) - Date.parse(b.at));
  const hoursOutside = readings.slice(1).reduce((sum, reading, index) => {
    const before = readings[index];
    return before ? sum + hoursBetween(before, reading) * shareOutside(before, reading, limits) : sum;
  }, 0);
  return {
    readings: readings.map((reading) => ({
      ...reading,
      moisturePercent: Math.round(10 * moistureAtEquilibrium(reading.temperatureC, reading.humidityPercent)) / 10,
      outside: isOutside(reading, limits),
    })),
    hoursOutside: Math.round(10 * hoursOutside) / 10,
    warnings: [
      ...readings
        .filter((reading) => isOutside(reading, limits))
        .map(
          ({ at, temperatureC, humidityPercent }) =>
            `Outside the band on ${day(at)}: ${temperatureC} °C, ${humidityPercent} %.`,
        ),
      ...swings(readings, limits),
      ...gaps(readings, limits, now),
      ...events(readings),
    ],
  };
};
