import { AxeBuilder } from "@axe-core/playwright";
import { expect } from "@playwright/test";
import type { Reply } from "../../server/contract/calls.ts";
import { test } from "./the-demo.ts";

test("a link shows the supplier its one record in a browser of his own, asks for nothing else, and says when it is shut", async ({
  browser,
  request,
  delivery,
  baseURL,
}) => {
  const at = `/api/v1/deliveries/${delivery}`;
  const { records, toReturn } = (await (await request.get(`${at}/records`)).json()) as Reply<"returns">;
  const wanted = { kind: "return", leaves: toReturn.slice(0, 1).map(({ code }) => code), revises: null };
  const number =
    records[0]?.number ??
    ((await (await request.post(`${at}/records`, { data: wanted })).json()) as Reply<"issueRecord">).number;
  const made = await request.post(`${at}/records/${number}/links`, { data: { days: 7 } });
  const link = (await made.json()) as Reply<"linkRecord">;

  const context = await browser.newContext({ baseURL: baseURL ?? "", serviceWorkers: "block" });
  const page = await context.newPage();
  const asked: string[] = [];
  page.on("request", (one) => {
    const { pathname } = new URL(one.url());
    if (pathname.startsWith("/api/")) asked.push(`${one.method()} ${pathname.replace("/api/v1", "")}`);
  });
  await page.goto(`/r${new URL(link.address).hash}`);
  await expect(page.getByRole("heading", { level: 1 })).toContainText(`record No. ${number}`);
  await expect(page.locator(".files > li").first()).toContainText("record.pdf");
  expect(asked).toEqual(["GET /state", "POST /session/guest", `GET /deliveries/${delivery}/records/${number}`]);
  await expect(page.getByText(/^This link shows this one record, until /)).toBeVisible();
  const href = (await page.getByRole("link", { name: "Open the PDF" }).getAttribute("href")) ?? "";
  expect((await context.request.get(href)).headers()["content-type"]).toContain("application/pdf");
  expect((await context.request.get(at)).status(), "nothing but the record").toBe(403);
  const { violations } = await new AxeBuilder({ page }).analyze();
  expect(violations.map(({ id }) => id)).toEqual([]);

  await request.post(`${at}/links/${link.id}/end`);
  await page.reload();
  await expect(page.getByText("This link does not open any more.")).toBeVisible();
  await context.close();
});
