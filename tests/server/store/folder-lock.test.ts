import { mkdir } from "node:fs/promises";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { lockFolder, lockPath } from "../../../server/store/folder-lock.ts";
import { temporaryFolder } from "../../support/temporary-folder.ts";
import { ended, firstLine, startScript } from "../../support/tsx-process.ts";

const holder = "tests/support/lock-holder.ts";

describe("one process a folder", () => {
  test("a second one is refused and told who holds it; released, the folder is free", async () => {
    const folder = await temporaryFolder();
    const lock = await lockFolder(folder);
    await expect(lockFolder(folder)).rejects.toThrow(`is already in use by process ${process.pid}`);
    await lock.release();
    await (await lockFolder(folder)).release();
  });

  test("a holder that is stopped still holds it; one that was killed does not", async () => {
    const folder = await temporaryFolder();
    const child = startScript(holder, folder);
    expect(await firstLine(child)).toBe("locked");
    child.kill("SIGSTOP");
    await expect(lockFolder(folder)).rejects.toThrow(`process ${child.pid}`);
    child.kill("SIGCONT");
    await expect(lockFolder(folder)).rejects.toThrow(`process ${child.pid}`);
    child.kill("SIGKILL");
    await ended(child);
    await (await lockFolder(folder)).release();
  });

  test("of several that start over a dead holder's socket, one gets it", async () => {
    const folder = await temporaryFolder();
    const dead = startScript(holder, folder);
    await firstLine(dead);
    dead.kill("SIGKILL");
    await ended(dead);
    const answers = await Promise.all([1, 2, 3].map(() => firstLine(startScript(holder, folder))));
    expect(answers.filter((answer) => answer === "locked").length).toBe(1);
  });

  test("a path too long for a socket is locked elsewhere", async () => {
    const folder = join(await temporaryFolder(), "a-long-name-".repeat(9));
    await mkdir(folder);
    expect(Buffer.byteLength(lockPath(folder))).toBeLessThanOrEqual(100);
    const lock = await lockFolder(folder);
    await expect(lockFolder(folder)).rejects.toThrow("already in use");
    await lock.release();
  });
});
