import { fUpperTail } from "./tails.ts";

/** One figure for each part, appraiser and trial, in this order; every appraiser measures every part as often. */
export type GaugeTrials = readonly (readonly (readonly number[])[])[];

/** Sums of squares of a crossed study, in the square of the figure's unit. */
export interface GaugeSums {
  readonly part: number;
  readonly appraiser: number;
  readonly interaction: number;
  readonly repeat: number;
  readonly total: number;
}

/** Variances that a gauge study parts the whole into, in the square of the figure's unit; none is below 0. */
export interface GaugeVariances {
  /** The same appraiser, the same part, once more: equipment variation. */
  readonly repeat: number;
  /** Appraisers against each other, over all parts and part by part: appraiser variation. */
  readonly reproduce: number;
  readonly part: number;
}

export interface GaugeStudy {
  readonly sums: GaugeSums;
  /** Whether appraisers differ from part to part: F against the repeats, and the probability of so great an F by chance. */
  readonly interaction: { readonly f: number; readonly p: number; readonly pooled: boolean };
  readonly variances: GaugeVariances;
}

/** An interaction less clear than this is counted as repeat error. From memory: the usual level at which terms are pooled. */
const poolFrom = 0.25;

/**
 * Gauge repeatability and reproducibility by analysis of variance, parts and appraisers crossed and both random. Null
 * with fewer than two parts, appraisers or trials, or where parts were not measured equally often.
 * Source: the crossed two-way analysis as in the measurement systems manual of the motor trade (formulas from memory).
 * Check values: its ten parts, three appraisers, three trials in tests/published/gauge-study.ts.
 */
export const studyGauge = (trials: GaugeTrials): GaugeStudy | null => {
  const parts = trials.length;
  const appraisers = trials[0]?.length ?? 0;
  const times = trials[0]?.[0]?.length ?? 0;
  const balanced = trials.every((part) => part.length === appraisers && part.every(({ length }) => length === times));
  if (parts < 2 || appraisers < 2 || times < 2 || !balanced) return null;

  const cells = trials.map((part) => part.map(mean));
  const ofPart = cells.map(mean);
  const ofAppraiser = cells[0]!.map((_, a) => mean(cells.map((part) => part[a]!)));
  const all = mean(ofPart);
  const total = sumSquares(trials.flat(2), all);
  const part = appraisers * times * sumSquares(ofPart, all);
  const appraiser = parts * times * sumSquares(ofAppraiser, all);
  const repeat = trials.reduce((sum, row, p) => sum + row.reduce((s, c, a) => s + sumSquares(c, cells[p]![a]!), 0), 0);
  const interaction = cells.reduce(
    (sum, row, p) => sum + times * row.reduce((s, cell, a) => s + (cell - ofPart[p]! - ofAppraiser[a]! + all) ** 2, 0),
    0,
  );

  const [betweenBoth, within] = [(parts - 1) * (appraisers - 1), parts * appraisers * (times - 1)];
  const f = interaction / betweenBoth / (repeat / within);
  const p = repeat === 0 ? Number(interaction === 0) : fUpperTail(f, betweenBoth, within);
  const pooled = p > poolFrom;
  const error = pooled ? (interaction + repeat) / (betweenBoth + within) : repeat / within;
  const both = pooled ? error : interaction / betweenBoth;
  const left = (meanSquare: number, less: number, each: number) => Math.max(0, (meanSquare - less) / each);
  return {
    sums: { part, appraiser, interaction, repeat, total },
    interaction: { f, p, pooled },
    variances: {
      repeat: error,
      reproduce: left(appraiser / (appraisers - 1), both, parts * times) + left(both, error, times),
      part: left(part / (parts - 1), both, appraisers * times),
    },
  };
};

/** What the variances come to, in the figure's unit: standard deviations, the gauge's share of the whole, what it tells apart. */
export interface GaugeFigures {
  readonly repeat: number;
  readonly reproduce: number;
  /** Repeat and reproduce together. */
  readonly gauge: number;
  readonly part: number;
  readonly total: number;
  /** Gauge as percentage of the total, both as standard deviations. */
  readonly gaugePercent: number;
  /** How many classes of parts the gauge tells apart: 1.41 times part over gauge, whole ones. */
  readonly classes: number;
}

export const gaugeFigures = ({ repeat, reproduce, part }: GaugeVariances): GaugeFigures => {
  const gauge = Math.sqrt(repeat + reproduce);
  const total = Math.sqrt(repeat + reproduce + part);
  return {
    repeat: Math.sqrt(repeat),
    reproduce: Math.sqrt(reproduce),
    gauge,
    part: Math.sqrt(part),
    total,
    gaugePercent: total === 0 ? 0 : (100 * gauge) / total,
    classes: gauge === 0 ? 0 : Math.floor((1.41 * Math.sqrt(part)) / gauge),
  };
};

const mean = (values: readonly number[]): number => values.reduce((sum, value) => sum + value, 0) / values.length;

const sumSquares = (values: readonly number[], from: number): number =>
  values.reduce((sum, value) => sum + (value - from) ** 2, 0);
