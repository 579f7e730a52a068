import { expect, test } from "vitest";
import { address } from "../../client/api.ts";

test("an address has its names filled in and cannot be left by what stands in them", () => {
  expect(address("leaf", { delivery: "brannoch", leaf: "W03" })).toBe("/api/v1/deliveries/brannoch/leaves/W03");
  expect(address("recordPdf", { delivery: "brannoch", number: 2 })).toBe("/api/v1/deliveries/brannoch/records/2/pdf");
  expect(address("leaf", { delivery: "brannoch", leaf: "../x?y" })).toBe(
    "/api/v1/deliveries/brannoch/leaves/..%2Fx%3Fy",
  );
});
