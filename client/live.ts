import type { ServerEvent } from "../server/contract/calls.ts";
import { address } from "./api.ts";

/**
 * Listens to what happens to a delivery; the browser reconnects by itself. Planning may have ended while the line was down, so none is
 * going on until it is told of again. Returns how to stop.
 */
export const listen = (delivery: string, heard: (event: ServerEvent) => void): (() => void) => {
  const source = new EventSource(address("events", { delivery }));
  for (const kind of ["progress", "changed", "planning"] satisfies ServerEvent["kind"][])
    source.addEventListener(kind, (message) => heard(JSON.parse(message.data)));
  source.addEventListener("open", () => heard({ kind: "planning", planning: null }));
  return () => source.close();
};
