import type { Actor } from "../contract/ids.ts";

/** A hand takes back what was entered under the same name on the same device, a foreman anything. Our own rule. */
export const mayTakeBack = (line: Readonly<Record<"actor" | "device", string>>, by: Actor): boolean =>
  by.role !== "hand" || (line.actor === by.name && line.device === by.device);
