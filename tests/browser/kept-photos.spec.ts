import { readdirSync } from "node:fs";
import { join } from "node:path";
import { expect } from "@playwright/test";
import { open, test } from "./the-demo.ts";

const failing = join(import.meta.dirname, "../../sample-images/failing");
const named = (word: string) => {
  const name = readdirSync(failing).find((one) => one.includes(word) && /\.jpe?g$/.test(one));
  if (!name) throw new Error(`no ${word} photo among the failing ones`);
  return join(failing, name);
};

test("a photo taken with no signal is kept through a reload, and leaves the device when the laptop holds it", async ({
  page,
  delivery,
  isMobile,
}) => {
  await page.route("**/photos", (route) => route.abort());
  await open(page, `/d/${delivery}/unwrap/${isMobile ? "A01" : "A03"}?face=B`);
  await page
    .locator("input[type=file]")
    .first()
    .setInputFiles(named(isMobile ? "blur" : "dark"));
  await expect(page.getByText(/take it again/i).first()).toBeVisible();
  await expect(page.locator(".waiting")).toContainText("1 waiting");
  await page.reload();
  await expect(page.locator(".waiting")).toContainText("1 waiting");
  await page.locator(".waiting summary").click();
  await page.getByRole("button", { name: "Send now" }).click();
  await expect(page.locator(".waiting")).toContainText("1 waiting");
  await page.unroute("**/photos");
  // From here the page tries again by itself, every 20 s: a button that goes away when all is sent is not to be aimed at.
  await expect(page.locator(".waiting")).toContainText("0 waiting", { timeout: 40_000 });
});

test("who enters is asked once, and a photo waits for the answer", async ({ page, delivery }) => {
  await page.addInitScript(() => localStorage.removeItem("leafledger.who"));
  await open(page, `/d/${delivery}`);
  const count = page.getByLabel(/^Counted of L1/);
  await count.fill("7");
  await count.press("Tab");
  await expect(page.getByRole("dialog")).toContainText("Who enters this?");
  await page.getByRole("button", { name: "Not now" }).click();
  await expect(count).toHaveValue("8");
});
