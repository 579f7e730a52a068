/**
 * What a request, a delivery and a job may be. All limits stand here with their unit and reason; what a photo may be stands in
 * images/photo-limits.ts, how often one may call in access.
 *
 * | limit                  | value              | why                                                                    |
 * | ---------------------- | ------------------ | ---------------------------------------------------------------------- |
 * | JSON body              | 2 MB, 32 deep      | a schedule of 5,000 rows; a deeper text overflows whoever walks it     |
 * | photo file             | 40 MB              | a 64 megapixel JPEG                                                    |
 * | uploads at once        | 8                  | each holds a socket, a file and mostly the decoder                     |
 * |                        | 40 more held 3 s   | in their order: who is sent away comes back at the wrong moment        |
 * | unfinished uploads     | 100 a delivery     | one a phone is usual; what strangers begin must not fill the disk      |
 * |                        | kept for a day     | a phone that comes back tomorrow goes on where it was                  |
 * | photos waiting         | 500                | a quarter of an hour of measuring; phones keep theirs meanwhile        |
 * | photos of a delivery   | 5,000 or 20 GB     | 200 leaves take 600; a mistaken folder must not fill the disk          |
 * | headers                | 12 s               | a phone sends them in one packet; ended by 15 s, at the next look      |
 * | body without a byte    | 20 s               | longer than a lift ride between two floors                             |
 * | body pace              | 10 kB/s over 30 s  | a twelfth of the slowest net we plan for, 1 Mbit/s                     |
 * | whole request          | 300 s              | 4.3 MB at 1 Mbit/s take 34 s                                           |
 * | opening a photo        | 10 s               | 0.2 s is usual, 1 s for 64 megapixels                                  |
 * | measuring a photo      | 15 s               | 0.8 s is usual; twice this is the longest a photo holds up the others  |
 * | any other job          | 60 s               | an adjustment of 600 photos takes 3 s                                  |
 */
export const limits = {
  /** What people type: a note of 20,000 letters in any script, or the locks of a large job. */
  jsonBytes: 300_000,
  /** The same where it holds CSV or chart files as text. */
  jsonFileBytes: 2_000_000,
  jsonDepth: 32,
  /** One photo and a few fields: more is no form of ours. */
  upload: {
    fileSize: 40_000_000,
    files: 1,
    parts: 12,
    fields: 10,
    fieldNameSize: 64,
    fieldSize: 20_000,
    headerPairs: 20,
    fieldNestingDepth: 1,
    fieldArrayIndexLimit: 50,
  },
  /** Bodies that are received at a time; so many more are held back for a moment before they are sent away. */
  uploads: { atOnce: 8, held: 40, heldMs: 3000 },
  unfinishedUploads: 100,
  photosWaiting: 500,
  delivery: { photos: 5000, photoBytes: 20_000_000_000 },
  /** An unfinished upload that nobody went on with is dropped after so long, ms; looked for every `sweptMs`. */
  unfinishedMs: 86_400_000,
  sweptMs: 3_600_000,
  /** Slow clients, ms and bytes. `checkMs`: how often they are looked at. */
  slow: {
    headersMs: 12_000,
    idleMs: 20_000,
    paceMs: 30_000,
    paceBytes: 300_000,
    requestMs: 300_000,
    checkMs: 2500,
  },
  /** Open connections at most: 200 slow phones and the rest. Fewer where the system allows fewer open files. */
  connections: 500,
  /**
   * Jobs of child processes, ms. A fresh process every `perProcess` jobs keeps the decoder's memory from growing; one that does not
   * start is tried `starts` times in a row, then left alone for `restMs`.
   */
  jobs: {
    decodeMs: 10_000,
    measureMs: 15_000,
    otherMs: 60_000,
    perProcess: 200,
    starts: 3,
    startAgainMs: 1000,
    restMs: 30_000,
  },
} as const;
