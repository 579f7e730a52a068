import type { Reply, Signed } from "../contract/calls.ts";
import { code } from "../contract/ids.ts";
import { Refusal } from "../problem.ts";
import type { Site } from "../site.ts";
import { putLeaf } from "./add-leaf.ts";
import { lineOf } from "./delivery-parts.ts";

/** Codes go on from those on the line, W03 to W04; the first of a line L2 is L2-01. */
const nextCodes = (line: string, onLine: readonly string[], taken: ReadonlySet<string>, count: number): string[] => {
  const prefix = /^(.*?)\d+$/.exec(onLine.at(-1) ?? "")?.[1] ?? `${line}-`;
  const codes: string[] = [];
  for (let number = 1; codes.length < count; number++) {
    const next = `${prefix}${String(number).padStart(2, "0")}`;
    if (!code.safeParse(next).success)
      throw new Refusal(
        `Codes that begin with ${prefix} become too long: enter the leaves of ${line} one by one.`,
        422,
      );
    if (!taken.has(next)) codes.push(next);
  }
  return codes;
};

/**
 * Adds as many leaves to an order line as were counted and are not there yet, so that their labels can be printed before they are
 * unwrapped. Refused while the line is not counted, or when as many are there already.
 */
export const addLeavesOfLine = async (
  site: Site,
  deliveryId: string,
  lineId: string,
  { by }: Signed<"addLeavesOfLine">,
): Promise<Reply<"addLeavesOfLine">> => {
  const store = site.store.open(deliveryId);
  const { seq, result } = await store.change(by, `Added the counted leaves of line ${lineId}`, (delivery) => {
    const { counted, pattern } = lineOf(delivery, lineId);
    if (counted === null) throw new Refusal(`Count line ${lineId} first.`);
    const onLine = delivery.leaves.filter(({ line }) => line === lineId).map((leaf) => leaf.code);
    if (onLine.length >= counted)
      throw new Refusal(`Line ${lineId} has ${onLine.length} leaves already and ${counted} were counted.`);
    const taken = new Set(delivery.leaves.map((leaf) => leaf.code));
    const codes = nextCodes(lineId, onLine, taken, counted - onLine.length);
    for (const one of codes)
      putLeaf(delivery, { code: one, line: lineId, pattern, identity: "as-ordered", replaces: null });
    return codes;
  });
  return { seq, leaves: result };
};
