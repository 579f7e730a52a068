import { execFileSync } from "node:child_process";
import { existsSync } from "node:fs";

const PLACES = ["/usr/bin/chromium", "/usr/bin/chromium-browser", "/usr/bin/google-chrome"];

/** The browser that stands on this machine already, or undefined. */
export const standingBrowser = (): string | undefined =>
  [process.env.CHROMIUM_PATH ?? "", ...PLACES].find((path) => path !== "" && existsSync(path));

/** Brings a browser when there is none: Debian's package as root, else Playwright's own download. Throws when neither works. */
export const bringBrowser = (): void => {
  if (standingBrowser()) return;
  const run = (command: string, args: string[]) => execFileSync(command, args, { stdio: "inherit" });
  if (process.getuid?.() === 0 && existsSync("/usr/bin/apt-get")) {
    run("apt-get", ["update", "-qq"]);
    run("apt-get", ["install", "-y", "-qq", "--no-install-recommends", "chromium", "fonts-dejavu-core"]);
  } else run("npx", ["playwright", "install", "chromium"]);
};
