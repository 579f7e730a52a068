import type { Mark } from "../contract/leaf.ts";
import type { Site } from "../site.ts";

const machine = { name: "Leafledger", device: "measuring" };

/**
 * Reads the contrast of marks that were noted before their face was measured. Call it when measuring has settled; it changes
 * nothing when there is nothing to read. Gives the number of marks it filled in.
 */
export const measureMarks = async (site: Site, deliveryId: string): Promise<number> => {
  const store = site.store.open(deliveryId);
  const measured = site.measuring.measured(deliveryId);
  const read = new Map<string, number>();
  const open = (mark: Mark): boolean => !mark.withdrawn && mark.contrastDE00 === null;
  for (const mark of store.read().marks.filter(open)) {
    const contrast = await measured.markContrast({ leaf: mark.leaf, face: mark.face }, mark.box);
    if (contrast !== null) read.set(mark.id, contrast);
  }
  if (read.size === 0) return 0;
  await store.change(machine, `Measured the contrast of ${read.size} marks`, (delivery) => {
    for (const mark of delivery.marks.filter(open)) mark.contrastDE00 = read.get(mark.id) ?? null;
  });
  return read.size;
};
