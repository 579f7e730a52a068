import { test as base, expect, type Page } from "@playwright/test";
import type { Reply } from "../../server/contract/calls.ts";

/** The demo delivery's address, requests and a page of a foreman who gave a name already. */
export const test = base.extend<{ delivery: string; by: { name: string; device: string } }>({
  request: async ({ playwright, baseURL, by }, use) => {
    const asPage = { "x-leafledger": "1", "sec-fetch-site": "same-origin" };
    const request = await playwright.request.newContext({ baseURL: baseURL ?? "", extraHTTPHeaders: asPage });
    await request.post("/api/v1/session/laptop");
    await request.put("/api/v1/session/name", { data: { name: by.name } });
    await use(request);
    await request.dispose();
  },
  by: async ({ isMobile }, use) => {
    await use({ name: "Jo Arden", device: isMobile ? "phone" : "laptop" });
  },
  delivery: async ({ request }, use) => {
    const [delivery] = (await (await request.get("/api/v1/deliveries")).json()) as Reply<"listDeliveries">;
    if (!delivery) throw new Error("the demo holds no delivery");
    await use(delivery.id);
  },
  page: async ({ page, by }, use) => {
    const faults: string[] = [];
    page.on("pageerror", ({ message }) => faults.push(message));
    page.on("console", (message) => {
      if (message.type() === "error" && /Content Security Policy|Refused to/.test(message.text()))
        faults.push(message.text());
    });
    await page.addInitScript((who) => {
      if (location.protocol !== "about:") localStorage.setItem("leafledger.who", JSON.stringify(who));
    }, by);
    await use(page);
    expect(faults).toEqual([]);
  },
});

/** Opens a screen and waits until its data is there. */
export const open = async (page: Page, path: string): Promise<void> => {
  await page.goto(path);
  await expect(page.locator("h1")).toBeVisible();
  await expect(page.locator("[aria-busy=true]")).toHaveCount(0);
};

/** Every screen of the demo. */
export const screensOf = (delivery: string): readonly string[] => [
  "/",
  "/new",
  "/guide",
  "/people",
  "/pair",
  `/d/${delivery}`,
  `/d/${delivery}/unwrap`,
  `/d/${delivery}/unwrap/W05`,
  `/d/${delivery}/unwrap/S01?face=B`,
  `/d/${delivery}/unwrap/A01?face=B`,
  `/d/${delivery}/joints/P4-1981X838?leaf=S01&face=A`,
  `/d/${delivery}/match`,
  `/d/${delivery}/repeat`,
  `/d/${delivery}/returns`,
  `/d/${delivery}/history`,
  `/d/${delivery}/chart`,
  `/d/${delivery}/terms`,
];
