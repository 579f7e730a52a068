import { constants } from "node:fs/promises";
import { join } from "node:path";
import { applyPatches, createDraft, current, type Draft, enablePatches, finishDraft, isDraft, type Patch } from "immer";
import type { Delivery } from "../contract/delivery.ts";
import type { Actor } from "../contract/ids.ts";
import type { HistoryLine } from "../contract/views.ts";
import { Refusal } from "../problem.ts";
import type { DeliveryStore, Standing } from "../site.ts";
import { historyOf, whyNoUndo } from "./change-history.ts";
import { type Disk, discard, hasCode, isReadOnly } from "./disk.ts";
import { fittingDocument } from "./fitting-document.ts";
import { openJournal } from "./journal.ts";
import { type JournalLine, sealLine } from "./journal-line.ts";
import { lastChange } from "./last-change.ts";
import { measurementFiles } from "./measurement-files.ts";
import { migrate } from "./migrations.ts";
import { oneAtATime } from "./one-at-a-time.ts";
import { photoFiles } from "./photo-files.ts";
import { recordFiles } from "./record-files.ts";
import { openSnapshots, type Snapshot } from "./snapshot.ts";
import { folderIsReadOnly, type StoreHealth } from "./store-health.ts";
import { takenBackWords } from "./taken-back.ts";
import { uploadFiles } from "./upload-files.ts";
import { verifyDeliveryFiles } from "./verify-delivery-files.ts";

enablePatches();

/** A delivery on disk, and how to let go of it. */
export interface OpenDelivery extends DeliveryStore {
  close(): Promise<void>;
}

/** What all deliveries of a store stand on. */
export interface Ground {
  readonly disk: Disk;
  readonly health: StoreHealth;
  /** ISO 8601. */
  readonly now: () => string;
}

type Change = Pick<JournalLine, "actor" | "device" | "what" | "patches" | "inverse">;

/** A snapshot is due after so many lines, and after a quarter more than it stands for: what it writes stays a small part. */
const isDue = (lines: number, atLast: number): boolean => lines - atLast >= Math.max(50, atLast / 4);

/** Who brings a delivery to a new version. */
const program = { actor: "Leafledger", device: "this computer" };

export const journalName = "journal.jsonl";

const goneBefore = "The change before this one could not be saved, so this one was not either: do it again.";

/** The document that a journal adds up to, from the snapshot on when it belongs to this journal; of any version. */
const replay = (lines: readonly JournalLine[], snapshot: Snapshot | null): unknown => {
  if (snapshot && snapshot.seq > lines.length)
    throw new Error(`the journal ends at line ${lines.length}, yet line ${snapshot.seq} was once written`);
  const fits = snapshot !== null && lines[snapshot.seq - 1]?.sha256 === snapshot.sha256;
  const start = fits ? (snapshot.document as object) : {};
  const patches = lines.slice(fits ? snapshot.seq : 0).flatMap((line) => [...line.patches]);
  return applyPatches(start, patches);
};

/** Makes a delivery's folders and sweeps what uploads left behind. A folder that may only be read makes the store such. */
const prepare = async (folder: string, { disk, health }: Ground): Promise<void> => {
  if (health.told().readOnly !== null) return;
  try {
    await disk.access(join(folder, journalName), constants.W_OK);
    for (const name of ["photos", "records", "measurements", "snapshots", "tmp"])
      await disk.mkdir(join(folder, name), { recursive: true });
    for (const name of await disk.readdir(join(folder, "tmp"))) await discard(join(folder, "tmp", name), disk);
    for (const sub of [".", "records", "snapshots"])
      for (const name of await disk.readdir(join(folder, sub)))
        if (name.endsWith(".tmp")) await discard(join(folder, sub, name), disk); // a file that a kill kept from its name
  } catch (error) {
    if (hasCode(error, "ENOENT")) throw new Error("its journal is missing");
    if (!isReadOnly(error)) throw error;
    health.onlyRead(folderIsReadOnly);
  }
};

/** Opens the delivery in a folder. Throws, with the line's number, when its journal is damaged; never starts empty. */
export const openDelivery = async (id: string, folder: string, ground: Ground): Promise<OpenDelivery> => {
  const { disk, health, now } = ground;
  await prepare(folder, ground);
  const path = join(folder, journalName);
  const snapshots = await openSnapshots(join(folder, "snapshots"), disk);
  const fit = fittingDocument();
  let snapshotAt = snapshots.data?.seq ?? 0;

  /** What readers see: it is on disk. `computed` is ahead of it by the lines that are being flushed. */
  let saved: Standing;
  let computed: Standing;
  const underway = new Map<number, Standing>();
  const journal = await openJournal(path, disk, health, {
    landed: ({ seq, at }) => {
      saved = underway.get(seq) ?? saved;
      underway.delete(seq);
      health.clock.saw(at);
      if (isDue(seq, snapshotAt)) snapshot().catch(() => undefined); // the journal alone is enough
    },
    lost: () => {
      underway.clear();
      computed = saved;
    },
  });

  /** What a change that finds nothing to change rests on, too. */
  let newest = Promise.resolve();

  /** Seals the line and hands it to the journal. The document counts as computed at once, and is seen when it is on disk. */
  const commit = (document: Delivery, change: Change): { seq: number; onDisk: Promise<void> } => {
    if (change.patches.length === 0) return { seq: computed.head.seq, onDisk: newest };
    health.check("entry");
    fit(document);
    const { head } = computed;
    const line = sealLine(head, { at: now(), ...change });
    computed = { document, head: { seq: line.seq, sha256: line.sha256 } };
    underway.set(line.seq, computed);
    newest = journal.append(line);
    return { seq: line.seq, onDisk: newest };
  };

  const writing = oneAtATime();
  const snapshot = (): Promise<void> => {
    const { document, head } = saved;
    snapshotAt = head.seq;
    return writing.run(async () => {
      if (head.seq === snapshots.data?.seq) return;
      const { seq, sha256 } = head;
      await health.writing("file", async () => {
        snapshots.data = { seq, sha256, document };
        await snapshots.write();
      });
    });
  };

  try {
    const { document, ...change } = migrate(replay(journal.lines, snapshots.data));
    fit(document);
    const { seq, sha256, at } = journal.lines.at(-1) as JournalLine;
    health.clock.saw(at);
    saved = { document, head: { seq, sha256 } };
    computed = saved;
    if (health.told().readOnly === null)
      await commit(document, { ...program, what: `Brought to version ${document.version}`, ...change }).onDisk;
  } catch (error) {
    await journal.close();
    throw error;
  }

  const turns = oneAtATime();
  let told: { seq: number; lines: readonly HistoryLine[] } = { seq: 0, lines: [] };
  const photos = photoFiles(join(folder, "photos"), disk, health);
  const records = recordFiles(join(folder, "records"), () => saved.document.records.length, disk, health);

  return {
    id,
    read: () => saved.document,
    head: () => saved.head,
    change: async <T>(
      actor: Actor,
      what: string,
      recipe: (draft: Draft<Delivery>, before: Standing) => T | Promise<T>,
    ) => {
      const { seq, onDisk, result } = await turns.run(async () => {
        health.check("entry");
        const before = computed;
        const draft = createDraft(before.document);
        const value = await recipe(draft, before);
        const result = isDraft(value) ? (current(value as Draft<object>) as T) : value;
        let patches: Patch[] = [];
        let inverse: Patch[] = [];
        const next = finishDraft(draft, (forward, back) => {
          patches = forward;
          inverse = back;
        }) as Delivery;
        if (computed !== before) throw new Refusal(goneBefore, 503);
        return { ...commit(next, { actor: actor.name, device: actor.device, what, patches, inverse }), result };
      });
      await onDisk;
      return { seq, result };
    },
    undo: async (actor, seq, whyNot) => {
      const back = await turns.run(async () => {
        await journal.idle();
        const line = journal.lines[seq - 1];
        const why = whyNoUndo(journal.lines, seq);
        if (!line || why !== null) throw new Refusal(why ?? `There is no change number ${seq}.`);
        const left = applyPatches(computed.document, [...line.inverse]);
        const against = whyNot?.(left) ?? null;
        if (against !== null) throw new Refusal(against);
        const { name, device } = actor;
        const what = takenBackWords(line.what);
        return commit(left, { actor: name, device, what, patches: line.inverse, inverse: line.patches });
      });
      await back.onDisk;
      return { seq: back.seq };
    },
    history: () => {
      if (told.seq !== saved.head.seq) told = { seq: saved.head.seq, lines: historyOf(journal.lines) };
      return told.lines;
    },
    lastChange: async (seq, read) => {
      await journal.idle();
      return lastChange(journal.lines.slice(seq), computed.document, read);
    },
    verify: () => verifyDeliveryFiles(saved.document, { path, lines: journal.lines.length }, photos, records),
    photos,
    records,
    measurements: measurementFiles(join(folder, "measurements"), disk, health),
    uploads: uploadFiles(join(folder, "tmp"), disk, health),
    temporaryFolder: join(folder, "tmp"),
    close: async () => {
      await turns.idle();
      await journal.idle();
      if (health.told().readOnly === null) await snapshot().catch(() => undefined);
      await journal.close();
    },
  };
};
