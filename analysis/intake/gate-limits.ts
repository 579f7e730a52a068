/** What a photo may be refused for. */
export type GateName =
  | "blur"
  | "clipped"
  | "too-dark"
  | "too-small"
  | "glare"
  | "too-oblique"
  | "cut-off"
  | "mixed-light"
  | "no-reference"
  | "not-found";

/** One gate: passed while the value keeps to the side of the limit that `keep` names. */
export interface GateLimit {
  readonly keep: "below" | "above";
  readonly limit: number;
  readonly unit: string;
  readonly reason: string;
  readonly advice: string;
}

/** What one gate said of one photo; `advice` tells what to do when it did not pass. */
export interface GateResult {
  readonly gate: GateName;
  readonly value: number;
  readonly limit: number;
  readonly passed: boolean;
  readonly advice: string;
}

/** Every limit a photo is held to, each with its reason. */
export const gateLimits: Readonly<Record<GateName, GateLimit>> = {
  blur: {
    keep: "below",
    limit: 4,
    unit: "px of edge width in a picture 800 px long",
    reason:
      "A sharp edge shrunk to 800 px rises within 2 to 3 px; 4 px is 10 mm on a leaf: joints and marks run together.",
    advice: "Hold the phone still or lean it on something, tap the leaf to focus, and take it again.",
  },
  clipped: {
    keep: "below",
    limit: 0.1,
    unit: "share of the face at the top code value",
    reason:
      "A clipped pixel has lost its colour; a tenth of a face is more than the robust means leave out without bias.",
    advice: "The picture is too bright: lower the exposure (tap the leaf, slide down) and take it again.",
  },
  "too-dark": {
    keep: "above",
    limit: 0.02,
    unit: "linear light of the brightest fiftieth, 1 = full scale",
    reason:
      "Below 2 % of full scale an 8-bit code steps by more than 2 % of the light: coarser than the colours to tell apart.",
    advice: "There is too little light: switch on the lamps or open the shutters and take it again.",
  },
  "too-small": {
    keep: "above",
    limit: 1000,
    unit: "px along the longest side",
    reason: "Below 1000 px a leaf of 2 m gets less than half a pixel a mm: grain and joints are no longer told apart.",
    advice: "The picture is too small: send the original photo, not a preview or a screenshot.",
  },
  glare: {
    keep: "below",
    limit: 0.08,
    unit: "share of the face under glare",
    reason: "Robust means leave out small spots; beyond about a twelfth of a face the spot reaches over whole parts.",
    advice:
      "A lamp or window mirrors in the lacquer: step aside or turn the leaf until the shine is gone and take it again.",
  },
  "too-oblique": {
    keep: "below",
    limit: 25,
    unit: "degrees between the line of sight and the square view",
    reason:
      "Lacquered wood changes colour with the angle; common practice is to view within 15 degrees, 25 leaves room for the hand.",
    advice: "Stand square in front of the leaf, phone at half its height, and take it again.",
  },
  "cut-off": {
    keep: "above",
    limit: 0,
    unit: "px from the outermost corner of the leaf to the edge of the picture",
    reason: "What is outside the picture cannot be measured, and a cut edge gives no corner to scale by.",
    advice: "Step back until all four corners are in the picture and take it again.",
  },
  "mixed-light": {
    keep: "below",
    limit: 5,
    unit: "change of light colour across the face, CIELAB a*b* units at the lightness of the face",
    reason:
      "One light and a camera's own shading keep below about 3; beyond 5 the fall-off model no longer holds to 1 unit.",
    advice:
      "Two kinds of light fall on the leaf: close the shutter or switch off the lamp, so that one of them is left.",
  },
  "no-reference": {
    keep: "above",
    limit: 1,
    unit: "cards, charts, grey cards or leaves measured elsewhere in the picture",
    reason: "With nothing known in the picture its light cannot be told from the colour of the wood.",
    advice:
      "Put the card, a chart or a grey card beside the leaf, or another leaf already measured, and take it again.",
  },
  "not-found": {
    keep: "above",
    limit: 0.5,
    unit: "score of the outline, 0 to 1",
    reason:
      "Below a half, an outline has less of its edges seen than unseen: ask a person rather than measure the wall.",
    advice: "The leaf could not be told from what is behind it: drag the four corners onto it.",
  },
};

/** Holds a value against the gate's limit. */
export const judge = (gate: GateName, value: number): GateResult => {
  const { keep, limit, advice } = gateLimits[gate];
  return { gate, value, limit, passed: keep === "below" ? value <= limit : value >= limit, advice };
};
