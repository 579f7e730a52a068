import { execFileSync } from "node:child_process";
import { mkdtempSync, rmdirSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { onTestFinished } from "vitest";
import { temporaryFolder } from "./temporary-folder.ts";

/** Why no disk can be mounted here, or null; root in a container may not either. Printed, so that a skipped test is never a silent one. */
export const whyNoMount = (): string | null => {
  const tried = mkdtempSync(join(tmpdir(), "leafledger-test-"));
  try {
    execFileSync("mount", ["-t", "tmpfs", "-o", "size=1m", "none", tried], { stdio: "ignore" });
    execFileSync("umount", [tried]);
    return null;
  } catch {
    console.log("Skipped: only root on Linux may mount a disk of its own, and not everywhere.");
    return "no disk can be mounted here";
  } finally {
    rmdirSync(tried);
  }
};

/** A folder on a disk of its own in memory, and how to mount it otherwise ("ro"). */
export const smallDisk = async (megabytes: number): Promise<{ folder: string; remount: (as: "ro" | "rw") => void }> => {
  const folder = await temporaryFolder();
  execFileSync("mount", ["-t", "tmpfs", "-o", `size=${megabytes}m`, "none", folder]);
  onTestFinished(() => {
    execFileSync("umount", ["-l", folder]);
  });
  return { folder, remount: (as) => void execFileSync("mount", ["-o", `remount,${as}`, folder]) };
};
