import { expect, test } from "@playwright/test";
import type { Reply } from "../../server/contract/calls.ts";

test("the demo delivery is measured", async ({ request }) => {
  await expect
    .poll(
      async () => {
        const [delivery] = (await (await request.get("/api/v1/deliveries")).json()) as Reply<"listDeliveries">;
        if (!delivery) return "no delivery";
        const response = await request.get(`/api/v1/deliveries/${delivery.id}`);
        const { progress } = (await response.json()) as Reply<"overview">;
        return progress.waiting === 0 && progress.solvedAt !== null ? "measured" : `${progress.waiting} waiting`;
      },
      { timeout: 290_000, intervals: [2000] },
    )
    .toBe("measured");
});
