import type { FaceLayout } from "../../analysis/leaf-parts.ts";
import type { Label } from "../../analysis/locate/label-code.ts";
import type { Quad } from "../../analysis/pixels.ts";
import type { Cover } from "../../analysis/rectify/covers.ts";
import type { PhotoSample } from "../../analysis/sample/photo-sample.ts";
import type { Gate } from "../contract/photo.ts";
import type { LeafView } from "../contract/views.ts";

/** A face a photo is said to show, left to right; corners set by hand win over what is found. */
export interface ShownFace {
  readonly leaf: string;
  readonly face: "A" | "B";
  readonly layout: FaceLayout;
  readonly corners: Quad | null;
}

/** One photo to measure and what is known of it. `references` null: look for any. Sizes in mm where they are not the usual. */
export interface MeasureRequest {
  readonly photo: string;
  readonly path: string;
  readonly camera: string;
  readonly shows: readonly ShownFace[];
  readonly references: readonly ("card" | "chart" | "grey")[] | null;
  readonly chartMm?: readonly [number, number];
  readonly greyMm?: readonly [number, number];
}

/** A face where it was found; `covers` is what lies on it and is not wood, mm on the face. */
export interface MeasuredFace {
  readonly leaf: string;
  readonly face: "A" | "B";
  readonly corners: Quad;
  readonly score: number;
  readonly byHand: boolean;
  readonly covers: readonly Cover[];
}

/** A face to look at closely, in the photo that shows it largest. */
export interface LookRequest {
  readonly path: string;
  readonly corners: Quad;
  readonly layout: FaceLayout;
  readonly covers: readonly Cover[];
}

/** What a face shows beside its colour: the figure of its grain, and places that the grain does not explain. */
export interface Look {
  readonly grain: LeafView["faces"][number]["grain"];
  readonly proposed: readonly Omit<LeafView["proposed"][number], "photo" | "face">[];
}

/** What one photo measured, or why it must be taken again. Kept as JSON beside the photo; it can be made again. */
export type PhotoMeasurement =
  | {
      readonly kind: "measured";
      readonly sample: PhotoSample;
      readonly faces: readonly MeasuredFace[];
      readonly references: readonly {
        readonly kind: "card" | "chart" | "grey";
        readonly id: string | null;
        readonly corners: Quad;
      }[];
      readonly gates: readonly Gate[];
      /** Leaf labels in the picture; which leaf each belongs to may change. */
      readonly labels: readonly Label[];
    }
  | { readonly kind: "retake"; readonly gates: readonly Gate[]; readonly labels: readonly Label[] }
  | { readonly kind: "kept"; readonly why: string };
