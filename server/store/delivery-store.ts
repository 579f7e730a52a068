import { mkdir, readdir, rm } from "node:fs/promises";
import { join } from "node:path";
import { applyPatches, createDraft, current, type Draft, enablePatches, finishDraft, isDraft, type Patch } from "immer";
import { type Delivery, deliveryDocument } from "../contract/delivery.ts";
import type { Actor } from "../contract/ids.ts";
import { Refusal } from "../problem.ts";
import type { DeliveryStore } from "../site.ts";
import { type Journal, openJournal } from "./journal.ts";
import { type JournalLine, sealLine } from "./journal-line.ts";
import { measurementFiles } from "./measurement-files.ts";
import { migrate } from "./migrations.ts";
import { oneAtATime } from "./one-at-a-time.ts";
import { photoFiles } from "./photo-files.ts";
import { recordFiles } from "./record-files.ts";
import { openSnapshots, type Snapshot } from "./snapshot.ts";
import { takenBackWords } from "./taken-back.ts";
import { undoBlockers } from "./touched-paths.ts";
import { verifyDeliveryFiles } from "./verify-delivery-files.ts";

enablePatches();

/** A delivery on disk, and how to let go of it. */
export interface OpenDelivery extends DeliveryStore {
  close(): Promise<void>;
}

const linesPerSnapshot = 50;

/** Who brings a delivery to a new version. */
const program = { actor: "Leafledger", device: "this computer" };

export const journalName = "journal.jsonl";

/** The document that a journal adds up to, from the snapshot on when it belongs to this journal. */
const replay = (lines: readonly JournalLine[], snapshot: Snapshot | null): unknown => {
  if (snapshot && snapshot.seq > lines.length)
    throw new Error(`the journal ends at line ${lines.length}, yet line ${snapshot.seq} was once written`);
  const fits = snapshot !== null && lines[snapshot.seq - 1]?.sha256 === snapshot.sha256;
  const start: object = fits ? snapshot.document : {};
  const patches = lines.slice(fits ? snapshot.seq : 0).flatMap((line) => [...line.patches]);
  return applyPatches(start, patches);
};

const whyNoUndo = (lines: readonly JournalLine[], seq: number): string | null => {
  const blocker = undoBlockers(lines).get(seq);
  if (blocker === undefined) return `There is no change number ${seq}.`;
  if (blocker === seq) return "Photos, issued records and the delivery itself are kept: they cannot be taken back.";
  if (blocker > 0)
    return `Change ${blocker} (${lines[blocker - 1]?.what}) came later and rests on it: take that back first.`;
  return null;
};

const sweep = async (folder: string): Promise<void> => {
  for (const name of await readdir(folder)) await rm(join(folder, name), { recursive: true, force: true });
};

/** Opens the delivery in a folder. Throws, with the line's number, when its journal is damaged; never starts empty. */
export const openDelivery = async (id: string, folder: string, now: () => string): Promise<OpenDelivery> => {
  for (const name of ["photos", "records", "measurements", "snapshots", "tmp"]) {
    await mkdir(join(folder, name), { recursive: true });
  }
  await sweep(join(folder, "tmp"));
  const path = join(folder, journalName);
  const journal: Journal = await openJournal(path);
  const snapshots = await openSnapshots(join(folder, "snapshots"));
  let document: Delivery;
  try {
    const { document: migrated, ...change } = migrate(replay(journal.lines, snapshots.data));
    deliveryDocument.parse(migrated);
    const what = `Brought to version ${migrated.version}`;
    if (change.patches.length > 0)
      await journal.append(sealLine(journal.head(), { at: now(), ...program, what, ...change }));
    document = migrated;
  } catch (error) {
    await journal.close();
    throw error;
  }

  const turns = oneAtATime();
  const photos = photoFiles(join(folder, "photos"));
  const records = recordFiles(join(folder, "records"), () => document.records.length);

  const snapshot = async (): Promise<void> => {
    const { seq, sha256 } = journal.head();
    if (seq === snapshots.data?.seq) return;
    snapshots.data = { seq, sha256, document };
    await snapshots.write();
  };

  /** Checks the changed document, writes its line, and only then lets readers see it. Nothing changed, nothing written. */
  const commit = async (next: Delivery, change: Omit<Parameters<typeof sealLine>[1], "at">): Promise<number> => {
    if (change.patches.length === 0) return journal.head().seq;
    deliveryDocument.parse(next);
    await journal.append(sealLine(journal.head(), { at: now(), ...change }));
    document = next;
    const { seq } = journal.head();
    if (seq % linesPerSnapshot === 0) turns.run(snapshot).catch(() => undefined); // the journal alone is enough
    return seq;
  };

  return {
    id,
    read: () => document,
    head: () => {
      const { seq, sha256 } = journal.head();
      return { seq, sha256 };
    },
    change: <T>(actor: Actor, what: string, recipe: (draft: Draft<Delivery>) => T | Promise<T>) =>
      turns.run(async () => {
        const draft = createDraft(document);
        const value = await recipe(draft);
        const result = isDraft(value) ? (current(value as Draft<object>) as T) : value;
        let patches: Patch[] = [];
        let inverse: Patch[] = [];
        const next = finishDraft(draft, (forward, back) => {
          patches = forward;
          inverse = back;
        }) as Delivery;
        return { seq: await commit(next, { actor: actor.name, device: actor.device, what, patches, inverse }), result };
      }),
    undo: (actor, seq, whyNot) =>
      turns.run(async () => {
        const line = journal.lines[seq - 1];
        const why = whyNoUndo(journal.lines, seq);
        if (!line || why !== null) throw new Refusal(why ?? `There is no change number ${seq}.`);
        const { name, device } = actor;
        const what = takenBackWords(line.what);
        const back = { actor: name, device, what, patches: line.inverse, inverse: line.patches };
        const left = applyPatches(document, [...line.inverse]);
        const against = whyNot?.(left) ?? null;
        if (against !== null) throw new Refusal(against);
        return { seq: await commit(left, back) };
      }),
    history: () => {
      const blockers = undoBlockers(journal.lines);
      return journal.lines.map(({ seq, at, actor, device, what }) => ({
        seq,
        at,
        actor,
        device,
        what,
        undoable: blockers.get(seq) === 0,
      }));
    },
    verify: () => verifyDeliveryFiles(document, { path, lines: journal.lines.length }, photos, records),
    photos,
    records,
    measurements: measurementFiles(join(folder, "measurements")),
    temporaryFolder: join(folder, "tmp"),
    close: async () => {
      await turns.idle();
      await snapshot();
      await journal.close();
    },
  };
};
