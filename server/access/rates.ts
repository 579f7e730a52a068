/** How often a device may call, times a minute: anything light, uploads, and tries to be let in. */
export interface HowOften {
  readonly light: number;
  readonly uploads: number;
  readonly pairings: number;
}

/** A screen asks for forty pictures at once; a phone takes a photo every few seconds; a code is typed once or twice. */
export const usualRates: HowOften = { light: 600, uploads: 60, pairings: 5 };
