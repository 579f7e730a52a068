import type { Lab } from "./colour.ts";
import type { Pattern } from "./leaf-layout.ts";
import type { RectMm } from "./raster.ts";
import type { Veneer } from "./wood.ts";

export type FaceName = "A" | "B";

/** Something a joiner would notice on a face. `kind` is the trade's word; `natural` marks are not damage. */
export interface Mark {
  readonly kind: "crushed corner" | "dent" | "sand-through" | "mineral streak" | "open joint";
  readonly natural: boolean;
  readonly boxMm: RectMm;
  readonly depthMm?: number;
  /** Seen only in photos taken on this day or later. */
  readonly from?: string;
  /** Seen only in photos taken before this day. */
  readonly until?: string;
}

interface FaceOfDemo {
  /** CIELAB under D65 of the whole face. */
  readonly lab: Lab;
  readonly marks: readonly Mark[];
}

/** A leaf of the invented delivery, as it truly is. */
export interface DemoLeaf {
  readonly id: string;
  readonly line: number | null;
  readonly widthMm: number;
  readonly heightMm: number;
  readonly thicknessMm: number;
  readonly pattern: Pattern;
  readonly veneer: Veneer;
  /** Size printed on the label. */
  readonly claimed: string;
  readonly faces: Readonly<Record<FaceName, FaceOfDemo>>;
}

type Marks = Partial<Record<FaceName, readonly Mark[]>>;
type Kind = Pick<DemoLeaf, "line" | "widthMm" | "heightMm" | "thicknessMm" | "pattern" | "veneer">;

const leaf =
  (kind: Kind, claimedWidth = kind.widthMm) =>
  (id: string, a: Lab, b: Lab, marks: Marks = {}): DemoLeaf => ({
    ...kind,
    id,
    claimed: `${kind.heightMm}X${claimedWidth}`,
    faces: { A: { lab: a, marks: marks.A ?? [] }, B: { lab: b, marks: marks.B ?? [] } },
  });

const walnut926: Kind = {
  line: 1,
  widthMm: 926,
  heightMm: 2040,
  thicknessMm: 44,
  pattern: "flush",
  veneer: "walnut crown",
};
const ash826: Kind = {
  line: 3,
  widthMm: 826,
  heightMm: 2040,
  thicknessMm: 40,
  pattern: "flush",
  veneer: "ash quarter",
};
const sapele: Kind = {
  line: 5,
  widthMm: 838,
  heightMm: 1981,
  thicknessMm: 44,
  pattern: "4-panel",
  veneer: "sapele quarter",
};
const walnut = leaf(walnut926);
const pair = leaf({ ...walnut926, line: 2, widthMm: 726 });
const wideAsh = leaf(ash826);
const wrongAsh = leaf({ ...ash826, widthMm: 726 }, 826);
const narrowAsh = leaf({ ...ash826, line: 4, widthMm: 626 });
const panelled = leaf(sapele);
const old = leaf({ ...sapele, line: null });

const crushedCorner: Mark = { kind: "crushed corner", natural: false, boxMm: [888, 2018, 38, 22], depthMm: 9 };
const dent: Mark = { kind: "dent", natural: false, boxMm: [801, 1008, 14, 9], depthMm: 0.4 };
const sandThrough: Mark = { kind: "sand-through", natural: false, boxMm: [452, 520, 15, 60] };
const streak: Mark = { kind: "mineral streak", natural: true, boxMm: [398, 842, 3, 90] };
const mitreArrived: Mark = { kind: "open joint", natural: false, boxMm: [732.9, 951, 0.2, 190], until: "2026-03-06" };
const mitreOpened: Mark = { kind: "open joint", natural: false, boxMm: [732.6, 951, 0.8, 190], from: "2026-03-06" };

/** The 20 leaves counted off the lorry, and the two old ones that hang in openings 1.33 and 1.34. All colours are invented. */
export const demoLeaves: readonly DemoLeaf[] = [
  walnut("W01", [43.2, 8.4, 17.6], [43.9, 8.5, 17.9]),
  walnut("W02", [44.0, 8.6, 18.1], [46.8, 8.9, 19.2]),
  walnut("W03", [44.6, 8.7, 18.2], [45.4, 8.9, 18.8], { A: [crushedCorner] }),
  walnut("W04", [45.1, 8.9, 18.8], [44.3, 8.6, 18.0]),
  walnut("W05", [43.6, 8.5, 17.9], [44.6, 8.7, 18.4], { A: [dent] }),
  walnut("W06", [47.4, 9.3, 20.1], [44.7, 8.8, 18.6]),
  walnut("W07", [42.5, 8.2, 17.0], [43.6, 8.4, 17.6], { B: [sandThrough] }),
  walnut("W08", [45.6, 9.0, 19.0], [48.2, 9.4, 20.6]),
  pair("P1", [43.8, 8.5, 17.8], [44.4, 8.6, 18.2]),
  pair("P2", [50.2, 10.1, 22.0], [49.6, 9.9, 21.6]),
  wideAsh("A01", [77.6, 2.6, 17.1], [77.0, 2.8, 17.6]),
  wideAsh("A02", [78.4, 2.3, 16.4], [77.9, 2.5, 16.9]),
  wideAsh("A03", [76.7, 2.9, 17.9], [78.1, 2.4, 16.8]),
  wrongAsh("A04", [75.9, 3.1, 18.3], [76.4, 3.0, 18.0]),
  narrowAsh("A05", [77.2, 2.7, 17.3], [76.1, 3.0, 18.4]),
  narrowAsh("A06", [78.8, 2.2, 16.1], [77.5, 2.6, 17.0], { B: [streak] }),
  panelled("S01", [49.6, 16.2, 21.8], [49.1, 16.0, 21.5]),
  panelled("S02", [50.2, 16.0, 22.0], [49.5, 16.3, 21.7], { A: [mitreArrived, mitreOpened] }),
  panelled("S03", [48.9, 15.9, 21.2], [48.2, 15.8, 20.7]),
  panelled("S04", [50.6, 15.7, 22.3], [49.9, 15.9, 21.9]),
  old("X33", [45.1, 17.8, 23.9], [45.6, 17.6, 23.6]),
  old("X34", [45.7, 17.4, 23.5], [46.0, 17.3, 23.2]),
];
