import { createHash } from "node:crypto";
import type { FaceLayout } from "../../analysis/leaf-parts.ts";
import type { Delivery } from "../contract/delivery.ts";
import type { Photo } from "../contract/photo.ts";
import type { MeasureRequest } from "../workers/measurement.ts";

/** Goes up when a change of the measurement makes kept results stale. */
const MEASUREMENT_VERSION = 10;

/** How the parts of a leaf lie, or undefined for a leaf or pattern that is not there. */
export const layoutOfLeaf = ({ leaves, patterns }: Delivery, code: string): FaceLayout | undefined => {
  const leaf = leaves.find((one) => one.code === code);
  return patterns.find(({ id }) => id === leaf?.pattern);
};

const notMeasured = (photo: Photo): string[] => photo.flags.filter((flag) => flag.includes("not measured"));

/** Why a photo of which nothing is asked is kept: what is odd about its file, else that it shows no whole face. */
export const whyKept = (photo: Photo): string =>
  notMeasured(photo).join("; ") || "kept as evidence: it shows no whole face to measure";

/** What is asked of the measurement for a photo, or null when it shows no whole face to measure. */
export const measurementRequest = (delivery: Delivery, photo: Photo, path: string): MeasureRequest | null => {
  if (photo.kind !== "single" && photo.kind !== "line-up") return null;
  if (photo.shows.length === 0 || notMeasured(photo).length > 0) return null;
  const shows = photo.shows.flatMap(({ leaf, face, corners }) => {
    const layout = layoutOfLeaf(delivery, leaf);
    return layout ? [{ leaf, face, layout, corners }] : [];
  });
  return {
    photo: photo.id,
    path,
    camera: photo.camera,
    shows,
    references: null,
  };
};

/** Names what was asked, so that an answer kept on disk is used only for the same question. */
export const fingerprintOf = (request: MeasureRequest | null): string =>
  createHash("sha256")
    .update(JSON.stringify([MEASUREMENT_VERSION, request && { ...request, path: "" }]))
    .digest("hex");
