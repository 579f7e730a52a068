import type { Delivery } from "../contract/delivery.ts";

/** Why a delivery cannot stand like this: a leaf is not in it that a photo, mark, plan, wish or pair still names; null when it can. */
export const leafLeftBehind = ({ leaves, photos, marks, allotment }: Delivery): string | null => {
  const codes = new Set(leaves.map(({ code }) => code));
  const named: readonly (readonly [what: string, leaf: string | null])[] = [
    ...photos.flatMap(({ name, shows }) => shows.map(({ leaf }) => [`photo ${name} shows`, leaf] as const)),
    ...marks.map(({ leaf }) => ["a mark lies on", leaf] as const),
    ...allotment.plan.map(({ opening, leaf }) => [`the plan for ${opening} holds`, leaf] as const),
    ...allotment.locks.map(({ opening, leaf }) => [`a lock in ${opening} holds`, leaf] as const),
    ...allotment.bans.map(({ leaf }) => ["a wish keeps out", leaf] as const),
    ...leaves.map(({ code, pairWith }) => [`${code} is a pair with`, pairWith] as const),
    ...leaves.map(({ code, replaces }) => [`${code} replaces`, replaces] as const),
  ];
  const [what, leaf] = named.find(([, one]) => one !== null && !codes.has(one)) ?? [];
  return leaf ? `${leaf} cannot go: ${what} it.` : null;
};
