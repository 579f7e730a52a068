import type { SpaceStrip } from "../../server/contract/views.ts";

/** The spaces parted, each part in the order of the schedule. */
export interface KindsOfSpace {
  /** Two leaves or more stand in it: they are shown side by side. */
  readonly together: readonly SpaceStrip[];
  /** Made for several leaves, of which fewer than two are there. */
  readonly unfilled: readonly SpaceStrip[];
  /** One face alone is seen in it. */
  readonly alone: readonly SpaceStrip[];
}

const leavesIn = ({ places }: SpaceStrip): number => places.filter(({ leaf }) => leaf !== null).length;

export const kindsOfSpace = (strips: readonly SpaceStrip[]): KindsOfSpace => ({
  together: strips.filter((strip) => leavesIn(strip) >= 2),
  unfilled: strips.filter((strip) => strip.places.length > 1 && leavesIn(strip) < 2),
  alone: strips.filter((strip) => strip.places.length === 1),
});

/** "No leaf yet: Waiting room, Entrance", or that a space has but one. */
export const unfilledSays = (strips: readonly SpaceStrip[]): string => {
  const names = strips.map(({ space }) => space.name).join(", ");
  return `${strips.every((strip) => leavesIn(strip) === 0) ? "No leaf yet" : "Fewer than two leaves yet"}: ${names}`;
};
