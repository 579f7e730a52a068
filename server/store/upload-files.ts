import { createHash, randomUUID } from "node:crypto";
import { join } from "node:path";
import { limits } from "../limits.ts";
import { Refusal } from "../problem.ts";
import type { UploadFiles } from "../site.ts";
import { type Disk, discard, nodeDisk, sha256OfFile } from "./disk.ts";
import { unwatched } from "./store-health.ts";

/** A photo that is sent piece by piece: `bytes` when it is whole, `offset` so far. */
interface Unfinished {
  readonly path: string;
  readonly bytes: number;
  offset: number;
  heardAt: number;
  /** Ends the request that is bringing bytes now. */
  stop: (() => void) | null;
  bringing: Promise<void>;
}

/** A sender that has been silent for so long has lost its connection, whether or not we heard of it, ms. */
const silentMs = 2000;

const now = (): number => performance.now();

/**
 * Photos on their way in, in a delivery's temporary folder, which is swept when the delivery is opened: what is known of
 * unfinished ones is kept in memory only. Nothing is flushed here; a photo is when it is kept.
 */
export const uploadFiles = (folder: string, disk: Disk = nodeDisk, health = unwatched): UploadFiles => {
  const unfinished = new Map<string, Unfinished>();

  const drop = async (sha256: string): Promise<void> => {
    const one = unfinished.get(sha256);
    unfinished.delete(sha256);
    if (one) await discard(one.path, disk);
  };

  /** Lets only one request bring bytes; one that fell silent gives way. */
  const free = async (one: Unfinished): Promise<void> => {
    if (!one.stop) return;
    if (now() - one.heardAt < silentMs) throw new Refusal("This photo is being sent already: wait a moment.", 423);
    one.stop();
    await one.bringing;
  };

  const write = async (one: Unfinished, stream: AsyncIterable<Buffer>): Promise<void> => {
    const handle = await disk.open(one.path, "r+");
    try {
      for await (const chunk of stream) {
        if (one.offset + chunk.length > one.bytes)
          throw new Refusal("More bytes came than the photo was said to have.", 413);
        for (let done = 0; done < chunk.length; ) {
          const { bytesWritten } = await handle.write(chunk, done, chunk.length - done, one.offset);
          done += bytesWritten;
          one.offset += bytesWritten;
        }
        one.heardAt = now();
      }
    } finally {
      await handle.close();
    }
  };

  return {
    receive: (stream) =>
      health.writing("photo", async () => {
        const path = join(folder, randomUUID());
        const hash = createHash("sha256");
        let bytes = 0;
        const handle = await disk.open(path, "wx");
        try {
          for await (const chunk of stream) {
            hash.update(chunk);
            bytes += chunk.length;
            await handle.writeFile(chunk); // goes on where the last piece ended
          }
        } catch (error) {
          await discard(path, disk);
          throw error;
        } finally {
          await handle.close();
        }
        return { path, bytes, sha256: hash.digest("hex") };
      }),
    discard: ({ path }) => discard(path, disk),
    begin: (sha256, bytes) =>
      health.writing("photo", async () => {
        if (unfinished.get(sha256)?.bytes === bytes) return;
        await drop(sha256);
        if (unfinished.size >= limits.unfinishedUploads)
          throw new Refusal("Many photos have been begun and not sent to their end: try again in a minute.", 503);
        const path = join(folder, `unfinished-${sha256}`);
        const bringing = Promise.resolve();
        unfinished.set(sha256, { path, bytes, offset: 0, heardAt: now(), stop: null, bringing });
        try {
          await (await disk.open(path, "w")).close();
        } catch (error) {
          unfinished.delete(sha256);
          throw error;
        }
      }),
    progress: async (sha256) => {
      const one = unfinished.get(sha256);
      if (!one) return null;
      await free(one);
      return { offset: one.offset, bytes: one.bytes };
    },
    append: (sha256, offset, stream, stop) =>
      health.writing("photo", async () => {
        const one = unfinished.get(sha256);
        if (!one) throw new Refusal("This photo was not begun, or too long ago: begin it again.", 404);
        await free(one);
        if (offset !== one.offset) throw new Refusal(`${one.offset} bytes have arrived: go on from there.`, 409);
        one.stop = stop;
        one.heardAt = now();
        const writing = write(one, stream).finally(() => {
          one.stop = null;
        });
        one.bringing = writing.catch(() => undefined);
        await writing;
        return one.offset;
      }),
    finished: async (sha256) => {
      const one = unfinished.get(sha256);
      if (!one || one.offset < one.bytes) throw new Refusal("Not all of this photo has arrived: send the rest.", 409);
      return { path: one.path, bytes: one.bytes, sha256: await sha256OfFile(one.path) };
    },
    drop,
    sweep: async () => {
      for (const [sha256, one] of unfinished)
        if (!one.stop && now() - one.heardAt > limits.unfinishedMs) await drop(sha256);
    },
  };
};
