import type { Body } from "../contract/calls.ts";
import type { Delivery, IssuedRecord } from "../contract/delivery.ts";
import type { Outcome } from "../contract/leaf.ts";
import { unitOf } from "../rules/leaf-decision.ts";

type Wish = Pick<Body<"issueRecord">, "kind" | "leaves" | "revises">;

const outcomesOf: Record<Wish["kind"], readonly Outcome[]> = {
  accept: ["accept", "accept-with-allowance"],
  return: ["return"],
};

/** The records that no later one revises. */
const standing = (records: readonly IssuedRecord[]): IssuedRecord[] =>
  records.filter(({ number }) => !records.some(({ revises }) => revises === number));

const whyNotLeaf = (delivery: Delivery, code: string, { kind, leaves }: Wish): string | null => {
  const leaf = delivery.leaves.find((candidate) => candidate.code === code);
  if (!leaf) return `There is no leaf ${code} in this delivery.`;
  if (!leaf.decision) return `Leaf ${code} is not decided yet. Decide it, then issue the record.`;
  if (!outcomesOf[kind].includes(leaf.decision.outcome)) {
    const wanted = kind === "return" ? "decided for return" : "accepted";
    return `Leaf ${code} is not ${wanted}, so it cannot stand on this record. Leave it out or change its decision first.`;
  }
  const missing = unitOf(leaf, delivery.leaves).find((other) => !leaves.includes(other.code));
  return missing
    ? `Leaf ${code} is half of a matched pair, which is one unit. Put ${missing.code} on the record too.`
    : null;
};

const whyNotRevised = ({ records }: Delivery, { kind, revises }: Wish): string | null => {
  if (revises === null) return null;
  const revised = records.find(({ number }) => number === revises);
  if (!revised) return `There is no record ${revises} to revise.`;
  const later = records.find((record) => record.revises === revises);
  if (later) return `Record ${revises} was revised by record ${later.number}. Revise that one.`;
  return revised.kind === kind ? null : `Record ${revises} is of another kind and cannot be revised by this one.`;
};

const whyNotTwice = ({ records }: Delivery, { leaves, revises }: Wish): string | null => {
  const holding = standing(records).find(
    (record) => record.number !== revises && record.leaves.some((code) => leaves.includes(code)),
  );
  if (!holding) return null;
  const codes = holding.leaves.filter((code) => leaves.includes(code)).join(", ");
  return `Record ${holding.number} holds ${codes} already. Issue a revision of it, or leave them out.`;
};

/** Why a record of these leaves cannot be issued, a sentence each; empty when it can. */
export const whyNotRecorded = (delivery: Delivery, wish: Wish): string[] =>
  [
    new Set(wish.leaves).size < wish.leaves.length ? "A leaf is named twice." : null,
    ...wish.leaves.map((code) => whyNotLeaf(delivery, code, wish)),
    whyNotRevised(delivery, wish),
    whyNotTwice(delivery, wish),
  ].filter((why) => why !== null);
