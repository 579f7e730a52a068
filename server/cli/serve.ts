import { fsyncSync, writeSync } from "node:fs";
import { createServer, type Server } from "node:http";
import { createServer as createSecureServer } from "node:https";
import { join } from "node:path";
import { openAccess } from "../access/access.ts";
import { certificateFor, ownNames } from "../access/certificate.ts";
import { ownDoor, sharedDoor } from "../access/door.ts";
import { openAccessShelf } from "../access/kept-access.ts";
import { findOffer } from "../access/offer-file.ts";
import { makeApp } from "../app.ts";
import { type Config, readConfig } from "../config.ts";
import { patience, watchConnections } from "../connections.ts";
import { demoId } from "../demo/brannoch-quay.ts";
import { withDemoClock } from "../demo/demo-clock.ts";
import { finishDemo } from "../demo/finish-demo.ts";
import { seedDemo } from "../demo/seed.ts";
import { type OpenSite, openSite } from "../open-site.ts";
import { plainHttp } from "../plain-http.ts";
import { projectFolder } from "../project-folder.ts";
import type { Site } from "../site.ts";
import { measureMarks } from "../use-cases/measure-marks.ts";
import { followRequests } from "./finish-requests.ts";
import { progressBar } from "./progress-bar.ts";
import { say } from "./say.ts";

export interface ServeOptions {
  readonly demo: boolean;
  readonly json: boolean;
  readonly data?: string;
  readonly port?: string;
  readonly host?: string;
  readonly cert?: boolean;
  readonly insecureHttp?: boolean;
}

const report = (error: unknown): void => {
  process.stderr.write(`${error instanceof Error ? (error.stack ?? error.message) : String(error)}\n`);
};

const listen = (server: Server, { host, port }: Config): Promise<number> =>
  new Promise((done, fail) => {
    server.once("error", (error) => {
      const taken = "code" in error && error.code === "EADDRINUSE";
      fail(taken ? new Error(`Port ${port} is in use by another program: choose one with --port.`) : error);
    });
    server.listen(port, host, () => {
      const address = server.address();
      done(typeof address === "object" && address ? address.port : port);
    });
  });

/** Shows how far measuring is, and reads the contrast of marks whenever nothing waits any more. */
const followMeasuring = (site: Site): void => {
  const bars = new Map<string, (done: number, of: number) => void>();
  site.measuring.onProgress((id, { waiting, measured, retake, kept, failed, solvedAt }) => {
    const done = measured + retake + kept + failed;
    const bar = bars.get(id) ?? progressBar(`Measuring photos of ${id}`);
    bars.set(id, bar);
    bar(done, done + waiting);
    if (waiting > 0) return;
    bars.delete(id);
    if (solvedAt !== null) measureMarks(site, id).catch(report);
  });
};

/** Ends in order: what was asked is answered, then the child processes end and the folder is freed. */
const endOn = (signal: NodeJS.Signals, finishRequests: () => Promise<void>, open: OpenSite): void => {
  process.once(signal, () => {
    finishRequests()
      .then(() => open.close())
      .then(
        () => process.exit(0),
        (error: unknown) => {
          report(error);
          process.exit(1);
        },
      );
  });
};

const prepareDemo = async (site: Site): Promise<void> => {
  const store = site.store.list().includes(demoId) ? site.store.open(demoId).read() : null;
  if (store && store.readings.length === 0)
    throw new Error("The demo in this data folder was cut off while it was made: remove the folder and start again.");
  if (!store) process.stderr.write("Making the demo delivery…\n");
  await seedDemo(site, join(projectFolder(), "sample-images"));
};

/** A fault that nobody caught leaves the process in an unknown state: it is told, and whoever watches over the server starts it anew. */
const endOnFault = (): void => {
  const end = (error: unknown): void => {
    writeSync(
      2,
      `A fault ended the server: ${error instanceof Error ? (error.stack ?? error.message) : String(error)}\n`,
    );
    try {
      fsyncSync(2);
    } catch {
      // a terminal or a pipe has no disk to flush to
    }
    process.exit(1);
  };
  process.on("uncaughtException", end).on("unhandledRejection", end);
};

/** Serves the data folder until it is told to end. */
export const serve = async (options: ServeOptions, version: string): Promise<void> => {
  endOnFault();
  const config = readConfig({
    ...process.env,
    ...(options.data === undefined ? {} : { LEAFLEDGER_DATA: options.data }),
    ...(options.port === undefined ? {} : { LEAFLEDGER_PORT: options.port }),
    ...(options.host === undefined ? {} : { LEAFLEDGER_HOST: options.host }),
    ...(options.cert ? { LEAFLEDGER_CERT: "1" } : {}),
    ...(options.insecureHttp ? { LEAFLEDGER_INSECURE_HTTP: "1" } : {}),
  });
  const open = await openSite(config.dataFolder);
  for (const [id, why] of open.damaged)
    process.stderr.write(
      `Delivery ${id} cannot be opened and was left as it is: ${why}. See: leafledger repair ${id}\n`,
    );
  const site = options.demo ? withDemoClock(open.site) : open.site;
  const names = config.guard === "own" ? [] : ownNames(config.names);
  const certificate = config.guard === "https" ? await certificateFor(config.dataFolder, names, new Date()) : null;
  const door = config.guard === "own" ? ownDoor : sharedDoor(names, certificate !== null);
  const access = openAccess(await openAccessShelf(config.dataFolder), {
    door,
    leftOffer: () => findOffer(config.dataFolder),
  });
  const clientFolder = join(projectFolder(), "dist", "client");
  const app = makeApp(site, { clientFolder, version, access, rates: config.rates, report });
  const server = certificate
    ? createSecureServer({ ...patience, cert: certificate.cert, key: certificate.key, minVersion: "TLSv1.2" }, app)
    : createServer(patience, app);
  watchConnections(server);
  const port = await listen(server, config);
  if (certificate) {
    const plain = plainHttp(certificate.authority, door.names, () => port);
    const plainPort = await listen(plain, { ...config, port: config.port === 0 ? 0 : config.port + 1 });
    plain.maxConnections = 50;
    plain.unref();
    process.stderr.write(`Phones load the certificate at http://${door.names[0]}:${plainPort}/help\n`);
  }
  if (door.insecure) process.stderr.write(`${door.insecure}\n`);
  const finishRequests = followRequests(server);
  endOn("SIGINT", finishRequests, open);
  endOn("SIGTERM", finishRequests, open);
  const address = door.shared
    ? `${door.secure ? "https" : "http"}://${door.names[0]}:${port}/`
    : `http://localhost:${port}/`;
  followMeasuring(site);
  if (options.demo) {
    await prepareDemo(site);
    await finishDemo(site);
  }
  say(options.json, { address }, () => `Leafledger is ready: open ${address}`);
};
