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
  | "wrong-chart"
  | "not-found";

/** What is held against a limit: the gates themselves, and those that ask their question of the face as well. */
export type GateRule = GateName | "face-clipped" | "face-scale" | "chart-misfit";

/** One limit: passed while the value keeps to the side that `keep` names. */
interface GateLimit {
  readonly gate: GateName;
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
const gateLimits: Readonly<Record<GateRule, GateLimit>> = {
  blur: {
    gate: "blur",
    keep: "below",
    limit: 4,
    unit: "px of edge width in a picture 800 px long",
    reason:
      "A sharp edge shrunk to 800 px rises within 2 to 3 px; 4 px is 10 mm on a leaf: joints and marks run together.",
    advice: "Hold the phone still or lean it on something, tap the leaf to focus, and take it again.",
  },
  clipped: {
    gate: "clipped",
    keep: "below",
    limit: 0.7,
    unit: "share of the whole picture at the top code value",
    reason:
      "A white wall behind a dark leaf may clip without harm, and fills up to two thirds of a picture of one leaf.",
    advice: "The picture is too bright: lower the exposure (tap the leaf, slide down) and take it again.",
  },
  "face-clipped": {
    gate: "clipped",
    keep: "below",
    limit: 0.1,
    unit: "share of the face at the top code value",
    reason: "A clipped pixel has lost its colour; a tenth of a face is more than robust means leave out without bias.",
    advice: "The leaf is too bright in the picture: lower the exposure (tap the leaf, slide down) and take it again.",
  },
  "too-dark": {
    gate: "too-dark",
    keep: "above",
    limit: 0.02,
    unit: "linear light of the brightest fiftieth, 1 = full scale",
    reason:
      "Below 2 % of full scale an 8-bit code steps by more than 2 % of the light: coarser than the colours to tell apart.",
    advice: "There is too little light: switch on the lamps or open the shutters and take it again.",
  },
  "too-small": {
    gate: "too-small",
    keep: "above",
    limit: 1000,
    unit: "px along the longest side",
    reason: "Below 1000 px a leaf of 2 m gets less than half a pixel a mm: grain and joints are no longer told apart.",
    advice: "The picture is too small: send the original photo, not a preview or a screenshot.",
  },
  "face-scale": {
    gate: "too-small",
    keep: "above",
    limit: 0.35,
    unit: "px for a mm on the leaf",
    reason:
      "At 0.35 px a mm a rail of 100 mm is 35 px wide: fewer, and its colour is mixed with the joint and the moulding.",
    advice: "The leaf is too small in the picture: go closer, or put fewer leaves side by side, and take it again.",
  },
  glare: {
    gate: "glare",
    keep: "below",
    limit: 0.12,
    unit: "share of the face under glare",
    reason:
      "Robust means leave out small spots; beyond about an eighth of a face the spot covers the better half of a part.",
    advice:
      "A lamp or window mirrors in the lacquer: step aside or turn the leaf until the shine is gone and take it again.",
  },
  "too-oblique": {
    gate: "too-oblique",
    keep: "below",
    limit: 45,
    unit: "degrees between the line of sight to the middle of the leaf and the square view of it",
    reason:
      "The outer ones of five leaves in a row are seen at up to 30 degrees; beyond 45 lacquer shines and widths shrink by a third.",
    advice: "Stand square in front of the leaf, phone at half its height, and take it again.",
  },
  "cut-off": {
    gate: "cut-off",
    keep: "above",
    limit: 0,
    unit: "px from the outermost corner of the leaf to the edge of the picture",
    reason: "What is outside the picture cannot be measured, and a cut edge gives no corner to scale by.",
    advice: "Step back until all four corners are in the picture and take it again.",
  },
  "mixed-light": {
    gate: "mixed-light",
    keep: "below",
    limit: 10,
    unit: "change of light colour across the face, CIELAB a*b* units at the colour of the face",
    reason:
      "One light and the camera's own shading stay below 3, planks of different veneer add as much; two lights give 20 and more.",
    advice:
      "Two kinds of light fall on the leaf: close the shutter or switch off the lamp, so that one of them is left.",
  },
  "no-reference": {
    gate: "no-reference",
    keep: "above",
    limit: 1,
    unit: "cards, charts, grey cards or leaves measured elsewhere in the picture",
    reason: "With nothing known in the picture its light cannot be told from the colour of the wood.",
    advice:
      "Put the card, a chart or a grey card beside the leaf, or another leaf already measured, and take it again.",
  },
  "wrong-chart": {
    gate: "wrong-chart",
    keep: "below",
    limit: 5,
    unit: "natural logarithm of how much likelier another known edition is than the one chosen",
    reason:
      "Of 2309 invented photos of right charts, sensors and lamps drawn at random, none came above -5; with the wrong edition chosen all came above 5 (tests/bench/chart-editions.ts). Between lies a chart that is off its table.",
    advice: "Choose the edition that stands on the chart, or take the photo again with the right chart.",
  },
  "chart-misfit": {
    gate: "wrong-chart",
    keep: "below",
    limit: 5,
    unit: "CIELAB units between the patches and their values, root mean square, after the camera that suits best",
    reason:
      "The worst of those photos had 3.4; a shadow that takes half the light from a column of patches makes it 5.4.",
    advice:
      "The chart's patches fit no edition known here: see that no shadow, shine or dirt lies on it, or enter the values that came with it.",
  },
  "not-found": {
    gate: "not-found",
    keep: "above",
    limit: 0.5,
    unit: "score of the outline, 0 to 1",
    reason:
      "Below a half, an outline has less of its edges seen than unseen: ask a person rather than measure the wall.",
    advice: "The leaf could not be told from what is behind it: drag the four corners onto it.",
  },
};

/** Holds a value against its limit. */
export const judge = (rule: GateRule, value: number): GateResult => {
  const { gate, keep, limit, advice } = gateLimits[rule];
  return { gate, value, limit, passed: keep === "below" ? value <= limit : value >= limit, advice };
};
