import type { FewMoves, Moved, MovesOutcome } from "../../analysis/allot/fewest-moves.ts";
import type { FewestReturns } from "../../analysis/allot/fewest-returns.ts";
import type { LateLeaf, Waiting } from "../../analysis/allot/late-leaf.ts";
import type { PartLook } from "../../analysis/allot/replacement-look.ts";
import type { WhatIf } from "../../analysis/allot/what-if.ts";
import type { Lift, WhatWouldLift } from "../../analysis/allot/what-would-lift.ts";
import type { Sureness } from "../../analysis/allot/within-uncertainty.ts";
import { pairInWords } from "./plan-words.ts";
import { columns } from "./say.ts";

const atOpening = ({ opening, place }: { readonly opening: string; readonly place: 0 | 1 }): string =>
  place === 0 ? opening : `${opening} right`;

const figure = (value: number): string => (value < Number.POSITIVE_INFINITY ? value.toFixed(2) : "any");

export const returnsInWords = ({ replace, bound, proven, tolerance, plan }: FewestReturns): string => {
  if (replace.length === 0) return `No leaf needs to go back: every space keeps ΔE00 ${tolerance}.`;
  const count = replace.length === 1 ? "1 leaf needs" : `${replace.length} leaves need`;
  const surely = proven ? "proven fewest" : `no way does with fewer than ${bound}`;
  const rows = replace.map((one) => [
    atOpening(one),
    one.returned === null ? "nothing goes back" : `${one.returned} goes back`,
    one.like
      ? `order one like ${one.like.leaf}${one.like.turned ? ", turned" : ""} (ΔE00 ${figure(one.like.worst)})`
      : "no delivered leaf to copy: ask what it must look like",
  ]);
  const left = plan.spare.filter((leaf) => !replace.some(({ returned }) => returned === leaf));
  return [
    `${count} to be replaced for every space to keep ΔE00 ${tolerance} (${surely}).`,
    columns(rows),
    ...(left.length > 0 ? [`Spare: ${left.join(", ")}.`] : []),
  ].join("\n");
};

const movesInWords = (moved: readonly Moved[]): string =>
  moved.length === 0
    ? "No leaf moves."
    : columns(
        moved.map(({ leaf, from, to, turned }) => [
          leaf,
          from ? atOpening(from) : "spare",
          `to ${to ? atOpening(to) : "spare"}`,
          turned ? "turned" : "",
        ]),
      );

const countsOf = ({ moved, changed, bound, proven }: FewMoves): string => {
  const leaves = moved.length === 1 ? "1 leaf moves" : `${moved.length} leaves move`;
  return `${leaves}, ${changed} from places where they could stay (${proven ? "proven fewest" : `at least ${bound}`})`;
};

export const curveInWords = ({ chosen, curve }: Extract<MovesOutcome, { kind: "moves" }>): string =>
  [
    `For a loss of at most ${figure(chosen.loss)}: ${countsOf(chosen)}, worst ΔE00 ${figure(chosen.plan.worst)}.`,
    movesInWords(chosen.moved),
    "More or fewer moves, and the worst difference they leave:",
    columns(curve.map((one) => [`ΔE00 ${figure(one.plan.worst)}`, countsOf(one)])),
  ].join("\n");

export const whatIfInWords = ({ now, wished, least }: Extract<WhatIf, { kind: "what-if" }>): string =>
  [
    `The worst difference goes from ΔE00 ${figure(now.worst)} to ${figure(wished.worst)}, the sum from ${figure(now.sum)} to ${figure(wished.sum)}.`,
    `With as few moves as can be: ${countsOf(least)}, worst ΔE00 ${figure(least.plan.worst)}.`,
    movesInWords(least.moved),
  ].join("\n");

export const lateInWords = (leaf: string, answer: Extract<LateLeaf, { kind: "late" | "not-needed" }>): string =>
  answer.kind === "not-needed"
    ? `No opening needs to wait for ${leaf}: the others fill them, worst ΔE00 ${figure(answer.plan.worst)}.`
    : [
        waitingInWords(leaf, answer.unseen, "best until it comes"),
        ...(answer.counted ? [waitingInWords(leaf, answer.counted, "best once it has come")] : []),
      ].join("\n");

const waitingInWords = (leaf: string, one: Waiting, how: string): string =>
  `Leave ${atOpening(one)} empty for ${leaf} (${how}): worst ΔE00 ${figure(one.meanwhile)} until it comes, ${figure(one.afterwards)} then.`;

const lookInWords = (look: PartLook): string[] => {
  const { target, like } = look;
  if (target.kind === "no-neighbours") return [look.space, look.part, "any colour", ""];
  const aim = target.kind === "target" ? target.centre : target.nearest;
  const ranges =
    target.kind === "target"
      ? (["L*", "a*", "b*"] as const).map(
          (axis, at) => `${axis} ${target.ranges[at]!.map((v) => v.toFixed(1)).join("-")}`,
        )
      : ["no one colour keeps the tolerance; nearest", ...aim.map((value) => value.toFixed(1))];
  return [look.space, look.part, ranges.join("  "), like ? `${like.words} ${like.face}` : ""];
};

export const looksInWords = (opening: string, looks: readonly PartLook[]): string =>
  looks.length === 0 ? `Nothing measured is seen beside ${opening}.` : columns(looks.map(lookInWords));

const liftedBy = (lift: Lift): string => {
  switch (lift.by) {
    case "other-leaf":
      return `another leaf in place of ${lift.leaf}`;
    case "other-existing":
      return `a new leaf in place of the old one, ${lift.existing}`;
    case "let-go":
      return `letting ${lift.lock.leaf} go from ${lift.lock.opening}`;
    case "let-in":
      return `letting ${lift.ban.leaf} into ${"opening" in lift.ban ? lift.ban.opening : lift.ban.space}`;
    case "one-more-like":
      return `one more leaf like ${lift.leaf} for ${lift.opening}`;
  }
};

export const liftInWords = ({ worst, pair, lifts }: Extract<WhatWouldLift, { kind: "lift" }>): string =>
  [
    `The worst difference of the best plan is ΔE00 ${figure(worst)}.`,
    ...(pair ? [`Forced by ${pairInWords(pair)}.`] : []),
    ...(lifts.length === 0 ? ["No single change lowers it."] : ["What would lower it, and to what:"]),
    columns(lifts.map((lift) => [`ΔE00 ${figure(lift.worst)}`, liftedBy(lift)])),
  ]
    .filter((line) => line !== "")
    .join("\n");

const sureWords = { inside: "surely within", over: "surely over", open: "not sure" } as const;
const leafWords = { return: "return", keep: "keep", "measure-again": "measure again" } as const;

export const surenessInWords = ({ tolerance, spaces, leaves, decisions, redraws, photo }: Sureness): string => {
  // One face alone in a space differs from nothing.
  const seen = spaces.filter(({ high }) => high > 0);
  return [
    `Spaces against ΔE00 ${tolerance}, largest difference and where it can lie:`,
    columns(
      seen.map(({ space, worst, low, high, sure }) => [
        space,
        figure(worst),
        `${figure(low)}-${figure(high)}`,
        sureWords[sure],
      ]),
    ),
    columns(leaves.filter(({ say }) => say !== "keep").map(({ leaf, say }) => [leaf, leafWords[say]])),
    ...(decisions.length === 0
      ? [`No place changes in ${redraws} redraws within the uncertainty.`]
      : [`Places that change in some of ${redraws} redraws within the uncertainty:`]),
    columns(
      decisions.map(({ leaf, share, ...at }) => [
        atOpening(at),
        leaf,
        `in ${Math.round(share * redraws)} of ${redraws}`,
      ]),
    ),
    ...(photo
      ? [
          `Photograph ${photo.one} and ${photo.other} together: it makes ${photo.settles === 1 ? "1 space" : `${photo.settles} spaces`} sure.`,
        ]
      : []),
  ]
    .filter((line) => line !== "")
    .join("\n");
};
