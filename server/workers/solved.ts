import type { PhotoSample } from "../../analysis/sample/photo-sample.ts";
import type { ChartEdition } from "../../analysis/solve/chart-edition.ts";
import type { TyingPhoto } from "../../analysis/solve/least-ties.ts";
import type { Gate } from "../contract/photo.ts";

/** All photos of a delivery to solve together. Tolerance and confidence are the agreed ones, for the verdicts. */
export interface SolveRequest {
  readonly samples: readonly PhotoSample[];
  /** The edition of the 24-patch chart in the photos, and the others known, one of which it might be after all. */
  readonly chart: ChartEdition;
  readonly otherCharts: readonly ChartEdition[];
  /** Reflectance of the grey card, 0..1. */
  readonly greyReflectance: number;
  readonly toleranceDE00: number;
  readonly confidence: number;
}

export interface SolvedPart {
  readonly part: string;
  readonly kind: string;
  readonly lab: readonly [number, number, number];
  readonly u95: number | null;
}

export interface SolvedFace {
  readonly leaf: string;
  readonly face: "A" | "B";
  readonly parts: readonly SolvedPart[];
  readonly photos: readonly string[];
}

/** Two faces compared: every part they share, and the one that decides. Only the upper half of the table is listed. */
export interface SolvedDifference {
  readonly a: string;
  readonly b: string;
  readonly parts: readonly { readonly part: string; readonly deltaE: number; readonly u95: number }[];
  readonly worst: { readonly part: string; readonly deltaE: number; readonly u95: number } | null;
  readonly verdict: "match" | "differs" | "cannot-tell";
  readonly advice: string | null;
}

/** What all photos measured together. `untied`: groups of photos that hang together but that nothing ties to the rest. */
export interface Solved {
  readonly faces: readonly SolvedFace[];
  readonly differences: readonly SolvedDifference[];
  readonly untied: readonly (readonly string[])[];
  /** The least photos that would tie everything together; none where it is. */
  readonly ties: readonly TyingPhoto[];
  /** Photos that tell no colour: of one leaf with nothing in them that is known from elsewhere, or with a chart of another edition. */
  readonly sentBack: readonly { readonly photo: string; readonly gate: Gate }[];
  /** Photos with a chart: how far its patches come out from what the others say of the camera, as a share of their light. */
  readonly charts: readonly { readonly photo: string; readonly leftOut: number }[];
  /** Name of the edition by whose values charts were read; null where no photo that counts shows one. */
  readonly chart: string | null;
}
