import { type APIRequestContext, expect, type Page } from "@playwright/test";
import type { Reply } from "../../server/contract/calls.ts";
import { open, test } from "./the-demo.ts";

const fourPanel = "P4-1981X838";

const stileOf = async (request: APIRequestContext, delivery: string): Promise<readonly number[]> => {
  const response = await request.get(`/api/v1/deliveries/${delivery}/patterns/${fourPanel}`);
  const { pattern } = (await response.json()) as Reply<"pattern">;
  return pattern.parts.find(({ name }) => name === "stile-left")?.rectMm ?? [];
};

const openJoints = async (page: Page, delivery: string): Promise<void> => {
  await open(page, `/d/${delivery}/unwrap/S01?face=A`);
  await page.getByRole("link", { name: "The joints lie elsewhere" }).click();
  await expect(page.locator(".joint-drawing image")).toBeVisible();
};

/** Takes hold of a line by its knob and drags it, px of the page. */
const dragKnob = async (page: Page, name: string, dx: number, dy: number): Promise<void> => {
  const knob = page.getByRole("slider", { name }).locator("rect.reach");
  await knob.scrollIntoViewIfNeeded();
  const box = await knob.boundingBox();
  if (!box) throw new Error("no knob");
  expect(Math.min(box.width, box.height), "large enough for a finger").toBeGreaterThanOrEqual(43.5);
  const [x, y] = [box.x + box.width / 2, box.y + box.height / 2];
  await page.mouse.move(x, y);
  await page.mouse.down();
  await page.mouse.move(x + dx, y + dy, { steps: 4 });
  await page.mouse.up();
};

test("a stile's line is dragged, kept for all leaves of the pattern, measured anew and taken back", async ({
  page,
  request,
  delivery,
}) => {
  test.setTimeout(240_000);
  const before = await stileOf(request, delivery);
  await openJoints(page, delivery);
  const stile = page.getByRole("slider", { name: "Stile left, right edge" });
  await expect(stile).toHaveAttribute("aria-valuetext", "105 mm from the left");
  await dragKnob(page, "Stile left, right edge", -3, 0);
  await expect(page.locator(".joint-loupe image")).toBeVisible();
  const dragged = Number(await stile.getAttribute("aria-valuenow"));
  expect(dragged).toBeLessThan(103);
  expect(dragged).toBeGreaterThan(85);
  await expect(page.locator(".joint-loupe")).toContainText(`stile left ${dragged} mm`);
  await page.getByRole("button", { name: "1 mm left" }).click();
  await expect(stile).toHaveAttribute("aria-valuenow", String(dragged - 1));
  expect(await stileOf(request, delivery), "nothing is kept before it is asked for").toEqual(before);
  await page.getByRole("button", { name: "Keep for all 6 leaves" }).click();
  await expect(page.locator(".notice")).toContainText("Joints kept");
  expect(await stileOf(request, delivery)).toEqual([0, 0, dragged - 1, 1981]);
  const measuring = page.locator(".measuring");
  await expect(measuring, "photos of these leaves are measured anew").toBeVisible();
  await page.getByRole("button", { name: "Undo" }).click();
  await expect(page.locator(".notice")).toContainText("Taken back");
  expect(await stileOf(request, delivery)).toEqual(before);
  await expect(stile).toHaveAttribute("aria-valuenow", "105");
  await expect(measuring).toHaveCount(0, { timeout: 200_000 });
});

test("a line goes by arrow keys and by numbers; what cannot be is said and nothing is lost", async ({
  page,
  delivery,
}) => {
  await openJoints(page, delivery);
  const rail = page.getByRole("slider", { name: "Rail mid, upper edge" });
  await rail.focus();
  await page.keyboard.press("ArrowDown");
  await page.keyboard.press("Shift+ArrowDown");
  await expect(rail).toHaveAttribute("aria-valuetext", "962 mm from the top");
  await page.getByText("In numbers").click();
  const lower = page.getByLabel("Rail mid, lower edge", { exact: false }).and(page.getByRole("textbox"));
  await lower.fill("974,5");
  const says = "The rail mid would be 12.5 mm high: move one of its lines, so that at least 20 mm lie between them.";
  await expect(page.getByText(says)).toBeVisible();
  const keep = page.getByRole("button", { name: "Keep for all 6 leaves" });
  await expect(keep).toBeDisabled();
  await expect(rail).toHaveAttribute("aria-valuenow", "962");
  await lower.fill("1150");
  await expect(page.getByText(says)).toHaveCount(0);
  await expect(keep).toBeEnabled();
  await page.getByRole("link", { name: "Match" }).click();
  await openJoints(page, delivery);
  await expect(rail, "lines that were moved outlast leaving the screen").toHaveAttribute("aria-valuenow", "962");
  await page.getByText("In numbers").click();
  await lower.fill("1160");
  const back = page.getByRole("button", { name: "One step back" });
  await back.click();
  await expect(lower).toHaveValue("1150");
  await back.click();
  await expect(lower).toHaveValue("1141");
  await expect(rail).toHaveAttribute("aria-valuenow", "951");
  await expect(back).toBeDisabled();
  await expect(keep).toBeDisabled();
});

test("a finger on a line drags it and does not scroll the page", async ({ page, delivery, isMobile }) => {
  test.skip(!isMobile, "a laptop has no finger");
  await openJoints(page, delivery);
  const rail = page.getByRole("slider", { name: "Rail mid, upper edge" });
  const knob = rail.locator("rect.reach");
  await knob.evaluate((shape) => scrollBy(0, shape.getBoundingClientRect().top - 200));
  const box = await knob.boundingBox();
  if (!box) throw new Error("no knob");
  const scroll = await page.evaluate(() => scrollY);
  const [x, y] = [box.x + box.width / 2, box.y + box.height / 2];
  const screen = await page.context().newCDPSession(page);
  const touch = (type: "touchStart" | "touchMove" | "touchEnd", down: number) =>
    screen.send("Input.dispatchTouchEvent", { type, touchPoints: type === "touchEnd" ? [] : [{ x, y: y + down }] });
  await touch("touchStart", 0);
  for (const down of [5, 15, 30]) await touch("touchMove", down);
  await touch("touchEnd", 30);
  await expect(rail).not.toHaveAttribute("aria-valuenow", "951");
  expect(Number(await rail.getAttribute("aria-valuenow"))).toBeGreaterThan(951 + 60);
  expect(await page.evaluate(() => scrollY)).toBe(scroll);
});
