import type { Matrix3 } from "../algebra/matrix3.ts";

/**
 * Every number the model of light takes for granted, with its reason. Spreads are in natural logarithms of light, so
 * 0.01 is one per cent; where two are given, the first is for lightness, the second for each of the two colour channels.
 */
export interface TwoSpreads {
  readonly lightness: number;
  readonly colour: number;
}

export const model = {
  /**
   * From a camera's own channels to linear sRGB: rounded from the matrices usual in phones (from memory). Its rows sum
   * to 1, so that white stays white. It only chooses the channels in which light acts as a plain factor.
   */
  typicalCamera: [1.6, -0.5, -0.1, -0.2, 1.6, -0.4, 0, -0.5, 1.5] as Matrix3,

  /** Light of a cell told twice: sensor noise, JPEG and resampling, as seen between photos of one face. */
  cellNoise: { lightness: 0.004, colour: 0.004 },
  /** What a part adds as seen in one photo: sheen that changes with the view, camera colour that a gain does not undo. */
  partInPhoto: { lightness: 0.003, colour: 0.003 },
  /** How the wood of cells differs by its figure, as if cells were independent, before the photos tell. */
  wood: { lightness: 0.05, colour: 0.01 },

  /** How parts differ within a face, faces within a leaf, leaves that are tied together: veneer of one flitch to veneer of several. */
  part: { lightness: 0.02, colour: 0.008 },
  face: { lightness: 0.03, colour: 0.015 },
  leaf: { lightness: 0.1, colour: 0.05 },
  /** The wood of leaves that are tied together: anything from maple to wenge. */
  delivery: { lightness: 1, colour: 0.5 },

  /** Exposure and white balance: of a photo against the delivery's mean, and of that mean against a true grey. */
  photoGain: { lightness: 0.4, colour: 0.3 },
  meanGain: { lightness: 0.3, colour: 0.2 },
  /** Grain across the light against grain along it: sheen of the finish. */
  grain: { lightness: 0.004, colour: 0.002 },

  /** Grey patches: noise of one, what the whole reference is off in one photo (its own light, tilt, flare). */
  patchNoise: { lightness: 0.004, colour: 0.004 },
  referenceInPhoto: { lightness: 0.01, colour: 0.008 },
  /** The same for a grey card: wood and grey part company as the light changes, and a lone grey does not show which light it is. */
  greyInPhoto: { lightness: 0.015, colour: 0.02 },
  /** How well patches are known: a chart from its table; a grey card by its name, 18 % within a third of a stop or better. */
  chartPatch: { lightness: 0.005, colour: 0.003 },
  greyCard: { lightness: 0.05, colour: 0.01 },
  /** A printed card before any photo: its sheet as a whole (paper is bluish or cream), and each tone of the printer. */
  printedSheet: { lightness: 0.15, colour: 0.1 },
  printedPatch: { lightness: 0.25, colour: 0.03 },
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
    colour: [0.03, 0.02, 0.0005, 0.0005, 0.0005],
  },
  /** How far a photo taken by hand at a stand leaves the field that the photos of that stand share. */
  fieldAtStand: {
    mean: [0, 0, 0, 0, 0],
    lightness: [0.03, 0.03, 0.03, 0.015, 0.015],
    colour: [0.006, 0.006, 0.0005, 0.0005, 0.0005],
  },

  /** Tone curves of phones lift the middle a little: strength of the S beyond the standard curve, and its spread. */
  tone: { mean: 0.15, spread: 0.2 },
  /** A grey against the chart's table, after the tone is undone; a ratio of the same figure seen twice. */
  toneGreyNoise: 0.008,
  toneFigureNoise: 0.03,
  /** Two photos show the same figure when its cells agree at least so well. */
  sameFigure: 0.8,

  /**
   * Camera colour: how far a camera's matrix lies from the typical one, a photo's from its camera's; error of one patch.
   * The photo's is the tightest at which chart patches left out of the fit come out as well as with more freedom.
   */
  cameraMatrix: 0.3,
  photoMatrix: 0.02,
  patchColour: 0.02,

  /** Residuals count in full up to `inner` robust spreads and not at all from `outer`: shadow edges, glare, a hand. */
  robust: { inner: 3.1, outer: 5.2, rounds: 3 },
} as const;

export type FieldPrior = {
  readonly mean: readonly number[];
  readonly lightness: readonly number[];
  readonly colour: readonly number[];
};
