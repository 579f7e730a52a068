import { type Browser, expect, type Page } from "@playwright/test";
import type { Reply } from "../../server/contract/calls.ts";
import { open, test } from "./the-demo.ts";

const asPage = { "x-leafledger": "1", "sec-fetch-site": "same-origin" };

/** A page of somebody else, in a browser of its own, that hears nothing of what others enter meanwhile. */
const pageOf = async (browser: Browser, baseURL: string, name: string): Promise<Page> => {
  const context = await browser.newContext({ baseURL, serviceWorkers: "block" });
  await context.request.post("/api/v1/session/laptop", { headers: asPage });
  await context.request.put("/api/v1/session/name", { headers: asPage, data: { name } });
  const page = await context.newPage();
  await page.route("**/events", (route) => route.abort());
  return page;
};

const decide = async (page: Page, outcome: string, reason: string) => {
  await page.locator(".outcomes").getByText(outcome, { exact: true }).click();
  await page.getByLabel("Reason").fill(reason);
  await page.getByRole("button", { name: "Record the decision" }).click();
};

test("of two who decide differently on one leaf the second sees both entries and puts the own instead; all of it is in the history", async ({
  page,
  browser,
  request,
  delivery,
  baseURL,
  isMobile,
}) => {
  const leaf = isMobile ? "A02" : "S02";
  const path = `/api/v1/deliveries/${delivery}/leaves/${leaf}`;
  const stood = ((await (await request.get(path)).json()) as Reply<"leaf">).leaf.decision;
  if (!stood) throw new Error(`${leaf} of the demo is decided no more`);
  const { by: _by, at: _at, ...before } = stood;
  await request.put(`${path}/decision`, { data: { decision: null } });
  const other = await pageOf(browser, baseURL ?? "", "Lee Marsh");
  await open(page, `/d/${delivery}/unwrap/${leaf}`);
  await open(other, `/d/${delivery}/unwrap/${leaf}`);

  await decide(page, "Hold", "dent at the lock");
  await expect(page.locator(".decided")).toContainText("dent at the lock");
  await decide(other, "Return", "split at the bottom rail");
  const dialog = other.getByRole("dialog", { name: `Two entries for the decision on ${leaf}` });
  await expect(dialog).toContainText("hold: dent at the lock");
  await expect(dialog).toContainText("Jo Arden");
  await expect(dialog).toContainText("return: split at the bottom rail");
  await dialog.getByRole("button", { name: "Decide later" }).click();

  await open(other, `/d/${delivery}`);
  await expect(other.locator("main")).toContainText(`Two entries for the decision on ${leaf}`);
  await other.getByRole("button", { name: "Put Lee Marsh's instead" }).click();
  await expect(other.locator("main")).not.toContainText("Two entries for");

  await open(other, `/d/${delivery}/unwrap/${leaf}`);
  await expect(other.locator(".decided")).toContainText("split at the bottom rail");
  await open(other, `/d/${delivery}/history`);
  const newest = other.locator(".history > li");
  await expect(newest.nth(0)).toContainText(`Settled the decision on ${leaf}: as Lee Marsh entered it`);
  await expect(newest.nth(1)).toContainText("return");
  await expect(newest.nth(2)).toContainText("Set aside");
  await expect(newest.nth(3)).toContainText("hold");
  await other.context().close();
  await request.put(`${path}/decision`, { data: { decision: before } });
});
