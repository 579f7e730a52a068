import { execFileSync } from "node:child_process";
import { onTestFinished } from "vitest";
import { temporaryFolder } from "./temporary-folder.ts";

/** Why no disk can be mounted here, or null. Printed, so that a skipped test is never a silent one. */
export const whyNoMount = (): string | null => {
  if (process.platform === "linux" && process.getuid?.() === 0) return null;
  console.log("Skipped: only root on Linux may mount a disk of its own.");
  return "not root on Linux";
};

/** A folder on a disk of its own in memory, and how to mount it otherwise ("ro"). */
export const smallDisk = async (megabytes: number): Promise<{ folder: string; remount(as: "ro" | "rw"): void }> => {
  const folder = await temporaryFolder();
  execFileSync("mount", ["-t", "tmpfs", "-o", `size=${megabytes}m`, "none", folder]);
  onTestFinished(() => {
    execFileSync("umount", ["-l", folder]);
  });
  return { folder, remount: (as) => void execFileSync("mount", ["-o", `remount,${as}`, folder]) };
};
