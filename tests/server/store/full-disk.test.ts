import { open, readFile, rm, statfs, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { describe, expect, onTestFinished, test, vi } from "vitest";
import { sha256Of } from "../../../server/records/canonical.ts";
import { nodeDisk } from "../../../server/store/disk.ts";
import { type OpenStore, openStore } from "../../../server/store/store.ts";
import { newDelivery } from "../../../server/use-cases/create-delivery.ts";
import { by, smallDelivery } from "../../support/small-delivery.ts";
import { smallDisk, whyNoMount } from "../../support/small-disk.ts";
import { temporaryFolder } from "../../support/temporary-folder.ts";
import { testNow, writeDelivery, writtenId } from "../../support/written-delivery.ts";

/** Thresholds for a disk of 2 MB, in the same order of size as the real ones. */
const room = { warn: 1_200_000, photos: 800_000, reserve: 300_000 };
const none = { warn: 0, photos: 0, reserve: 0 };

const freeIn = async (folder: string): Promise<number> => {
  const { bavail, bsize } = await statfs(folder);
  return bavail * bsize;
};

/** Fills the disk until so many bytes are left. */
const fillTo = async (folder: string, left: number): Promise<void> => {
  const take = (await freeIn(folder)) - left;
  const file = await open(join(folder, "filler"), "a");
  try {
    await file.writeFile(Buffer.alloc(Math.max(0, take)));
  } catch (error) {
    expect(error).toMatchObject({ code: "ENOSPC" });
  } finally {
    await file.close();
  }
};
const empty = (folder: string) => rm(join(folder, "filler"), { force: true });

const count = (store: OpenStore, counted: number, note = "") =>
  store.open(writtenId).change(by, `Counted ${counted}${note}`, (draft) => {
    const line = draft.lines[0];
    if (line) line.counted = counted;
  });

const temporaryPhoto = async (store: OpenStore, bytes: number) => {
  const content = Buffer.alloc(bytes, 7);
  const path = join(store.open(writtenId).temporaryFolder, "one");
  await writeFile(path, content);
  return { path, id: sha256Of(content) };
};

const openOn = async (folder: string, limits = room): Promise<OpenStore> => {
  const store = await openStore(folder, testNow, { room: limits });
  onTestFinished(() => store.close());
  return store;
};

describe.skipIf(whyNoMount() !== null)("A4: a disk of 2 MB that fills up", () => {
  test("warns, then refuses photos, then all but entries, and says so; all of it goes on when there is room again", async () => {
    const { folder } = await smallDisk(2);
    await writeDelivery(folder, 1, { room });
    const store = await openOn(folder);
    expect(store.health().disk).toBeNull();
    const photo = await temporaryPhoto(store, 20_000);
    const { photos, records } = store.open(writtenId);
    const toldAfter = (left: number, words: RegExp) =>
      fillTo(folder, left).then(() => vi.waitFor(() => expect(store.health().disk).toMatch(words), { timeout: 5000 }));
    await toldAfter(1_000_000, /^Only 0 MB are free on the disk. Free some space/);
    store.check("photo");
    await toldAfter(500_000, /so no photos are taken in until/);
    await expect(photos.keep(photo.path, photo.id)).rejects.toMatchObject({ status: 507 });
    await records.write(1, "{}", Buffer.from("%PDF"));
    await toldAfter(200_000, /only entries are saved/);
    await expect(records.write(1, "{}", Buffer.from("%PDF"))).rejects.toMatchObject({ status: 507 });
    await count(store, 2);
    await empty(folder);
    await vi.waitFor(() => photos.keep(photo.path, photo.id), { timeout: 5000 });
    expect(store.health()).toMatchObject({ disk: null, readOnly: null });
    expect(await photos.check(photo.id)).toBeNull();
  });

  test("full to the last byte in the middle of entries: 507, what was saved is there, and the next one is saved when there is room", async () => {
    const { folder } = await smallDisk(2);
    await writeDelivery(folder, 1, { room: none });
    const store = await openOn(folder, none);
    await fillTo(folder, 30_000);
    let saved = 0;
    let refused: unknown = null;
    for (let counted = 2; counted < 400 && refused === null; counted++)
      await count(store, counted, "x".repeat(900)).then(
        () => {
          saved = counted;
        },
        (error: unknown) => {
          refused = error;
        },
      );
    expect(saved).toBeGreaterThan(5);
    expect(refused).toMatchObject({ status: 507, message: expect.stringMatching(/disk is full/) });
    expect(store.open(writtenId).read().lines[0]?.counted).toBe(saved);
    await empty(folder);
    await count(store, 777);
    await store.close();
    const again = await openOn(folder, none);
    expect(again.open(writtenId).read().lines[0]?.counted).toBe(777);
  });

  const points = ["mkdir", "open", "write", "writeFile", "sync", "datasync", "rename", "readFile"] as const;

  /** Before the n-th call of a kind the disk is filled to its last byte. */
  const filledAt = (folder: string, kind: (typeof points)[number]) => {
    let armed = false;
    const before = async (name: string) => {
      if (!armed || name !== kind) return;
      armed = false;
      await fillTo(folder, 0);
    };
    const wrap = <T extends object>(target: T): T =>
      new Proxy(target, {
        get: (object, name) => {
          const own: unknown = Reflect.get(object, name);
          if (typeof own !== "function") return own;
          return async (...args: unknown[]) => {
            await before(String(name));
            const value: unknown = await own.apply(object, args);
            return name === "open" ? wrap(value as object) : value;
          };
        },
      });
    return {
      disk: wrap({ ...nodeDisk }),
      arm: () => {
        armed = true;
      },
    };
  };

  test.each(points)(
    "filled just before the %s of a photo, a record, an entry, a delivery: refused or saved whole",
    async (kind) => {
      const { folder } = await smallDisk(2);
      await writeDelivery(folder, 1, { room: none });
      const { disk, arm } = filledAt(folder, kind);
      const store = await openStore(folder, testNow, { room: none, disk });
      const delivery = store.open(writtenId);
      const photo = await temporaryPhoto(store, 60_000);
      const tasks = [
        () => delivery.photos.keep(photo.path, photo.id),
        () => delivery.records.write(1, "{}", Buffer.alloc(50_000)),
        () => count(store, 5, "y".repeat(5000)),
        () => store.create(by, newDelivery("other", smallDelivery)),
      ];
      const kept = [];
      for (const task of tasks) {
        arm();
        kept.push(
          await task().then(
            () => true,
            (error: unknown) => {
              expect(error).toMatchObject({ status: 507 });
              return false;
            },
          ),
        );
        await empty(folder);
      }
      expect(store.health().readOnly).toBeNull();
      await count(store, 9);
      await store.close();
      const again = await openOn(folder, none);
      expect(again.damaged.size).toBe(0);
      expect(again.open(writtenId).read().lines[0]?.counted).toBe(9);
      if (kept[0]) expect(await again.open(writtenId).photos.check(photo.id)).toBeNull();
      if (kept[1]) expect((await readFile(again.open(writtenId).records.path(1, "pdf"))).length).toBe(50_000);
      if (kept[3]) expect(again.list()).toContain("other");
    },
  );
});

test("A4: starting on a full disk is possible, for reading and for making room", async () => {
  const folder = await temporaryFolder();
  await writeDelivery(folder, 1);
  const store = await openStore(folder, testNow, { room: { warn: 2e18, photos: 1e18, reserve: 0 } });
  onTestFinished(() => store.close());
  expect(store.health().disk).toMatch(/no photos are taken in/);
  expect(() => store.check("photo")).toThrow(expect.objectContaining({ status: 507 }));
  expect(store.open(writtenId).read().id).toBe(writtenId);
});
