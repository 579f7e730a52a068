import { Refusal } from "../problem.ts";
import type { Site } from "../site.ts";

/** A new card has five characters of an id, letters and digits that are not mistaken for each other. */
const newCardId = (site: Site): string => site.newId().slice(-5);

/**
 * A reference card as a PDF. Without an id it is a new sheet with an id of its own; with the id of a card it is that card
 * again, which is wrong for another printer or paper: its patches would not be the same.
 */
export const printCard = (site: Site, id: string = newCardId(site)): Promise<Buffer> => {
  if (!/^[A-Z0-9]{1,8}$/.test(id)) throw new Refusal("A card's id is 1 to 8 capital letters and digits.", 400);
  return site.print({ sheet: "card", id, date: site.now() });
};
