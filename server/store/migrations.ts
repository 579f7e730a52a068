import { enablePatches, type Patch, produceWithPatches } from "immer";
import { type Delivery, documentVersion } from "../contract/delivery.ts";

enablePatches();

type AnyDocument = Record<string, unknown> & { version: number };

/** What brings a document of one version to the next. Golden folders of each version are in tests/server/store/golden. */
const steps: Readonly<Record<number, (document: AnyDocument) => void>> = {
  1: (document) => {
    document.conflicts = [];
  },
};

/** A document of this version, and what had to change for it: nothing where it was of this version already. */
export interface Migrated {
  readonly document: Delivery;
  readonly patches: readonly Patch[];
  readonly inverse: readonly Patch[];
}

const versionOf = (document: unknown): number => {
  const version = typeof document === "object" && document !== null && "version" in document ? document.version : null;
  if (typeof version !== "number") throw new Error("the document has no version");
  if (version > documentVersion)
    throw new Error(
      `it was written by a newer Leafledger (version ${version}, this one knows ${documentVersion}): open it with that one`,
    );
  return version;
};

/**
 * Brings a document to this version. The journal keeps its old lines as they are: they add up to the old shape, and the change
 * to the new one is a line like any other, so that opening again, or being killed half way, needs no care of its own.
 */
export const migrate = (document: unknown): Migrated => {
  const from = versionOf(document);
  const [next, patches, inverse] = produceWithPatches(document as AnyDocument, (draft) => {
    for (let version = from; version < documentVersion; version++) {
      steps[version]?.(draft);
      draft.version = version + 1;
    }
  });
  return { document: next as unknown as Delivery, patches, inverse };
};
