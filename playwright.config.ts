import { defineConfig } from "@playwright/test";
import { standingBrowser } from "./tests/support/browser.ts";

const port = 4187;
const executablePath = standingBrowser();

/** Browser tests: one server with the demo delivery for all of them, each screen on a phone and on a laptop. */
export default defineConfig({
  testDir: "tests/browser",
  workers: 1,
  timeout: 60_000,
  outputDir: "node_modules/.cache/leafledger-pages",
  use: {
    baseURL: `http://localhost:${port}`,
    timezoneId: "Europe/London",
    locale: "en-GB",
    // What a service worker answers cannot be stood in for by a test; the tests without signal let it work.
    serviceWorkers: "block",
    launchOptions: {
      args: ["--no-sandbox", "--disable-background-networking", "--disable-gpu"],
      ...(executablePath && { executablePath }),
    },
  },
  webServer: {
    command: `node --import tsx tests/browser/serve-demo.ts ${port}`,
    url: `http://localhost:${port}/healthz`,
    timeout: 240_000,
    gracefulShutdown: { signal: "SIGTERM", timeout: 10_000 },
  },
  projects: [
    { name: "measured", testMatch: "measured.setup.ts", timeout: 300_000 },
    {
      name: "phone",
      dependencies: ["measured"],
      use: { viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true },
    },
    { name: "laptop", dependencies: ["phone"], use: { viewport: { width: 1366, height: 900 } } },
  ],
});
