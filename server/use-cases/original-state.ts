import type { LeafRecord } from "../records/record-schema.ts";
import type { PhotoFiles } from "../site.ts";

/** Whether an original still has the bytes that gave it its name; it is read whole. */
export const originalState = async (
  photos: PhotoFiles,
  sha256: string,
): Promise<LeafRecord["photos"][number]["original"]> => (await photos.check(sha256)) ?? "as-received";
