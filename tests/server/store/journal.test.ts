import { type FileHandle, open, readFile } from "node:fs/promises";
import { describe, expect, test } from "vitest";
import { clockWatch } from "../../../server/store/clock-watch.ts";
import { type Disk, nodeDisk } from "../../../server/store/disk.ts";
import { diskSpace, roomLimits } from "../../../server/store/disk-space.ts";
import { openJournal } from "../../../server/store/journal.ts";
import { readJournalText, sealLine } from "../../../server/store/journal-line.ts";
import { storeHealth } from "../../../server/store/store-health.ts";
import { temporaryFolder } from "../../support/temporary-folder.ts";
import { journalPath, testNow, writeDelivery } from "../../support/written-delivery.ts";

const change = {
  at: "2026-03-03T12:00:00Z",
  actor: "R. Tester",
  device: "laptop",
  what: "x",
  patches: [],
  inverse: [],
};

type Broken = Partial<Pick<FileHandle, "write" | "datasync" | "truncate">>;

/** Opens files whose named operations go wrong. */
const failing =
  (broken: (handle: FileHandle) => Broken): Disk["open"] =>
  async (...args) => {
    const handle = await open(...args);
    const bad = broken(handle);
    return new Proxy(handle, {
      get: (target, name) => {
        const own = name in bad ? bad[name as keyof Broken] : Reflect.get(target, name);
        return typeof own === "function" ? own.bind(target) : own;
      },
    });
  };

const opened = (folder: string, openFile: Disk["open"] = open) => {
  const health = storeHealth(diskSpace(folder, roomLimits), clockWatch(testNow), async () => null);
  const disk = { ...nodeDisk, open: openFile };
  return openJournal(journalPath(folder), disk, health, { landed: () => undefined, lost: () => undefined });
};

const diskError = (code: string): Error =>
  Object.assign(new Error(code), { code, syscall: code === "EIO" ? "fdatasync" : "write" });

describe("a disk that fails", () => {
  test("full in the middle of a line: says so, leaves no half line, and goes on when there is room again", async () => {
    const folder = await temporaryFolder();
    await writeDelivery(folder, 1);
    const before = await readFile(journalPath(folder));
    let full = true;
    const journal = await opened(
      folder,
      failing((handle) => ({
        write: (async (bytes: Buffer, offset: number, length: number, position: number) => {
          if (!full) return handle.write(bytes, offset, length, position);
          await handle.write(bytes, offset, 20, position);
          throw diskError("ENOSPC");
        }) as FileHandle["write"],
      })),
    );
    await expect(journal.append(sealLine(journal.head(), change))).rejects.toMatchObject({ status: 507 });
    expect(await readFile(journalPath(folder))).toEqual(before);
    full = false;
    await journal.append(sealLine(journal.head(), change));
    await journal.close();
    expect(readJournalText(await readFile(journalPath(folder)))).toMatchObject({ kind: "sound", lines: { length: 3 } });
  });

  test("a failed flush: the line does not count, and nothing more is written", async () => {
    const folder = await temporaryFolder();
    await writeDelivery(folder, 1);
    const before = await readFile(journalPath(folder));
    let fails = true;
    const journal = await opened(
      folder,
      failing((handle) => ({
        datasync: async () => {
          if (fails) throw diskError("EIO");
          await handle.datasync();
        },
      })),
    );
    await expect(journal.append(sealLine(journal.head(), change))).rejects.toMatchObject({ status: 503 });
    fails = false;
    await expect(journal.append(sealLine(journal.head(), change))).rejects.toMatchObject({ status: 503 });
    expect(journal.head().seq).toBe(2);
    await journal.close();
    expect(await readFile(journalPath(folder))).toEqual(before);
  });
});
