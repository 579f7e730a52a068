import { expect } from "@playwright/test";
import type { Reply } from "../../server/contract/calls.ts";
import { test } from "./the-demo.ts";

test("the demo delivery is measured and its leaves are allotted", async ({ request }) => {
  await expect
    .poll(
      async () => {
        const deliveries = await request.get("/api/v1/deliveries");
        if (!deliveries.ok()) return `answered ${deliveries.status()}`;
        const [delivery] = (await deliveries.json()) as Reply<"listDeliveries">;
        if (!delivery) return "no delivery";
        const overview = await request.get(`/api/v1/deliveries/${delivery.id}`);
        const { progress } = (await overview.json()) as Reply<"overview">;
        if (progress.waiting > 0 || progress.solvedAt === null) return `${progress.waiting} waiting`;
        const match = await request.get(`/api/v1/deliveries/${delivery.id}/match`);
        const { plannedAt } = (await match.json()) as Reply<"match">;
        return plannedAt === null ? "measured" : "measured and planned";
      },
      { timeout: 290_000, intervals: [2000] },
    )
    .toBe("measured and planned");
});
