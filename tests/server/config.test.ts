import { expect, test } from "vitest";
import { readConfig } from "../../server/config.ts";

test("without settings it listens on this computer only", () => {
  expect(readConfig({})).toEqual({
    host: "127.0.0.1",
    port: 4180,
    dataFolder: "./data",
    guard: "own",
    names: [],
    rates: { light: 600, uploads: 60, pairings: 5 },
  });
});

test("settings are read from the environment", () => {
  expect(readConfig({ LEAFLEDGER_PORT: "0", LEAFLEDGER_DATA: "/data", LEAFLEDGER_HOST: "localhost" })).toEqual({
    host: "localhost",
    port: 0,
    dataFolder: "/data",
    guard: "own",
    names: [],
    rates: { light: 600, uploads: 60, pairings: 5 },
  });
});

test.each([
  ["127.0.0.1", {}, "own"],
  ["localhost", {}, "own"],
  ["::1", {}, "own"],
  ["0.0.0.0", {}, null],
  ["192.168.1.20", {}, null],
  ["::", {}, null],
  ["0.0.0.0", { LEAFLEDGER_CERT: "1" }, "https"],
  ["192.168.1.20", { LEAFLEDGER_INSECURE_HTTP: "1" }, "insecure"],
  ["0.0.0.0", { LEAFLEDGER_CERT: "1", LEAFLEDGER_INSECURE_HTTP: "1" }, "https"],
  ["127.0.0.1", { LEAFLEDGER_CERT: "1" }, "https"],
])("D1, D8: listening on %s with %j starts as %s", (host, more, guard) => {
  const read = () => readConfig({ LEAFLEDGER_HOST: host, ...more });
  if (guard === null) expect(read).toThrow(/^LEAFLEDGER_HOST: other devices could reach .*: add --cert/);
  else expect(read().guard).toBe(guard);
});

test("an address other devices could reach is refused, and every fault is named at once", () => {
  expect(() => readConfig({ LEAFLEDGER_HOST: "0.0.0.0", LEAFLEDGER_PORT: "many" })).toThrow(/LEAFLEDGER_PORT: /);
});
