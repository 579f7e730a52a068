import { describe, expect, test } from "vitest";
import type { Delivery } from "../../../server/contract/delivery.ts";
import { printed } from "../../../server/records/printing.ts";
import type { Site } from "../../../server/site.ts";
import { printAllotment } from "../../../server/use-cases/print-allotment.ts";
import { printCard } from "../../../server/use-cases/print-card.ts";
import { printLabels } from "../../../server/use-cases/print-labels.ts";
import { quayDelivery } from "../records/quay-delivery.ts";
import { readPdf } from "../records/read-pdf.ts";

/** A site that can show one delivery and tell the time; printing asks for no more. */
const siteWith = (delivery: Delivery): Site =>
  ({
    store: { open: () => ({ read: () => delivery }) },
    now: () => "2026-03-04T10:00:00+00:00",
    print: printed,
    newId: () => "01J0000000000000000007K3QD",
  }) as unknown as Site;

const textOf = async (pdf: Promise<Buffer>): Promise<string> => (await readPdf(await pdf)).pages.join(" ");

describe("the allotment sheet", () => {
  test("follows the plan: W03 is turned, so face A looks into the second space", async () => {
    const text = await textOf(printAllotment(siteWith(quayDelivery()), "quay"));
    expect(text).toContain("1.02 W03 Consulting 2 Corridor left, seen from Corridor, opens towards Consulting 2");
    expect(text.indexOf("1.02 · W03")).toBeLessThan(text.indexOf("1.10 left · P1"));
  });
  test("is refused while there is no plan", () => {
    const delivery = quayDelivery();
    delivery.allotment.plan = [];
    expect(() => printAllotment(siteWith(delivery), "quay")).toThrow(/Plan the allotment first/);
  });
});

describe("labels", () => {
  test("for every leaf of the order, with the opening of the plan", async () => {
    const delivery = quayDelivery();
    const text = await textOf(printLabels(siteWith(delivery), "quay"));
    for (const { code } of delivery.leaves) expect(text).toContain(code);
    expect(text).toContain("W03 opening 1.02 walnut flush 926");
  });
  test("none for a leaf that hangs there already, and refused when there is no other", () => {
    const delivery = quayDelivery();
    for (const leaf of delivery.leaves) leaf.line = null;
    expect(() => printLabels(siteWith(delivery), "quay")).toThrow(/no leaf to label/);
  });
});

describe("the reference card", () => {
  test("has an id of its own, or the one asked for", async () => {
    expect(await textOf(printCard(siteWith(quayDelivery())))).toContain("7K3QD");
    expect(await textOf(printCard(siteWith(quayDelivery()), "AB12"))).toContain("AB12");
  });
  test.each(["", "ab12", "AB/12", "TOOLONGID"])("the id %j is refused", (id) => {
    expect(() => printCard(siteWith(quayDelivery()), id)).toThrow(/1 to 8 capital letters/);
  });
});
