import type { Matrix3, Vector3 } from "../algebra/matrix3.ts";

/**
 * Every number the model of light takes for granted, with its reason. Spreads are in natural logarithms of light, so
 * 0.01 is one per cent; they stand in the order lightness, warmth (red against blue), tint (red and blue against green).
 */
export interface Spreads {
  readonly lightness: number;
  readonly warmth: number;
  readonly tint: number;
}

const spreads = (lightness: number, warmth: number, tint: number): Spreads => ({ lightness, warmth, tint });

export const model = {
  /**
   * From a camera's own channels to linear sRGB: rounded from the matrices usual in phones (from memory). Its rows sum
   * to 1, so that white stays white. It only chooses the channels in which light acts as a plain factor.
   */
  typicalCamera: [1.6, -0.5, -0.1, -0.2, 1.6, -0.4, 0, -0.5, 1.5] as Matrix3,

  /** Share of the tint counted to the lightness: wood against grey loses so much lightness as it gains tint when lamps replace daylight. */
  tintInLightness: 0.48,

  /** Light of a cell told twice: sensor noise, JPEG and resampling, as seen between photos of one face. */
  cellNoise: spreads(0.004, 0.005, 0.004),
  /** What a part adds as seen in one photo: sheen that changes with the view. */
  partInPhoto: spreads(0.003, 0.003, 0.002),
  /** How the wood of cells differs by its figure, as if cells were independent, before the photos tell. */
  wood: spreads(0.05, 0.02, 0.004),

  /** How parts differ within a face, faces within a leaf, leaves that are tied together: veneer of one flitch to veneer of several. */
  part: spreads(0.02, 0.01, 0.003),
  face: spreads(0.05, 0.03, 0.006),
  leaf: spreads(0.1, 0.05, 0.01),
  /** The wood of leaves that are tied together: oak, ash, walnut, sapele, maple, cherry, beech, wenge (mean and spread of their colours, from memory). */
  delivery: spreads(0.8, 0.2, 0.045),
  usualWood: [-1.45, 0.57, 0.03] as Vector3,

  /**
   * Exposure and white balance: of a photo against the delivery's mean, and of that mean against a true grey. Phones keep white
   * a third of a stop and more below the limit.
   */
  photoGain: spreads(0.4, 0.2, 0.06),
  meanGain: spreads(0.3, 0.1, 0.03),
  usualGain: [-0.3, 0, 0] as Vector3,
  /**
   * The brightest fiftieth of a photo taken on a site is white paint, plaster, paper or packing: so much of the light, within so
   * much, once for the photos of one camera, which show about the same rooms, and again for each. Only its lightness counts. Where
   * it is cut off it tells nothing.
   */
  white: 0.8,
  whiteInPhoto: spreads(0.2, 1, 1),
  cutOff: 0.97,
  /** Grain across the light against grain along it: sheen of the finish. */
  grain: spreads(0.004, 0.002, 0.001),

  /** Grey patches: noise of one, what the whole reference is off in one photo (its own light, tilt, flare). */
  patchNoise: spreads(0.004, 0.005, 0.004),
  referenceInPhoto: spreads(0.01, 0.01, 0.005),
  /**
   * The kind of a photo's light (daylight, lamps, both) by what it does to wood against grey, which no grey shows: so much for a
   * wood of warmth 1. Reckoned for woods seen by sensors of many kinds in mixtures of daylight and white lamps. At a stand, the
   * part that still changes from photo to photo.
   */
  kindOfLight: spreads(0.014, 0.027, 0.044),
  kindAtStand: spreads(0.0015, 0.003, 0.0045),
  /** How well patches are known: a chart from its table; a grey card by its name, 18 % within a third of a stop or better. */
  chartPatch: spreads(0.005, 0.005, 0.003),
  greyCard: spreads(0.05, 0.01, 0.007),
  /** A printed card before any photo: its sheet as a whole (paper is bluish or cream), and each tone of the printer. */
  printedSheet: spreads(0.15, 0.1, 0.05),
  printedPatch: spreads(0.25, 0.03, 0.02),
  /** A chart's patch counts as grey below this chroma, and above this L*: black drowns in flare. */
  greyChroma: 3,
  greyLightness: 25,
  /** A patch of which more than this was clipped is left out. */
  lostPatch: 0.1,

  /**
   * The field of light over a photo, per half diagonal: slopes right and down, fall-off from the centre, the rest of the
   * second order. Windows and lamps a few metres off make slopes of some 15 %, in colour a fifth of that; lenses darken
   * towards the corners by some 6 % over the picture. Colour of the second order is left out: it explained nothing.
   */
  field: {
    mean: [0, 0, -0.06, 0, 0],
    lightness: [0.2, 0.15, 0.05, 0.03, 0.03],
    warmth: [0.05, 0.03, 0.0005, 0.0005, 0.0005],
    tint: [0.01, 0.01, 0.0005, 0.0005, 0.0005],
  },
  /** How far a photo taken by hand at a stand leaves the field that the photos of that stand share. */
  fieldAtStand: {
    mean: [0, 0, 0, 0, 0],
    lightness: [0.015, 0.015, 0.01, 0.005, 0.005],
    warmth: [0.005, 0.005, 0.0005, 0.0005, 0.0005],
    tint: [0.002, 0.002, 0.0005, 0.0005, 0.0005],
  },

  /** Tone curves of phones lift the middle a little: strength of the S beyond the standard curve, and its spread. */
  tone: { mean: 0.15, spread: 0.2 },
  /** A grey against the chart's table, after the tone is undone; a ratio of the same figure seen twice, as it scatters. */
  toneGreyNoise: 0.008,
  toneFigureNoise: 0.07,
  /** Two photos show the same figure when its cells agree at least so well. */
  sameFigure: 0.8,

  /** The typical response is drawn to a chart's true colours: size of the departure it may take, and how near a maker comes. Shares. */
  tuning: 0.2,
  tuningMiss: 0.03,
  /**
   * How far a camera's response departs from the typical one, a light's from the camera's mean; error of one patch. Shares. The
   * first two as likeliest for 40 invented sensors under 12 lights each (0.05 to 0.1); the third as likeliest for charts in photos.
   */
  cameraDeparture: 0.08,
  lightDeparture: 0.06,
  patchColour: 0.02,

  /** Residuals count in full up to `inner` robust spreads and not at all from `outer`: shadow edges, glare, a hand. */
  robust: { inner: 3.1, outer: 5.2, rounds: 3 },
} as const;

export type FieldPrior = {
  readonly mean: readonly number[];
  readonly lightness: readonly number[];
  readonly warmth: readonly number[];
  readonly tint: readonly number[];
};
