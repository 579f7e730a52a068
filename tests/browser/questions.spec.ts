import { expect, type Page } from "@playwright/test";
import { open, test } from "./the-demo.ts";

const question = (page: Page, title: string) =>
  page
    .getByRole("region", { name: "Ask about the plan" })
    .getByRole("group")
    .filter({ has: page.getByText(title, { exact: true }) });

const ask = async (page: Page, title: string, button: string, leaf?: string) => {
  const asked = question(page, title);
  await asked.getByText(title, { exact: true }).click();
  if (leaf) await asked.getByLabel("Leaf").selectOption(leaf);
  await asked.getByRole("button", { name: button, exact: true }).click();
  return asked.getByRole("status");
};

test("what would lift the worst: the pair that forces it, and each single change or that there is none", async ({
  page,
  delivery,
}) => {
  await open(page, `/d/${delivery}/match`);
  const answer = await ask(page, "What would lift the worst?", "Find out");
  await expect(answer).toContainText(/The worst, \d\.\d, is \w+ face [AB] with \w+ face [AB] in /, { timeout: 30_000 });
  await expect(answer).toContainText(/Any one of these would lift it:.*: worst \d\.\d|No single change lifts it\./);
});

test("how sure the plan is: space by space, leaf by leaf, and the photo to take", async ({ page, delivery }) => {
  await open(page, `/d/${delivery}/match`);
  const answer = await ask(page, "How sure is this plan?", "Try it within the uncertainty");
  await expect(answer).toContainText(
    /Corridor: worst \d\.\d, between \d\.\d and \d\.\d: (surely within|surely over|cannot be told to be within) 2\.0\./,
    { timeout: 30_000 },
  );
  await expect(answer).toContainText(/(Send back|Measure again before deciding|Keep): \w+/);
  await expect(answer).toContainText(/The photo to take next: |No single photo would settle more\./);
  await expect(answer).toContainText(/the plan stays as it is|Places that change within the uncertainty: \d+/);
});

test("the fewest leaves to send back, and what holding a leaf somewhere would change", async ({ page, delivery }) => {
  await open(page, `/d/${delivery}/match`);
  const returns = await ask(page, "Which leaves to send back, as few as can be?", "Find the fewest");
  await expect(returns).toContainText(/to be replaced for every space|No leaf needs to go back/, { timeout: 30_000 });
  const whatIf = await ask(page, "What changes if a leaf is held somewhere?", "Try it", "W02");
  await expect(whatIf).toContainText(/Worst pair now \d\.\d, with \w+ held in |There is no plan/, { timeout: 30_000 });
});

test("an answer that cannot be had is told in plain words", async ({ page, delivery }) => {
  await page.route("**/questions/lift", (route) =>
    route.fulfill({
      status: 409,
      contentType: "application/problem+json",
      json: { type: "about:blank", title: "Refused", status: 409, detail: "There is no plan yet: plan first." },
    }),
  );
  await open(page, `/d/${delivery}/match`);
  const answer = await ask(page, "What would lift the worst?", "Find out");
  await expect(answer).toContainText("There is no plan yet: plan first.");
});
