import { expect } from "@playwright/test";
import type { Reply } from "../../server/contract/calls.ts";
import { open, test } from "./the-demo.ts";

test("a corner dragged on the photo is kept as set by hand, and can be taken back", async ({
  page,
  delivery,
  isMobile,
}) => {
  const code = isMobile ? "W06" : "W08";
  const byHand = async (): Promise<number> => {
    const response = await page.request.get(`/api/v1/deliveries/${delivery}/leaves/${code}`);
    const { photos } = (await response.json()) as Reply<"leaf">;
    return photos.flatMap(({ photo }) => photo.shows).filter(({ corners }) => corners !== null).length;
  };
  await open(page, `/d/${delivery}/unwrap/${code}`);
  await page
    .getByRole("button", { name: /corners$/ })
    .first()
    .click();
  const corner = page.getByRole("slider", { name: "Corner bottom right" });
  await corner.scrollIntoViewIfNeeded();
  const handle = await corner.boundingBox();
  if (!handle) throw new Error("no corner");
  expect(Math.min(handle.width, handle.height), "large enough for a finger").toBeGreaterThanOrEqual(44);
  const before = await corner.getAttribute("aria-valuetext");
  const [x, y] = [handle.x + handle.width / 2, handle.y + handle.height / 2];
  await page.mouse.move(x, y);
  await page.mouse.down();
  await page.mouse.move(x - 6, y - 9, { steps: 3 });
  await expect(page.locator(".loupe")).toBeVisible();
  await page.mouse.up();
  expect(await corner.getAttribute("aria-valuetext")).not.toBe(before);
  expect(await byHand()).toBe(0);
  await page.getByRole("button", { name: "Keep these corners" }).click();
  await expect(page.locator(".notice")).toContainText("Corners set");
  expect(await byHand()).toBe(1);
  await page.getByRole("button", { name: "Undo" }).click();
  await expect(page.locator(".notice")).toContainText("Taken back");
  expect(await byHand()).toBe(0);
});
