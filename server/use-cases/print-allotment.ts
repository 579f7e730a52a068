import type { Delivery } from "../contract/delivery.ts";
import { Refusal } from "../problem.ts";
import type { AllottedLeaf } from "../records/allotment-sheet.ts";
import { faceOfSide, hangingSide, type Placed } from "../records/hanging-side.ts";
import { instantWords } from "../records/instant-words.ts";
import type { Site } from "../site.ts";

const allottedLeaf = ({ openings, spaces }: Delivery, placed: Placed): AllottedLeaf[] => {
  const opening = openings.find(({ id }) => id === placed.opening);
  if (!opening) return [];
  const side = (number: 0 | 1): AllottedLeaf["sides"][number] => ({
    space: spaces.find(({ id }) => id === opening.sides[number])?.name ?? null,
    face: faceOfSide(number, placed.turned),
  });
  return [
    {
      opening: opening.id,
      place: opening.leaves === 2 ? (placed.place === 0 ? "left" : "right") : "",
      leaf: placed.leaf,
      sides: [side(0), side(1)],
      hinge: hangingSide(opening, placed.place, 0),
      opensTowards: opening.hinge ? side(opening.hinge.opensTowards).space : null,
    },
  ];
};

/** The present plan as a PDF: list by opening and strips for the top edges. Refused while there is no plan. */
export const printAllotment = (site: Site, deliveryId: string): Promise<Buffer> => {
  const delivery = site.store.open(deliveryId).read();
  const { allotment, job, openings } = delivery;
  if (allotment.plan.length === 0 || allotment.plannedAt === null)
    throw new Refusal("There is no plan to print yet. Plan the allotment first.");
  const order = openings.map(({ id }) => id);
  const leaves = allotment.plan
    .toSorted((a, b) => order.indexOf(a.opening) - order.indexOf(b.opening) || a.place - b.place)
    .flatMap((placed) => allottedLeaf(delivery, placed));
  const plannedAt = instantWords(allotment.plannedAt, job.timeZone);
  return site.print({ sheet: "allotment", plan: { job: job.name, plannedAt, leaves }, date: site.now() });
};
