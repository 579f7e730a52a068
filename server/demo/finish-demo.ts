import type { Site } from "../site.ts";
import { measureMarks } from "../use-cases/measure-marks.ts";
import { planAllotment } from "../use-cases/plan-allotment.ts";
import { demoId, office } from "./brannoch-quay.ts";

/** Once the demo's photos are measured: reads the contrast of its marks and plans its allotment, each only if not done yet. */
export const finishDemo = async (site: Site): Promise<void> => {
  if (!site.store.list().includes(demoId)) return;
  await site.measuring.settled(demoId);
  await measureMarks(site, demoId);
  const { plannedAt } = site.store.open(demoId).read().allotment;
  if (plannedAt === null) await planAllotment(site, demoId, { by: office });
};
