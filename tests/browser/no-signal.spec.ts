import { join } from "node:path";
import { expect } from "@playwright/test";
import { open, test } from "./the-demo.ts";

test.use({ serviceWorkers: "allow" });

const clipped = join(import.meta.dirname, "../../sample-images/failing/clipped.jpg");

test("with no signal the page opens again, shows what was read last, and a photo taken then arrives later", async ({
  page,
  context,
  delivery,
  isMobile,
}) => {
  test.skip(!isMobile, "one device is enough: the photo may arrive once only");
  await open(page, `/d/${delivery}`);
  await page.evaluate(() => navigator.serviceWorker.ready);
  await open(page, `/d/${delivery}/unwrap/P1?face=A`);
  await expect(page.getByRole("heading", { name: "Photo of face A" })).toBeVisible();
  await context.setOffline(true);

  await page.reload();
  await expect(page.getByText(/As last read at \d\d:\d\d, no signal\./)).toBeVisible({ timeout: 20_000 });
  await expect(page.getByRole("heading", { name: "Photo of face A" })).toBeVisible();
  await page.getByRole("link", { name: "Unwrap" }).click();
  await expect(page.getByRole("link", { name: /^W01 / })).toBeVisible();
  await page.getByRole("link", { name: "Delivery", exact: true }).click();
  await expect(page.getByRole("heading", { name: "Count by line" })).toBeVisible();
  await page.goto("/guide");
  await expect(page.getByRole("heading", { level: 1 }), "a screen not opened before").toHaveText(
    "How to photograph a leaf",
  );

  await page.goto(`/d/${delivery}/unwrap/P1?face=A`);
  await page.locator("input[type=file]").first().setInputFiles(clipped);
  await expect(page.locator(".waiting")).toContainText("1 waiting");
  await context.setOffline(false);
  await expect(page.locator(".waiting")).toContainText("0 waiting", { timeout: 30_000 });
  await expect(page.getByText(/no signal/)).toHaveCount(0);
});

test("the service worker keeps the page and nothing of the ledger", async ({ page, delivery }) => {
  await open(page, `/d/${delivery}`);
  await page.evaluate(() => navigator.serviceWorker.ready);
  const kept = await page.evaluate(async () => {
    const names = await caches.keys();
    const lists = await Promise.all(names.map(async (name) => (await caches.open(name)).keys()));
    return lists.flat().map(({ url }) => new URL(url).pathname);
  });
  expect(kept).toContain("/");
  expect(kept.filter((path) => path.endsWith(".js")).length).toBeGreaterThan(5);
  expect(kept.filter((path) => path.startsWith("/api"))).toEqual([]);
});
