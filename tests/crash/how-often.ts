/** All repeats that the bar asks for (npm run crash), or as many of them as fit into the tests of each change. */
const all = process.env.LEAFLEDGER_CRASH === "all";

/** Kills of each kind of work: 500 in all, 200 of them while records are issued; 150 in the tests of each change. */
export const kills = all ? { photos: 150, readings: 150, records: 200 } : { photos: 45, readings: 75, records: 30 };

/** Power cuts on a disk as Linux mounts it and on one that does not flush what is renamed: 60 in all. */
export const powerCuts = { usual: 40, noFlushOnRename: 20 };

export const liveCopies = 20;

export const terminations = all ? 50 : 12;
