import { expect } from "@playwright/test";
import { open, test } from "./the-demo.ts";

test("values that are no chart are told with their line, and what was pasted stays", async ({ page, delivery }) => {
  await open(page, `/d/${delivery}/chart`);
  await page.getByLabel("Name", { exact: true }).fill("Office chart");
  const pasted = page.getByLabel("Or paste them");
  await pasted.fill("patch,L,a,b\nbrown,38,14,14\nskin,66,x,18");
  const take = page.getByRole("button", { name: "Take these values in" });
  await take.click();
  const notice = page.locator(".notice.refused");
  await expect(notice).toContainText("say D50 or D65");
  await notice.getByRole("button", { name: "Close" }).click();
  await page.getByText("D50", { exact: true }).click();
  await take.click();
  await expect(notice).toContainText('line 3, a: "x" is not a number from -128 to 128');
  await expect(pasted).toHaveValue(/skin,66,x,18/);
  await expect(page.getByText("Office chart")).toHaveCount(0);
});

test("the chosen edition shows its patches and how many photos were measured by it", async ({ page, delivery }) => {
  await open(page, `/d/${delivery}/chart`);
  await expect(page.getByRole("radio", { name: "24-patch chart, made before November 2014" })).toBeChecked();
  await expect(page.getByText("11 photos measured by it.")).toBeVisible();
  await page.getByText("Values of the 24 patches").click();
  await expect(page.getByRole("row", { name: "A1 37.99 13.55 14.06" })).toBeVisible();
});
