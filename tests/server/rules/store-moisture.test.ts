import { describe, expect, test } from "vitest";
import { moistureAtEquilibrium } from "../../../server/rules/store-moisture.ts";
import { emcTable, emcTemperaturesF } from "../../published/emc-table.ts";

describe("moisture at equilibrium", () => {
  test("every published cell within 0.07 % moisture", () => {
    let cells = 0;
    for (const [humidity, ...row] of emcTable) {
      row.forEach((published, column) => {
        if (published === null) return;
        const celsius = ((emcTemperaturesF[column] ?? 0) - 32) / 1.8;
        const says = `${emcTemperaturesF[column]} °F, ${humidity} %`;
        expect(Math.abs(moistureAtEquilibrium(celsius, humidity) - published), says).toBeLessThanOrEqual(0.07);
        cells++;
      });
    }
    expect(cells).toBe(201);
  });

  // Worked out with the Celsius form in another program.
  test.each([
    [20, 50, 9.271],
    [20, 65, 11.996],
    [15, 80, 16.231],
    [10, 75, 14.773],
    [25, 40, 7.608],
    [5, 90, 20.993],
    [20, 0, 0],
  ])("%d °C and %d %% give %d %%", (temperature, humidity, moisture) => {
    expect(moistureAtEquilibrium(temperature, humidity)).toBeCloseTo(moisture, 3);
  });
});
