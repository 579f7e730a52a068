import * as z from "zod";
import { code, instant, shortText } from "./ids.ts";

export const chartWhite = z.enum(["D50", "D65"]);

/** CIELAB of the 24 patches, row by row from the brown one, 2 degree observer. */
export const chartLab = z.array(z.tuple([z.number(), z.number(), z.number()])).length(24);

const title = shortText.refine((text) => text.trim() !== "", "give it a name");

/** A chart whose values came in as a text: kept as given, with the white they are stated in. */
export const ownChart = z.strictObject({
  id: code,
  name: title,
  edition: shortText,
  white: chartWhite,
  lab: chartLab,
  by: shortText,
  at: instant,
});

/** The charts of a delivery beside those built in, and the one that stands in its photos. */
export const deliveryCharts = z.strictObject({ own: z.array(ownChart).max(50), chosen: code });

/** One edition as shown: built in when nobody entered it. */
const chartEdition = z.strictObject({
  id: code,
  title: z.string(),
  enteredBy: shortText.nullable(),
  white: chartWhite,
  patches: z
    .array(z.strictObject({ lab: z.tuple([z.number(), z.number(), z.number()]), swatch: z.string() }))
    .length(24),
});

/** Editions to choose from, and how many photos show a chart. */
export const chartsView = z.strictObject({
  chosen: code,
  editions: z.array(chartEdition),
  photosWithChart: z.number(),
});
