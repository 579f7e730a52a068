import { expect, test } from "vitest";
import { readConfig } from "../../server/config.ts";

test("without settings it listens on this computer only", () => {
  expect(readConfig({})).toEqual({ host: "127.0.0.1", port: 4180, dataFolder: "./data" });
});

test("settings are read from the environment", () => {
  expect(readConfig({ LEAFLEDGER_PORT: "0", LEAFLEDGER_DATA: "/data", LEAFLEDGER_HOST: "localhost" })).toEqual({
    host: "localhost",
    port: 0,
    dataFolder: "/data",
  });
});

test("an address other devices could reach is refused, and every fault is named at once", () => {
  expect(() => readConfig({ LEAFLEDGER_HOST: "0.0.0.0", LEAFLEDGER_PORT: "many" })).toThrow(
    /LEAFLEDGER_PORT: .*\nLEAFLEDGER_HOST: access for other devices is not built yet/,
  );
});
