import { openStore } from "../../server/store/store.ts";
import { testNow } from "./written-delivery.ts";

/** Run as a process of its own: opens the data folders named one after the other, and says so before each. */
for (const folder of process.argv.slice(2)) {
  process.stdout.write(`${folder}\n`);
  await (await openStore(folder, testNow)).close();
}
