import { type Browser, expect, type Page } from "@playwright/test";
import { open, test } from "./the-demo.ts";

const sameOrigin = { "x-leafledger": "1", "sec-fetch-site": "same-origin" };

/**
 * A page of another device. On this computer's own browser a session begins without a code, which a phone's does not: here it is
 * refused as the laptop refuses a phone.
 */
const otherDevice = async (browser: Browser, baseURL: string): Promise<Page> => {
  const context = await browser.newContext({ baseURL, serviceWorkers: "block" });
  await context.route("**/api/v1/session/laptop", (route) =>
    route.fulfill({ status: 401, json: { status: 401, title: "No", detail: "This device needs a code." } }),
  );
  return context.newPage();
};

/** Makes an offer on the foreman's page; resolves to the code that stands there. */
const makeOffer = async (page: Page, device: string): Promise<string> => {
  await page.getByLabel("What the device is called").fill(device);
  await page.getByRole("button", { name: "Make a code" }).click();
  await expect(page.getByAltText(/QR code/)).toBeVisible();
  return (await page.locator(".offer .pairing-code").textContent()) ?? "";
};

test("a phone is let in by the code, works as a hand, and is out once it is shut out", async ({
  page,
  delivery,
  browser,
  baseURL,
  isMobile,
}) => {
  const device = `paired by code ${isMobile ? "one" : "two"}`;
  await open(page, "/people");
  const code = await makeOffer(page, device);
  expect(code).toMatch(/^[0-9A-Z]{4} [0-9A-Z]{4}$/);

  const phone = await otherDevice(browser, baseURL ?? "");
  await phone.goto(`/d/${delivery}/unwrap/W05`);
  await expect(phone.getByRole("heading", { level: 1 })).toHaveText("Let this device in");
  await phone.locator("main").getByLabel("Your name").fill("Lee Marsh");
  await phone.getByLabel(/^Code/).fill("0000 0000");
  await phone.getByRole("button", { name: "Let me in" }).click();
  await expect(phone.getByRole("alert")).toContainText("This code does not open");
  await phone.getByLabel(/^Code/).fill(code.toLowerCase());
  await phone.getByRole("button", { name: "Let me in" }).click();
  await expect(phone.getByRole("heading", { level: 1 })).not.toHaveText("Let this device in");
  await expect(phone.locator(".this-device summary")).toContainText("Lee Marsh");

  await open(phone, `/d/${delivery}/unwrap/W05`);
  await expect(phone.getByRole("button", { name: "Record the decision" })).toHaveCount(0);
  await phone.locator(".this-device summary").click();
  await expect(phone.locator(".device-list")).toContainText(`Site hand on ${device}`);
  await expect(phone.getByRole("link", { name: "People and devices" })).toHaveCount(0);

  await open(page, "/people");
  await page.getByRole("button", { name: `Shut out ${device}` }).click();
  await expect(page.getByText(`${device} is shut out.`)).toBeVisible();
  await phone.reload();
  await expect(phone.getByRole("heading", { level: 1 })).toHaveText("Let this device in");
  await phone.context().close();
});

test("the picture's address lets a device in once, after its name", async ({ request, browser, baseURL }) => {
  const made = await request.post("/api/v1/pairing/offers", {
    headers: sameOrigin,
    data: { role: "foreman", delivery: null, device: "paired by picture" },
  });
  const { address } = (await made.json()) as { address: string };
  const phone = await otherDevice(browser, baseURL ?? "");
  await phone.goto(address);
  await expect(phone.getByLabel(/^Code/)).toHaveCount(0);
  await phone.locator("main").getByLabel("Your name").fill("Kit Rowan");
  await phone.getByRole("button", { name: "Let me in" }).click();
  await phone.locator(".this-device summary").click();
  await expect(phone.getByRole("link", { name: "People and devices" })).toBeVisible();
  await phone.getByRole("button", { name: "Sign out here" }).click();
  await expect(phone.getByRole("heading", { level: 1 })).toHaveText("Let this device in");

  await phone.goto("/");
  await phone.goto(address);
  await phone.locator("main").getByLabel("Your name").fill("Kit Rowan");
  await phone.getByRole("button", { name: "Let me in" }).click();
  await expect(phone.getByRole("alert")).toContainText("This code does not open");
  await phone.context().close();
});
