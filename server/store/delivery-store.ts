import { mkdir, readdir, rm } from "node:fs/promises";
import { join } from "node:path";
import { applyPatches, createDraft, current, type Draft, enablePatches, finishDraft, isDraft, type Patch } from "immer";
import { type Delivery, deliveryDocument } from "../contract/delivery.ts";
import type { Actor } from "../contract/ids.ts";
import { Refusal } from "../problem.ts";
import type { DeliveryStore, Head } from "../site.ts";
import { type Journal, openJournal } from "./journal.ts";
import { type JournalLine, sealLine } from "./journal-line.ts";
import { measurementFiles } from "./measurement-files.ts";
import { photoFiles } from "./photo-files.ts";
import { recordFiles } from "./record-files.ts";
import { openSnapshots, type Snapshot } from "./snapshot.ts";
import { undoBlockers } from "./touched-paths.ts";
import { verifyDeliveryFiles } from "./verify-delivery-files.ts";
import { writingQueue } from "./writing-queue.ts";

enablePatches();

/** A delivery on disk, and how to let go of it. */
export interface OpenDelivery extends DeliveryStore {
  close(): Promise<void>;
}

/** What one line of the queue knows: the document and the last line it comes from. */
interface State {
  readonly document: Delivery;
  readonly head: Head;
}

const linesPerSnapshot = 50;

export const journalName = "journal.jsonl";

/** The document that a journal adds up to, from the snapshot on when it belongs to this journal. */
const replay = (lines: readonly JournalLine[], snapshot: Snapshot | null): Delivery => {
  if (snapshot && snapshot.seq > lines.length)
    throw new Error(`the journal ends at line ${lines.length}, yet line ${snapshot.seq} was once written`);
  const fits = snapshot !== null && lines[snapshot.seq - 1]?.sha256 === snapshot.sha256;
  const start: Delivery | Record<string, never> = fits ? snapshot.document : {};
  const patches = lines.slice(fits ? snapshot.seq : 0).flatMap((line) => [...line.patches]);
  return deliveryDocument.parse(applyPatches(start, patches));
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
  const first: State = { document: replay(journal.lines, snapshots.data), head: journal.head() };

  const queue = writingQueue<State, JournalLine>(first, (lines) => journal.append(lines));
  const photos = photoFiles(join(folder, "photos"));
  const records = recordFiles(join(folder, "records"), () => queue.state().document.records.length);

  const snapshot = async (): Promise<void> => {
    const { document, head } = queue.state();
    if (head.seq === (snapshots.data?.seq ?? 0)) return;
    snapshots.data = { seq: head.seq, sha256: head.sha256, document };
    await snapshots.write();
  };

  /** Works out one line from the state before it, and resolves when it is on disk. */
  const commit = <T>(
    prepare: (state: State) => Promise<{
      readonly document: Delivery;
      readonly line: Pick<JournalLine, "actor" | "device" | "what" | "patches" | "inverse">;
      readonly result: T;
    }>,
  ): Promise<{ seq: number; result: T }> =>
    new Promise((resolve, reject) => {
      let answer: { seq: number; result: T };
      queue.add({
        prepare: async (state) => {
          const { document, line, result } = await prepare(state);
          answer = { seq: state.head.seq, result };
          if (line.patches.length === 0) return { state, entry: null };
          const entry = sealLine(state.head, { at: now(), ...line });
          answer = { seq: entry.seq, result };
          return { state: { document: deliveryDocument.parse(document), head: entry }, entry };
        },
        done: () => {
          if (queue.state().head.seq % linesPerSnapshot === 0) snapshot().catch(() => undefined); // the journal is enough
          resolve(answer);
        },
        failed: reject,
      });
    });

  return {
    id,
    read: () => queue.state().document,
    head: () => {
      const { seq, sha256 } = queue.state().head;
      return { seq, sha256 };
    },
    change: <T>(actor: Actor, what: string, recipe: (draft: Draft<Delivery>) => T | Promise<T>) =>
      commit<T>(async (state) => {
        const draft = createDraft(state.document);
        const value = await recipe(draft);
        const result = isDraft(value) ? (current(value as Draft<object>) as T) : value;
        let patches: Patch[] = [];
        let inverse: Patch[] = [];
        const document = finishDraft(draft, (forward, back) => {
          patches = forward;
          inverse = back;
        }) as Delivery;
        return { document, line: { actor: actor.name, device: actor.device, what, patches, inverse }, result };
      }),
    undo: async (actor, seq) => {
      const undone = await commit<null>(async (state) => {
        // Lines that wait for the same flush are not in the journal yet: the head tells whether there are any.
        if (state.head.seq !== journal.head().seq) throw new Refusal("Another change is just being saved. Try again.");
        const why = whyNoUndo(journal.lines, seq);
        const line = journal.lines[seq - 1];
        if (why !== null || !line) throw new Refusal(why ?? `There is no change number ${seq}.`);
        return {
          document: applyPatches(state.document, [...line.inverse]),
          line: {
            actor: actor.name,
            device: actor.device,
            what: `Took back: ${line.what}`,
            patches: line.inverse,
            inverse: line.patches,
          },
          result: null,
        };
      });
      return { seq: undone.seq };
    },
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
    verify: () => verifyDeliveryFiles(queue.state().document, { path, lines: journal.lines.length }, photos, records),
    photos,
    records,
    measurements: measurementFiles(join(folder, "measurements")),
    temporaryFolder: join(folder, "tmp"),
    close: async () => {
      await queue.idle();
      await snapshot();
      await journal.close();
    },
  };
};
