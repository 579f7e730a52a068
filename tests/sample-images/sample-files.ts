import { readFile } from "node:fs/promises";
import { fileURLToPath } from "node:url";

/** Disk path of a file in `sample-images/`. */
export const samplePath = (file: string): string =>
  fileURLToPath(new URL(`../../sample-images/${file}`, import.meta.url));

export type Corners = readonly (readonly [x: number, y: number])[];

interface ShownFace {
  readonly leaf: string;
  readonly face: string;
}

interface JobPhoto {
  readonly file: string;
  readonly kind: "single" | "line-up" | "detail" | "label";
  readonly shows: readonly ShownFace[];
  readonly reference: readonly string[];
  readonly taken: string;
}

interface PartOfJob {
  readonly part: string;
  readonly rect_mm: readonly [number, number, number, number];
}

export interface Job {
  readonly leaves: readonly {
    readonly id: string;
    readonly line: number | null;
    readonly width_mm: number;
    readonly height_mm: number;
    readonly parts: readonly PartOfJob[];
  }[];
  readonly spaces: readonly { readonly name: string; readonly openings: readonly string[] }[];
  readonly openings: readonly { readonly id: string; readonly leaves: number; readonly spaces: readonly string[] }[];
  readonly photos: readonly JobPhoto[];
}

export interface PhotoTruth extends JobPhoto {
  readonly size_px: readonly [width: number, height: number];
  readonly orientation: number;
  readonly encoding: "srgb" | "display-p3";
  readonly leaves: readonly (ShownFace & {
    readonly corners_px: Corners | null;
    readonly whole: boolean;
    readonly marks: readonly { readonly kind: string; readonly corners_px: Corners | null }[];
  })[];
  readonly references: readonly {
    readonly kind: string;
    readonly corners_px: Corners | null;
    readonly patches: readonly { readonly name: string; readonly corners_px: Corners | null }[];
  }[];
}

export interface Truth {
  readonly faces: readonly (ShownFace & {
    readonly size_mm: readonly [width: number, height: number];
    readonly parts: readonly (PartOfJob & { readonly lab: readonly [number, number, number] })[];
    readonly marks: readonly { readonly kind: string; readonly box_mm: readonly number[] }[];
  })[];
  readonly references: readonly {
    readonly made: string;
    readonly patches: readonly { readonly name: string; readonly lab: readonly [number, number, number] }[];
  }[];
  readonly photos: readonly PhotoTruth[];
  readonly failing: readonly { readonly gate: string; readonly file: string }[];
}

const read = async <T>(file: string): Promise<T> => JSON.parse(await readFile(samplePath(file), "utf8")) as T;

/** What a user would know of the demo. */
export const readJob = (): Promise<Job> => read("job.json");
/** What is true of it. */
export const readTruth = (): Promise<Truth> => read("truth.json");
