import { execFileSync, spawnSync } from "node:child_process";
import { mkdirSync } from "node:fs";
import { join } from "node:path";

/** Larger than what must be free for photos to be taken in; most of it is a hole. */
const imageSize = "1500M";

const run = (command: string, ...args: string[]): void => {
  execFileSync(command, args, { stdio: ["ignore", "ignore", "pipe"] });
};

/** A disk in a file, mounted. What was not flushed to the file is what a power cut takes. */
export interface DiskImage {
  readonly folder: string;
  /** Copies the file as it is now, mounts the copy as after a power cut, looks at it, and lets go of it. */
  afterPowerCut<T>(look: (folder: string) => Promise<T>): Promise<T>;
  unmount(): void;
}

const mount = (image: string, folder: string, options: string): void => {
  mkdirSync(folder, { recursive: true });
  run("mount", "-o", options, image, folder);
};

/** Makes an ext4 disk in a file and mounts it. */
export const diskImage = (place: string, options: string): DiskImage => {
  const [image, copy] = [join(place, "disk.ext4"), join(place, "copy.ext4")];
  const [folder, looked] = [join(place, "disk"), join(place, "copy")];
  run("truncate", "-s", imageSize, image);
  run("mkfs.ext4", "-q", "-F", image);
  mount(image, folder, `loop${options}`);
  return {
    folder,
    afterPowerCut: async (look) => {
      run("cp", "--sparse=always", image, copy);
      mount(copy, looked, "loop");
      try {
        return await look(looked);
      } finally {
        run("umount", looked);
      }
    },
    unmount: () => run("umount", folder),
  };
};

/** Why there can be no disk in a file here, or null. */
export const whyNoDiskImage = (place: string): string | null => {
  if (process.getuid?.() !== 0) return "only root can mount a disk image";
  const missing = ["mkfs.ext4", "mount", "umount", "truncate"].find(
    (name) => spawnSync("sh", ["-c", `command -v ${name}`]).status !== 0,
  );
  if (missing) return `${missing} is not on this machine`;
  try {
    diskImage(place, "").unmount();
    return null;
  } catch (error) {
    return `a disk image cannot be mounted here: ${error instanceof Error ? error.message : String(error)}`;
  }
};
