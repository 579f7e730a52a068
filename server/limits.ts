/** What a request may be. All limits stand here; a photo's own are in images/photo-limits.ts. */
export const limits = {
  jsonBytes: 2_000_000,
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
  /** Uploads received at the same time; the next ones are asked to wait. */
  uploadsAtOnce: 8,
  /** Slow clients, ms: until the headers are in, and until the whole request is. */
  headersMs: 15_000,
  requestMs: 300_000,
} as const;
