/** CPU time in ms of one run, this process with all its threads. */
const cpuOf = async (run: () => unknown): Promise<number> => {
  const before = process.cpuUsage();
  await run();
  const { user, system } = process.cpuUsage(before);
  return (user + system) / 1000;
};

const median = (values: readonly number[]): number =>
  values.toSorted((a, b) => a - b)[Math.floor(values.length / 2)] ?? Number.NaN;

/** Ratio of ours to a peer's, and the medians it is made of. */
export interface Ratio {
  readonly ratio: number;
  readonly oursMs: number;
  readonly peerMs: number;
}

/**
 * Ratio of median CPU times of ours to a peer's, in one process, in alternated rounds after one round to warm up:
 * a ratio that holds on a busy machine, where times do not.
 */
export const ratio = async (ours: () => unknown, peer: () => unknown, rounds = 9): Promise<Ratio> => {
  const mine: number[] = [];
  const theirs: number[] = [];
  for (let round = 0; round <= rounds; round += 1) {
    const a = await cpuOf(ours);
    const b = await cpuOf(peer);
    if (round > 0) {
      mine.push(a);
      theirs.push(b);
    }
  }
  return { ratio: median(mine) / median(theirs), oursMs: median(mine), peerMs: median(theirs) };
};
