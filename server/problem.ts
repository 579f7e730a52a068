import type { ConflictView } from "./contract/conflict.ts";

/** A rule said no. It becomes an answer with this status and a sentence that says what to do next. */
export class Refusal extends Error {
  readonly status: number;
  readonly faults: readonly { at: string; says: string }[];

  constructor(says: string, status = 409, faults: readonly { at: string; says: string }[] = []) {
    super(says);
    this.name = "Refusal";
    this.status = status;
    this.faults = faults;
  }
}

/** Another changed the same thing in the meantime: both entries are told. */
export class Conflicted extends Refusal {
  readonly conflict: ConflictView;

  constructor(says: string, conflict: ConflictView) {
    super(says);
    this.conflict = conflict;
  }
}
