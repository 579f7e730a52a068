import { AxeBuilder } from "@axe-core/playwright";
import { type APIRequestContext, expect, type Page } from "@playwright/test";
import type { Reply } from "../../server/contract/calls.ts";
import { test as base, open } from "./the-demo.ts";

type MatchView = Reply<"match">;

const allotment = (delivery: string) => `/api/v1/deliveries/${delivery}/allotment`;

/** No wishes and the usual way of seeing, before each test and after it; notices stay until they are closed. */
const test = base.extend<{ asItCame: undefined }>({
  asItCame: [
    async ({ page, request, delivery }, use) => {
      await page.addInitScript(() => {
        const wait = window.setTimeout.bind(window);
        const withoutNotices = (run: TimerHandler, ms?: number) => (ms === 10_000 ? 0 : wait(run, ms));
        window.setTimeout = withoutNotices as typeof setTimeout;
      });
      await clear(request, delivery);
      await use(undefined);
      await clear(request, delivery);
    },
    { auto: true },
  ],
});

const viewOf = async (request: APIRequestContext, delivery: string): Promise<MatchView> =>
  (await request.get(`/api/v1/deliveries/${delivery}/match`)).json();

const clear = async (request: APIRequestContext, delivery: string) => {
  const { spaces } = await viewOf(request, delivery);
  const looks = spaces.flatMap(({ space }) => (space.look ? [{ id: space.id, look: null }] : []));
  const sight = { meeting: 1.5, beside: 1, across: 0.7, apart: 0.4 };
  const seen = await request.put(`${allotment(delivery)}/sight`, { data: { sight, spaces: looks } });
  const wished = await request.put(`${allotment(delivery)}/wishes`, { data: { locks: [], bans: [] } });
  expect([seen.status(), wished.status()]).toEqual([200, 200]);
};

const corridor = (page: Page) => page.getByRole("region", { name: "Corridor" });
const wishes = (page: Page) => page.getByRole("region", { name: "Wishes" });
const said = (page: Page) => page.locator(".notice");
const undo = (page: Page) => page.getByRole("button", { name: "Undo" }).click();

const inOpening = (page: Page, opening: string) =>
  corridor(page).getByRole("button", { name: new RegExp(`^Opening ${opening}: leaf`) });

const leafIn = async (page: Page, opening: string): Promise<string> => {
  const label = await inOpening(page, opening).getAttribute("aria-label");
  return /leaf (\w+)/.exec(label ?? "")?.[1] ?? "";
};

test("a chosen leaf is turned, held and kept out with one tap each, and each is taken back", async ({
  page,
  delivery,
}) => {
  await open(page, `/d/${delivery}/match`);
  const leaf = await leafIn(page, "1.02");
  await inOpening(page, "1.02").click();
  const actions = page.getByRole("region", { name: `Leaf ${leaf} in opening 1.02` });
  const none = wishes(page).getByText("None. Tap a leaf");

  for (const [tap, says] of [
    ["Turn it", `${leaf} held in 1.02`],
    ["Hold it here", `${leaf} held in 1.02`],
    ["Keep it out of 1.02", `${leaf} kept out of 1.02`],
    ["Keep it out of Corridor", `${leaf} kept out of Corridor`],
  ] as const)
    await test.step(tap, async () => {
      const button = actions.getByRole("button", { name: tap });
      expect((await button.boundingBox())?.height, "large enough for gloves").toBeGreaterThanOrEqual(44);
      await button.click();
      await expect(wishes(page)).toContainText(says);
      await undo(page);
      await expect(none).toBeVisible();
    });

  await test.step("a reason is told, and the leaf let in again from the list", async () => {
    await actions.getByLabel("Why it is kept out").fill("dent at the lock");
    await actions.getByRole("button", { name: "Keep it out of 1.02" }).click();
    await expect(wishes(page)).toContainText(`${leaf} kept out of 1.02: dent at the lock`);
    await wishes(page).getByRole("button", { name: "Let it in" }).click();
    await expect(none).toBeVisible();
  });
});

test("the plan before stands beside this one, over a reload too, and comes back", async ({ page, delivery }) => {
  await open(page, `/d/${delivery}/match`);
  const leaf = await leafIn(page, "1.03");
  const wasTurned = /turned/.test((await inOpening(page, "1.03").getAttribute("aria-label")) ?? "");
  const turned = (yes: boolean) => (yes ? /turned/ : /^(?!.*turned)/);
  const before = page.getByRole("region", { name: "Planned again: before and now" });
  await inOpening(page, "1.03").click();
  await page.getByRole("button", { name: "Turn it" }).click();
  await expect(wishes(page)).toContainText(`${leaf} held in 1.03`);

  const planned = page.waitForResponse((response) => response.url().endsWith("/allotment/plan"));
  await page.getByRole("button", { name: /^Plan/ }).click();
  expect((await planned).status()).toBe(200);
  await expect(inOpening(page, "1.03")).toHaveAttribute("aria-label", new RegExp(`leaf ${leaf}`));
  await expect(inOpening(page, "1.03")).toHaveAttribute("aria-label", turned(!wasTurned));
  await expect(before.getByRole("list", { name: "Leaves that moved" })).toContainText(`${leaf} stays in 1.03, turned`);

  await test.step("after a reload", async () => {
    await page.reload();
    for (const plan of ["Before", "Now"])
      await expect(before.getByRole("row", { name: new RegExp(`^${plan} \\d+\\.\\d \\d+\\.\\d \\d+$`) })).toBeVisible();
    await expect(before).toContainText(`${leaf} stays in 1.03, turned`);
  });

  await test.step("what is held against it is told, then let go, and the plan before comes back", async () => {
    const back = before.getByRole("button", { name: "Back to the plan before" });
    await back.click();
    await expect(said(page)).toContainText(leaf);
    await expect(inOpening(page, "1.03")).toHaveAttribute("aria-label", turned(!wasTurned));
    await wishes(page)
      .getByRole("button", { name: `Let ${leaf} go` })
      .click();
    await expect(wishes(page)).toContainText("None. Tap a leaf");
    await back.click();
    await expect(said(page)).toContainText("The plan before stands again");
    await expect(inOpening(page, "1.03")).toHaveAttribute("aria-label", turned(wasTurned));
  });

  await test.step("and the newer one again", async () => {
    await undo(page);
    await expect(inOpening(page, "1.03")).toHaveAttribute("aria-label", turned(!wasTurned));
    await before.getByRole("button", { name: "Back to the plan before" }).click();
    await expect(inOpening(page, "1.03")).toHaveAttribute("aria-label", turned(wasTurned));
  });
});

test("planning is told as it goes, hinders nothing, and ends with the best so far", async ({
  page,
  request,
  delivery,
}) => {
  const view = await viewOf(request, delivery);
  let planning: MatchView["planning"] = null;
  let end = () => {};
  const ended = new Promise<void>((resolve) => {
    end = resolve;
  });
  await page.route("**/events", (route) =>
    route.fulfill({
      contentType: "text/event-stream",
      body: `retry: 300\n\nevent: planning\ndata: ${JSON.stringify({ kind: "planning", planning })}\n\n`,
    }),
  );
  await page.route("**/allotment/plan", async (route) => {
    await ended;
    await route.fulfill({ json: view });
  });
  await page.route("**/allotment/plan/stop", async (route) => {
    planning = null;
    end();
    await route.fulfill({ json: { stopped: true } });
  });
  await open(page, `/d/${delivery}/match`);
  const plan = page.getByRole("button", { name: /^Plan/ });
  const figures = page.getByRole("region", { name: "The plan" });
  const status = figures.getByRole("status");
  await plan.click();
  await expect(status).toHaveText("Planning …");
  planning = { worst: 3.12, bound: 2.9, seconds: 4 };
  await expect(status).toHaveText("Planning. Worst so far 3.1, cannot be below 2.9.");
  await expect(plan).toBeDisabled();
  planning = { worst: 2.9, bound: 2.9, seconds: 5 };
  await expect(status).toContainText("Worst so far 2.9, it cannot be smaller");

  await inOpening(page, "1.02").click();
  await expect(page.getByRole("button", { name: "Hold it here" })).toBeVisible();

  await figures.getByRole("button", { name: "Keep the best so far" }).click();
  await expect(plan).toBeEnabled();
  await expect(status).toBeEmpty();
});

test("how it is seen: walls in their order, weights in their range; saved, and taken back", async ({
  page,
  delivery,
}) => {
  await open(page, `/d/${delivery}/match`);
  const panel = page.getByRole("region", { name: "How it is seen", exact: true });
  const save = panel.getByRole("button", { name: "Save how it is seen" });
  const weight = panel.getByLabel("Side by side on a wall");
  const shown = () =>
    corridor(page)
      .getByRole("button", { name: /^Opening/ })
      .evaluateAll((places) =>
        places.map((place) => /^Opening ([\d.]+)/.exec(place.getAttribute("aria-label") ?? "")?.[1]),
      );
  await panel.getByText("What counts how much").click();
  await panel.getByText("Corridor: as usual").click();
  const look = panel.getByRole("region", { name: "How Corridor is seen" });

  await weight.fill("11");
  await expect(save).toBeDisabled();
  await weight.fill("1,2");
  await look.getByRole("button", { name: "All stand along one wall" }).click();
  const { violations } = await new AxeBuilder({ page }).include(".how-seen").analyze();
  expect(violations.map(({ id, nodes }) => `${id}: ${nodes.map(({ html }) => html).join(" ")}`)).toEqual([]);
  await look.getByRole("button", { name: "1.02 earlier on the wall" }).click();
  await look.getByLabel("Opening 1.06").selectOption({ label: "on a new wall" });
  await look.getByRole("radio", { name: "ever lighter" }).check();
  await look.getByRole("radio", { name: "is not wanted" }).check();
  await save.click();
  await expect(said(page)).toContainText("How it is seen is saved");
  await expect.poll(shown).toEqual(["1.02", "1.01", "1.03", "1.04", "1.05", "1.06"]);
  await expect(corridor(page).locator(".strip")).toHaveCount(2);

  await test.step("after a reload", async () => {
    await page.reload();
    await expect.poll(shown).toEqual(["1.02", "1.01", "1.03", "1.04", "1.05", "1.06"]);
    await panel.getByText("What counts how much").click();
    await expect(weight).toHaveValue("1.2");
    await expect(panel.getByText("Corridor: 2 walls, one way lighter, no light beside dark")).toBeVisible();
  });

  await test.step("a change is taken back", async () => {
    await weight.fill("3");
    await save.click();
    await expect(said(page)).toContainText("How it is seen is saved");
    await expect(weight).toHaveValue("3");
    await undo(page);
    await expect(weight).toHaveValue("1.2");
  });
});
