import * as z from "zod";
import { code, instant, shortText } from "./ids.ts";

export const chartWhite = z.enum(["D50", "D65"]);

const lab = z.tuple([z.number(), z.number(), z.number()]);

export const chartName = shortText.refine((text) => text.trim() !== "", "give the chart a name");

/** A chart whose values came in as a text: CIELAB of its 24 patches as given, row by row from the brown one, with their white. */
const ownChart = z.strictObject({
  id: code,
  name: chartName,
  edition: shortText,
  white: chartWhite,
  lab: z.array(lab).length(24),
  by: shortText,
  at: instant,
});

/** The charts of a delivery beside those built in, and the one that stands in its photos. */
export const deliveryCharts = z.strictObject({ own: z.array(ownChart).max(50), chosen: code });

/** One edition as shown; nobody entered one that is built in. */
const chartEdition = z.strictObject({
  id: code,
  title: z.string(),
  enteredBy: shortText.nullable(),
  white: chartWhite,
  patches: z.array(z.strictObject({ lab, swatch: z.string() })).length(24),
});

/** The editions to choose from. */
export const chartsView = z.strictObject({
  chosen: code,
  editions: z.array(chartEdition),
  /** Photos measured by a chart, and those sent back for theirs. */
  photos: z.strictObject({ measured: z.number(), sentBack: z.number() }),
  /** The last line of the journal that the view was made from. */
  seq: z.number(),
});
