/** Left, top, width, height on the face in mm, from the top left corner of the face as seen. */
export type RectMm = readonly [x: number, y: number, width: number, height: number];

export type PartKind = "face" | "stile" | "rail" | "muntin" | "panel" | "board";

/** A stile, rail, muntin, panel or board, or the whole face of a flush leaf. Grain runs up the leaf (v) or across (h). */
export interface Part {
  readonly name: string;
  readonly kind: PartKind;
  readonly grain: "v" | "h";
  readonly rectMm: RectMm;
}

/** Size and parts of one face; both faces of a leaf are made alike, each as seen from its own side. */
export interface FaceLayout {
  readonly widthMm: number;
  readonly heightMm: number;
  readonly parts: readonly Part[];
}
