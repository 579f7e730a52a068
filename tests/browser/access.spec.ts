import { AxeBuilder } from "@axe-core/playwright";
import { expect } from "@playwright/test";
import { open, screensOf, test } from "./the-demo.ts";

for (const colorScheme of ["light", "dark"] as const)
  test(`every screen can be read and worked by all, ${colorScheme}`, async ({ page, delivery, isMobile }) => {
    test.setTimeout(180_000);
    await page.emulateMedia({ colorScheme });
    for (const path of screensOf(delivery))
      await test.step(path, async () => {
        await open(page, path);
        const { violations } = await new AxeBuilder({ page })
          .options({
            runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"],
            rules: { "color-contrast-enhanced": { enabled: true } },
          })
          .analyze();
        expect(violations.map(({ id, nodes }) => `${id}: ${nodes.map(({ html }) => html).join(" ")}`)).toEqual([]);
        const wider = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
        expect(wider, "the page is not wider than the screen").toBeLessThanOrEqual(0);
        if (isMobile) {
          const small = await page
            .locator(
              "main a.button, main button, main summary, main select, nav a, .choice label, input:not([type=file])",
            )
            .evaluateAll((things) =>
              things
                .filter(
                  (thing) => thing.checkVisibility() && !thing.closest(".choice label")?.contains(thing.parentElement),
                )
                .filter((thing) => !(thing instanceof HTMLInputElement && /radio|checkbox/.test(thing.type)))
                .filter((thing) => thing.getBoundingClientRect().height < 55.5)
                .map((thing) => thing.outerHTML.slice(0, 90)),
            );
          expect(small, "nothing to tap is lower than 56 px").toEqual([]);
        }
      });
  });

test("the keyboard reaches a corner of the leaf and moves it", async ({ page, delivery }) => {
  await open(page, `/d/${delivery}/unwrap/W05`);
  const edit = page.getByRole("button", { name: /corners$/ }).first();
  await edit.focus();
  await page.keyboard.press("Enter");
  const corner = page.getByRole("slider", { name: "Corner top left" });
  await corner.focus();
  const before = (await corner.getAttribute("aria-valuetext")) ?? "";
  await page.keyboard.press("ArrowRight");
  await page.keyboard.press("Shift+ArrowDown");
  const after = (await corner.getAttribute("aria-valuetext")) ?? "";
  const [x0 = 0, y0 = 0] = before.match(/\d+/g)?.map(Number) ?? [];
  const [x1 = 0, y1 = 0] = after.match(/\d+/g)?.map(Number) ?? [];
  expect(x1).toBeGreaterThan(x0);
  expect(y1 - y0).toBeGreaterThan(3 * (x1 - x0));
  await page.getByRole("button", { name: "Leave them as they were" }).click();
  await expect(edit).toBeVisible();
});

test("the place where colours are judged is the same neutral grey by day and by night", async ({ page, delivery }) => {
  for (const colorScheme of ["light", "dark"] as const) {
    await page.emulateMedia({ colorScheme });
    await open(page, `/d/${delivery}/match`);
    await expect(page.locator(".strip-scroll").first()).toHaveCSS("background-color", "rgb(119, 119, 119)");
  }
});
