import type { Seat } from "../../analysis/allot/allotment.ts";
import type { FaceRef } from "../site.ts";

/** A face by the name the allotment knows it by, "W01/A". */
export const faceOfName = (name: string): FaceRef => {
  const [leaf = "", face] = name.split("/");
  return { leaf, face: face === "A" ? "A" : "B" };
};

/** The face in a seat: of an allotted leaf, or of one that hangs there and stays. */
export const faceOfSeat = (seat: Seat): FaceRef =>
  seat.kind === "leaf" ? { leaf: seat.leaf, face: seat.face } : faceOfName(seat.id);
