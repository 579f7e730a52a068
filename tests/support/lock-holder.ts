import { lockFolder } from "../../server/store/folder-lock.ts";

/** Run as a process of its own: takes the lock of the folders named and says so, or says why not. */
try {
  await Promise.all(process.argv.slice(2).map(lockFolder));
  console.log("locked");
  setInterval(() => undefined, 1000);
} catch (error) {
  console.log(error instanceof Error ? error.message : error);
  process.exit(1);
}
