import { useMemo } from "preact/hooks";
import type { Body, Reply } from "../server/contract/calls.ts";
import type { CallName } from "../server/contract/paths.ts";
import { call, type Outcome, type Params } from "./api.ts";
import { askWho, type Desk, useDesk } from "./desk.ts";
import { learnState, standOut } from "./standing.ts";

type Changing = {
  [Name in CallName]: Body<Name> extends null ? never : Name;
}[CallName];

const undoSeconds = 10;

const show = (desk: Desk, notice: NonNullable<Desk["notice"]["value"]>, seconds: number) => {
  desk.notice.value = notice;
  setTimeout(() => {
    if (desk.notice.value === notice) desk.notice.value = null;
  }, seconds * 1000);
};

const refusal = (outcome: Outcome<unknown>) =>
  outcome.kind === "refused"
    ? { says: outcome.problem.detail, faults: outcome.problem.faults ?? [] }
    : { says: "The laptop cannot be reached. Nothing was changed; try again.", faults: [] };

/**
 * Makes changes: asks for the name once, tells what came of it, and offers to take it back for ten seconds. Where another was
 * first, both entries are shown to choose from.
 * Resolves to the reply, or to null when it was refused or the laptop cannot be reached.
 */
export const useChange = () => {
  const desk = useDesk();
  return useMemo(() => {
    const change = async <Name extends Changing>(
      name: Name,
      params: Params<Name>,
      content: Body<Name>,
      says: string,
      takeBack?: (reply: Reply<Name>) => void,
    ): Promise<Reply<Name> | null> => {
      if (!(await askWho(desk))) return null;
      const write = call as unknown as (
        name: Name,
        params: Params<Name>,
        body: Body<Name>,
      ) => Promise<Outcome<Reply<Name>>>;
      const outcome = await write(name, params, content);
      const conflict = outcome.kind === "refused" ? outcome.problem.conflict : undefined;
      if (conflict && "delivery" in params) {
        desk.notice.value = null;
        desk.conflict.value = { delivery: String(params.delivery), shown: conflict };
        desk.freshness.value += 1;
        return null;
      }
      if (outcome.kind !== "ok") {
        if (outcome.kind === "refused" && outcome.problem.status === 401) await standOut(desk);
        if (outcome.kind === "refused" && outcome.problem.status >= 500) void learnState(desk);
        show(desk, { tone: "refused", ...refusal(outcome), takeBack: null }, 30);
        return null;
      }
      const reply = outcome.value;
      show(desk, { tone: "done", says, faults: [], takeBack: takeBack ? () => takeBack(reply) : null }, undoSeconds);
      desk.freshness.value += 1;
      return reply;
    };
    /** A change whose reply is a line of the history, so that it can be taken back by that number. */
    const undoable = <Name extends UndoableName>(
      delivery: string,
      name: Name,
      params: Params<Name>,
      content: Body<Name>,
      says: string,
    ) =>
      change(name, params, content, says, (reply) => {
        void change("undo", { delivery }, { seq: (reply as { seq: number }).seq }, "Taken back.");
      });
    return { change, undoable };
  }, [desk]);
};

type UndoableName = {
  [Name in Changing]: Reply<Name> extends { seq: number } ? Name : never;
}[Changing];
