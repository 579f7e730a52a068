/** One task of the queue: `prepare` works out what to write; `done` and `failed` answer whoever waits. */
export interface Task<State, Entry> {
  prepare(state: State): Promise<{ readonly state: State; readonly entry: Entry | null }>;
  done(): void;
  failed(error: unknown): void;
}

const mostInOneFlush = 64;

/**
 * A single writer: tasks run one after the other, each on the state the one before left; those that wait together are
 * written together with one flush, and answered after it. When writing fails all of them fail and the state is as before.
 */
export const writingQueue = <State, Entry>(
  initial: State,
  write: (entries: readonly Entry[], state: State) => Promise<void>,
): {
  readonly state: () => State;
  readonly add: (task: Task<State, Entry>) => void;
  readonly idle: () => Promise<void>;
} => {
  let committed = initial;
  let running: Promise<void> = Promise.resolve();
  let busy = false;
  const waiting: Task<State, Entry>[] = [];

  const round = async (): Promise<void> => {
    let state = committed;
    const entries: Entry[] = [];
    const prepared: Task<State, Entry>[] = [];
    for (let task = waiting.shift(); task; task = prepared.length < mostInOneFlush ? waiting.shift() : undefined) {
      try {
        const next = await task.prepare(state);
        state = next.state;
        if (next.entry !== null) entries.push(next.entry);
        prepared.push(task);
      } catch (error) {
        task.failed(error);
      }
    }
    try {
      if (entries.length > 0) await write(entries, state);
      committed = state;
      for (const task of prepared) task.done();
    } catch (error) {
      for (const task of prepared) task.failed(error);
    }
  };

  const run = async (): Promise<void> => {
    while (waiting.length > 0) await round();
    busy = false;
  };

  return {
    state: () => committed,
    add: (task) => {
      waiting.push(task);
      if (busy) return;
      busy = true;
      running = run();
    },
    idle: () => running,
  };
};
