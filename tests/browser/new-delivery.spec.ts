import { readFileSync } from "node:fs";
import { join } from "node:path";
import { expect } from "@playwright/test";
import { open, test } from "./the-demo.ts";

const sample = (name: string) => join(import.meta.dirname, "../../sample-images", name);

test("a fault in the schedule is told with its line and column, and nothing typed is lost", async ({ page }) => {
  const schedule = readFileSync(sample("door-schedule.csv"), "utf8").split("\n");
  const width = (schedule[0] ?? "").split(",").indexOf("width_mm");
  expect(width).toBeGreaterThan(0);
  schedule[2] = (schedule[2] ?? "").split(",").with(width, "wide").join(",");
  await open(page, "/new");
  for (const label of ["Job", "Site", "Fitter", "Supplier", "Haulier", "Order number", "Delivery note number"])
    await page.getByLabel(label, { exact: true }).fill(`invented ${label.toLowerCase()}`);
  await page.getByLabel("Order lines (CSV)").setInputFiles(sample("order.csv"));
  await page
    .getByLabel("Door schedule (CSV)")
    .setInputFiles({ name: "schedule.csv", mimeType: "text/csv", buffer: Buffer.from(schedule.join("\n")) });
  const openIt = page.getByRole("button", { name: "Open this delivery" });
  await expect(openIt).toBeDisabled();
  await page.getByLabel("Take the terms over from").selectOption({ index: 1 });
  await expect(openIt).toBeEnabled();
  await openIt.click();
  const notice = page.locator(".notice.refused");
  await expect(notice).toContainText("line 3");
  await expect(notice).toContainText("width_mm");
  await expect(page.getByLabel("Job", { exact: true })).toHaveValue("invented job");
});
