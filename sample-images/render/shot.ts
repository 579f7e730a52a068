import type { Camera } from "./camera.ts";
import type { ClutterKind } from "./clutter.ts";
import type { Rgb } from "./colour.ts";
import type { DemoLeaf, FaceName, Mark } from "./demo-leaves.ts";
import type { Light } from "./light.ts";
import type { Encoding, Phone } from "./phone.ts";
import type { ReferenceKind } from "./references.ts";
import type { Room } from "./room.ts";
import type { Place } from "./stand.ts";

/** A lamp mirrored in the lacquer: where in the photo, how large, how much light it adds. */
export interface GlareSpot {
  readonly xPx: number;
  readonly yPx: number;
  readonly sizePx: number;
  readonly strength: number;
}

/** A leaf as it stands in the photo. */
export interface Standing {
  readonly leaf: DemoLeaf;
  readonly face: FaceName;
  readonly place: Place;
  readonly hung: boolean;
}

/** A reference in the plane of the first leaf: its top left corner in mm on that leaf, beyond its edges when held beside it. */
export interface Held {
  readonly kind: ReferenceKind;
  readonly atMm: readonly [x: number, y: number];
  readonly turnDeg: number;
}

/** The faults a photo may be rejected for; each has a file in `failing/`. */
export type Gate =
  | "blur"
  | "clipped"
  | "glare"
  | "too-oblique"
  | "too-small"
  | "cut-off"
  | "no-reference"
  | "mixed-light"
  | "too-dark"
  | "wrong-chart";

/** Everything that decides one photo. */
export interface Shot {
  readonly file: string;
  readonly kind: "single" | "line-up" | "detail" | "label";
  /** ISO 8601 with offset. */
  readonly taken: string;
  readonly phone: Phone;
  readonly encoding: Encoding;
  readonly orientation: number;
  readonly quality: number;
  readonly camera: Camera;
  readonly room: Room;
  readonly light: Light;
  /** What a white under the light at the centre comes out as, before `gain`. */
  readonly greyShown: Rgb;
  readonly gain: number;
  readonly softnessPx: number;
  readonly noise: number;
  readonly standing: readonly Standing[];
  readonly held: readonly Held[];
  readonly clutter: readonly (readonly [ClutterKind, number])[];
  readonly glare: readonly GlareSpot[];
  /** The mark that a detail is about. */
  readonly mark?: Mark;
}
