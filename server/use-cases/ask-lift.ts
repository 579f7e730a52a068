import type { Lift } from "../../analysis/allot/what-would-lift.ts";
import type { LiftAnswer } from "../contract/questions.ts";
import type { Site } from "../site.ts";
import { askedOf } from "./allotment-as-it-stands.ts";
import { faceOfName, faceOfSeat } from "./face-of-seat.ts";
import { plannedOr } from "./planned-or.ts";

const liftedBy = (lift: Lift): Pick<LiftAnswer["lifts"][number], "leaf" | "opening" | "space"> => {
  const at = { opening: null, space: null };
  switch (lift.by) {
    case "other-leaf":
      return { ...at, leaf: lift.leaf };
    case "other-existing":
      return { ...at, leaf: faceOfName(lift.existing).leaf };
    case "let-go":
      return { ...at, leaf: lift.lock.leaf, opening: lift.lock.opening };
    case "let-in":
      return "opening" in lift.ban
        ? { ...at, leaf: lift.ban.leaf, opening: lift.ban.opening }
        : { ...at, leaf: lift.ban.leaf, space: lift.ban.space };
    case "one-more-like":
      return { ...at, leaf: lift.leaf, opening: lift.opening };
  }
};

/** What forces the worst of the best plan, and what single thing would lift it. A leaf that is cut stays where it is. */
export const askLift = async (site: Site, deliveryId: string): Promise<LiftAnswer> => {
  const { delivery, problem } = askedOf(site, deliveryId);
  const { worst, bound, pair, lifts } = plannedOr(await site.askAllotment({ kind: "lift", problem }));
  const wished = new Set(delivery.allotment.locks.map(({ leaf }) => leaf));
  return {
    worst,
    bound,
    pair: pair && { space: pair.space, one: faceOfSeat(pair.one), other: faceOfSeat(pair.other) },
    lifts: lifts
      .filter((lift) => lift.by !== "let-go" || wished.has(lift.lock.leaf))
      .map((lift) => ({ by: lift.by, ...liftedBy(lift), worst: lift.worst, bound: lift.bound })),
  };
};
