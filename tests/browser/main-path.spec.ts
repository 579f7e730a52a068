import { expect } from "@playwright/test";
import { open, test } from "./the-demo.ts";

const said = (page: import("@playwright/test").Page) => page.locator(".notice");

test("from the delivery to a record: count, mark, decide, match, issue", async ({ page, delivery, isMobile }) => {
  test.setTimeout(180_000);
  const leaf = isMobile ? "W01" : "W02";

  await test.step("the delivery shows that lines disagree though the totals agree", async () => {
    await open(page, "/");
    await page
      .getByRole("link", { name: /Brannoch Quay/ })
      .first()
      .click();
    await expect(page.getByRole("heading", { name: "Count by line" })).toBeVisible();
    const row = page.getByRole("row", { name: /^L4/ });
    await expect(row).toContainText("2");
    await expect(page.getByText("For the note:").first()).toBeVisible();
    const total = page.getByRole("row", { name: /^All lines/ });
    await expect(total.getByRole("cell").first()).toHaveText("20");
  });

  await test.step("a count is typed and taken back", async () => {
    const count = page.getByLabel(/^Counted of L4/);
    await count.fill("3");
    await count.press("Tab");
    await expect(said(page)).toContainText("L4: 3 counted");
    await page.getByRole("button", { name: "Undo" }).click();
    await expect(count).toHaveValue("2");
  });

  await test.step("one leaf is opened from the list", async () => {
    await page.getByRole("navigation", { name: "Screens" }).getByRole("link", { name: "Unwrap" }).click();
    await page.getByRole("link", { name: new RegExp(`^${leaf} `) }).click();
    await expect(page.getByRole("heading", { level: 1 })).toContainText(leaf);
    await expect(page).toHaveURL(new RegExp(`/d/${delivery}/unwrap/${leaf}`));
    await expect(page.getByRole("heading", { name: "Colours of face A" })).toBeVisible();
  });

  await test.step("a mark is set by a tap on the drawn leaf", async () => {
    const drawing = page.getByRole("img", { name: /^Face A, 926 by 2040 mm/ });
    await drawing.scrollIntoViewIfNeeded();
    const place = await drawing.boundingBox();
    if (!place) throw new Error("no drawing");
    await drawing.click({ position: { x: place.width * 0.5, y: place.height * 0.85 } });
    const form = page.getByRole("form", { name: "New mark" });
    await expect(form).toContainText("lower centre");
    await form.getByLabel("Kind").selectOption("scuff");
    await form.getByLabel("Width").fill("30");
    await form.getByLabel("Height").fill("4,5");
    await form.getByLabel("Seen from").fill("0,8");
    await form.getByRole("button", { name: "Record this mark" }).click();
    await expect(page.getByText(/Scuff or rub, lower centre, 30 × 5 mm, seen from 0.8 m/)).toBeVisible({
      timeout: 30_000,
    });
  });

  await test.step("the decision is taken back and taken anew", async () => {
    const takeBack = page.getByRole("button", { name: "Take the decision back" });
    if (await takeBack.isVisible()) await takeBack.click();
    const record = page.getByRole("button", { name: "Record the decision" });
    await expect(record).toBeDisabled();
    await page.getByRole("radio", { name: /^Hold/ }).check();
    await expect(record).toBeDisabled();
    await page.getByLabel("Reason").fill("scuff to be cleaned, then looked at again");
    await record.click();
    await expect(said(page)).toContainText(`${leaf}: held`);
    await page.getByRole("button", { name: "Undo" }).click();
    await expect(record).toBeVisible();
    await page.getByRole("radio", { name: /^Accept$|^Accept Not/ }).check();
    await record.click();
    await expect(page.locator(".decided")).toContainText("Accepted");
  });

  await test.step("on the board a leaf is held and turned, then all is planned again", async () => {
    await page.getByRole("navigation", { name: "Screens" }).getByRole("link", { name: "Match" }).click();
    const plan = page.getByRole("button", { name: /^Plan/ });
    const planned = page.waitForResponse((response) => response.url().endsWith("/match"));
    await plan.click();
    await planned;
    await expect(page.getByRole("heading", { name: "Planned again" })).toBeVisible();
    const figures = page.getByRole("table", { name: /^Colour difference ΔE00 of faces seen together/ });
    for (const way of ["This plan", "Picked by eye", "Dealt light to dark"])
      await expect(figures.getByRole("row", { name: new RegExp(`^${way} \\d+\\.\\d \\d+\\.\\d \\d+$`) })).toBeVisible();
    const place = page.getByRole("button", { name: /^Opening 1\.0\d: leaf W/ }).first();
    const before = (await place.getAttribute("aria-label")) ?? "";
    const [, openingId, code] = /^Opening ([\d.]+): leaf (\w+)/.exec(before) ?? [];
    await place.click();
    await expect(page).toHaveURL(new RegExp(`leaf=${code}`));
    await page.getByRole("button", { name: "Turn it" }).click();
    await expect(said(page)).toContainText(`${code} will be turned`);
    await plan.click();
    const after = page.getByRole("button", { name: new RegExp(`^Opening ${openingId}: leaf ${code}`) }).first();
    await expect(after).toContainText("held");
    await expect(page.getByText(`${code} held in ${openingId}`)).toBeVisible();
    await expect(after).toHaveAttribute("aria-label", /turned/.test(before) ? /^(?!.*turned)/ : /turned/);
    const plannedAgain = page.waitForResponse((response) => response.url().endsWith("/allotment/plan"));
    await plan.click();
    await plannedAgain;
    await expect(page.getByRole("heading", { name: "Planned again" })).toBeVisible();
    await expect(after, "a leaf held fast stays where it is").toContainText("held");
    await page.getByRole("button", { name: "Let it go" }).click();
    await expect(page.getByText(`${code} held in ${openingId}`)).toHaveCount(0);
    await expect(page.getByText(/visible side by side: (yes|no|cannot tell)/).first()).toBeVisible();
  });

  await test.step("a record of return is issued for one leaf", async () => {
    await page.getByRole("navigation", { name: "Screens" }).getByRole("link", { name: "Returns" }).click();
    const section = page.getByRole("region", { name: "To return" });
    const chosen = isMobile ? "W03" : "W07";
    const all = section.getByRole("checkbox");
    await expect(all.first()).toBeVisible();
    for (const box of await all.all()) await box.uncheck();
    const issue = section.getByRole("button", { name: /^Issue the record of return/ });
    await expect(issue).toBeDisabled();
    await section.getByRole("checkbox", { name: new RegExp(`^${chosen} `) }).check();
    await issue.click();
    await expect(said(page)).toContainText("Record of return issued", { timeout: 30_000 });
    const row = page.getByRole("listitem").filter({ hasText: `Return of ${chosen}` });
    await expect(row).toBeVisible();
    const asked = page.context().waitForEvent("response", (response) => response.url().endsWith("/pdf"));
    await row.getByRole("link", { name: /^PDF/ }).click();
    const pdf = await asked;
    expect(pdf.status()).toBe(200);
    expect(pdf.headers()["content-type"]).toContain("application/pdf");
    await expect(page, "the record opens in a tab of its own").toHaveURL(new RegExp(`/d/${delivery}/returns`));
    const json = await page.request.get((await row.getByRole("link", { name: /^JSON/ }).getAttribute("href")) ?? "");
    expect(await json.json()).toMatchObject({ kind: "return" });
  });

  await test.step("the history names who did it", async () => {
    await open(page, `/d/${delivery}/history`);
    await expect(page.getByText(/Jo Arden on (phone|laptop)/).first()).toBeVisible();
  });
});
