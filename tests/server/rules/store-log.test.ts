import { describe, expect, test } from "vitest";
import { storeReadings } from "../../../server/demo/brannoch-quay.ts";
import { storeLog } from "../../../server/rules/store-log.ts";
import { someTerms } from "../../support/small-delivery.ts";

const limits = someTerms.store;
const reading = (at: string, humidityPercent: number, temperatureC = 18, event = "") => ({
  id: "01J00000000000000000000000",
  at,
  humidityPercent,
  temperatureC,
  event,
  place: "stack",
  instrument: "HX-2",
  by: "R.",
});

describe("the store log", () => {
  test("hours outside are those beyond the band on the straight line between readings", () => {
    const log = [
      reading("2026-03-03T00:00:00Z", 50),
      reading("2026-03-03T10:00:00Z", 70),
      reading("2026-03-03T12:00:00Z", 70),
    ];
    expect(storeLog(log, limits, "2026-03-03T12:00:00Z").hoursOutside).toBe(7); // 60 % is crossed after 5 of 10 hours
    const cold = [reading("2026-03-03T00:00:00Z", 50, 12), reading("2026-03-03T04:00:00Z", 50, 8)];
    expect(storeLog(cold, limits, "2026-03-03T04:00:00Z").hoursOutside).toBe(2);
  });

  test("humidity and temperature outside at the same time are counted once", () => {
    const log = [reading("2026-03-03T00:00:00Z", 70, 5), reading("2026-03-03T04:00:00Z", 70, 5)];
    expect(storeLog(log, limits, "2026-03-03T04:00:00Z").hoursOutside).toBe(4);
  });

  test("readings are put in order of time, and none is left out", () => {
    const log = [reading("2026-03-04T00:00:00Z", 80), reading("2026-03-03T00:00:00Z", 50)];
    const { readings } = storeLog(log, limits, "2026-03-04T00:00:00Z");
    expect(readings.map(({ humidityPercent, outside }) => [humidityPercent, outside])).toEqual([
      [50, false],
      [80, true],
    ]);
  });

  test("warns of a swing within a day, of a gap up to now, of wet work and of forced drying", () => {
    const log = [
      reading("2026-03-03T08:00:00Z", 45),
      reading("2026-03-03T20:00:00Z", 58, 18, "screed poured next door"),
      reading("2026-03-04T08:00:00Z", 58, 18, "heater brought in"),
    ];
    const { warnings } = storeLog(log, limits, "2026-03-06T08:00:00Z");
    expect(warnings).toEqual([
      "Humidity went from 45 to 58 % within a day, by Tue 3 Mar 20:00.",
      "Humidity went from 45 to 58 % within a day, by Wed 4 Mar 08:00.",
      "No reading for 48 hours after Wed 4 Mar 08:00.",
      "Wet work near the store, Tue 3 Mar 20:00: screed poured next door.",
      "Forced drying near the store, Wed 4 Mar 08:00: heater brought in.",
    ]);
    expect(storeLog([reading("2026-03-03T08:00:00Z", 50)], limits, "2026-03-03T09:00:00Z").warnings).toEqual([]);
  });

  test("the demo's log comes to the moisture worked out for it", () => {
    const log = storeReadings.map((one) => ({ id: "01J00000000000000000000000", by: "R.", ...one }));
    const moistures = storeLog(log, limits, "2026-03-06T08:30:00Z").readings.map(
      ({ moisturePercent }) => moisturePercent,
    );
    expect(moistures).toEqual([9.6, 10.2, 12.8, 10.5, 6.7]);
  });
});
