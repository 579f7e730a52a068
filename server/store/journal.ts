import type { FileHandle } from "node:fs/promises";
import type { Head } from "../site.ts";
import { type Disk, writeDurably } from "./disk.ts";
import { beforeFirst, type JournalLine, readJournalText, writeLine } from "./journal-line.ts";
import type { StoreHealth } from "./store-health.ts";

/** An append-only file of changes. `lines` are on disk; their order is the order in which they were handed in. */
export interface Journal {
  readonly lines: readonly JournalLine[];
  head(): Head;
  /**
   * Resolves when the line is on disk. Lines that come while others are being flushed are written together and share the next
   * flush. When a line fails, all that wait behind it fail with it: they follow from it.
   */
  append(line: JournalLine): Promise<void>;
  idle(): Promise<void>;
  close(): Promise<void>;
}

/** Hears, before any promise is settled, what became of lines: one is on disk, or all that were not yet are lost. */
export interface JournalListener {
  landed(line: JournalLine): void;
  lost(): void;
}

interface Waiting {
  readonly line: JournalLine;
  readonly done: () => void;
  readonly fail: (error: unknown) => void;
}

const failed =
  "The disk failed while saving, and what it may have written could not be taken back, so nothing more is written. What was saved is safe. Check the disk and start again.";

const writeAt = async (handle: FileHandle, bytes: Buffer, at: number): Promise<void> => {
  for (let done = 0; done < bytes.length; ) {
    const { bytesWritten } = await handle.write(bytes, done, bytes.length - done, at + done);
    if (bytesWritten === 0) throw new Error("the disk took no more bytes");
    done += bytesWritten;
  }
};

/**
 * Opens a journal, sets a cut-off last line aside in a file of its own and goes on behind the last whole line.
 * Throws with the line's number when a line is damaged. A store that may only be read leaves the file as it is.
 */
export const openJournal = async (
  path: string,
  disk: Disk,
  health: StoreHealth,
  listener: JournalListener,
): Promise<Journal> => {
  const text = readJournalText(await disk.readFile(path));
  if (text.kind === "damaged") throw new Error(`its journal: line ${text.line} ${text.why}`);
  const lines = [...text.lines];
  let end = text.bytes;

  const openForWriting = async (): Promise<FileHandle> => {
    const handle = await disk.open(path, "r+");
    try {
      if (text.tail.length > 0) {
        await writeDurably(`${path}.cut-after-line-${lines.length}`, text.tail, 0o644, disk);
        await handle.truncate(end);
        await handle.sync();
      }
    } catch (error) {
      await handle.close();
      throw error;
    }
    return handle;
  };
  const handle = health.told().readOnly === null ? await openForWriting() : null;

  const takeBack = async (): Promise<void> => {
    try {
      await handle?.truncate(end);
      await handle?.datasync();
    } catch {
      health.onlyRead(failed);
    }
  };

  const save = async (batch: readonly Waiting[]): Promise<void> => {
    const bytes = Buffer.from(batch.map(({ line }) => writeLine(line)).join(""));
    await health.writing("entry", async () => {
      if (!handle) throw new Error("the journal is not open for writing");
      try {
        await writeAt(handle, bytes, end);
        await handle.datasync();
      } catch (error) {
        await takeBack();
        throw error;
      }
    });
    end += bytes.length;
  };

  let waiting: Waiting[] = [];
  let saving: Promise<void> | null = null;
  const saveAll = async (): Promise<void> => {
    while (waiting.length > 0) {
      const batch = waiting;
      waiting = [];
      try {
        await save(batch);
        for (const { line } of batch) {
          lines.push(line);
          listener.landed(line);
        }
        for (const { done } of batch) done();
      } catch (error) {
        const lost = [...batch, ...waiting];
        waiting = [];
        listener.lost();
        for (const { fail } of lost) fail(error);
      }
    }
    saving = null;
  };

  return {
    lines,
    head: () => lines.at(-1) ?? beforeFirst,
    append: (line) =>
      new Promise((done, fail) => {
        waiting.push({ line, done, fail });
        saving ??= saveAll();
      }),
    idle: async () => {
      while (saving) await saving;
    },
    close: async () => {
      await handle?.close();
    },
  };
};
