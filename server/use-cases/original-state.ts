import { createHash } from "node:crypto";
import { createReadStream } from "node:fs";
import type { LeafRecord } from "../records/record-schema.ts";
import type { PhotoFiles } from "../site.ts";

/** Whether an original still has the bytes that gave it its name. */
export const originalState = async (
  photos: PhotoFiles,
  sha256: string,
): Promise<LeafRecord["photos"][number]["original"]> => {
  if (!photos.has(sha256)) return "missing";
  const hash = createHash("sha256");
  try {
    for await (const chunk of createReadStream(photos.path(sha256))) hash.update(chunk as Buffer);
  } catch {
    return "missing";
  }
  return hash.digest("hex") === sha256 ? "as-received" : "changed";
};
