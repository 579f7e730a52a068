import { type FileHandle, open, readFile } from "node:fs/promises";
import { Refusal } from "../problem.ts";
import type { Head } from "../site.ts";
import { hasCode, writeDurably } from "./disk.ts";
import { beforeFirst, type JournalLine, readJournalText, writeLine } from "./journal-line.ts";

/** An append-only file of changes. What `append` resolved for is on disk. */
export interface Journal {
  readonly lines: readonly JournalLine[];
  head(): Head;
  /** Writes and flushes one line. When it throws the line does not count. */
  append(line: JournalLine): Promise<void>;
  close(): Promise<void>;
}

const fullDisk = "The disk is full, so nothing was saved. Free some space and do it again.";
const readOnly =
  "This delivery can only be read: the disk failed while saving. What was saved is safe. Check the disk and start again.";

/**
 * Opens a journal, sets a cut-off last line aside in a file of its own and goes on behind the last whole line.
 * Throws with the line's number when a line is damaged. After a failed flush it takes no more lines: the disk may have
 * dropped what it was given, and a second flush could falsely succeed (as PostgreSQL does, data_sync_retry).
 */
export const openJournal = async (path: string, openFile: typeof open = open): Promise<Journal> => {
  const text = readJournalText(await readFile(path));
  if (text.kind === "damaged") throw new Error(`${path}: line ${text.line} ${text.why}`);
  const handle: FileHandle = await openFile(path, "r+");
  if (text.tail.length > 0) {
    await writeDurably(`${path}.cut-after-line-${text.lines.length}`, text.tail);
    await handle.truncate(text.bytes);
    await handle.sync();
  }

  const lines = [...text.lines];
  let end = text.bytes;
  let broken = false;

  const takeBack = async (): Promise<void> => {
    try {
      await handle.truncate(end);
      await handle.datasync();
    } catch {
      broken = true;
    }
  };

  const write = async (bytes: Buffer): Promise<void> => {
    for (let done = 0; done < bytes.length; ) {
      const { bytesWritten } = await handle.write(bytes, done, bytes.length - done, end + done);
      if (bytesWritten === 0) throw new Error(`${path}: the disk took no more bytes`);
      done += bytesWritten;
    }
  };

  return {
    lines,
    head: () => lines.at(-1) ?? beforeFirst,
    append: async (line) => {
      if (broken) throw new Refusal(readOnly, 503);
      const bytes = Buffer.from(writeLine(line));
      try {
        await write(bytes);
      } catch (error) {
        await takeBack();
        throw hasCode(error, "ENOSPC", "EDQUOT") ? new Refusal(fullDisk, 507) : error;
      }
      try {
        await handle.datasync();
      } catch {
        await takeBack();
        broken = true;
        throw new Refusal(readOnly, 503);
      }
      end += bytes.length;
      lines.push(line);
    },
    close: () => handle.close(),
  };
};
