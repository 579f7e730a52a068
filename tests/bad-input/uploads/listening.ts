import { readdir } from "node:fs/promises";
import { createServer, type Server } from "node:http";
import type { AddressInfo } from "node:net";
import { onTestFinished } from "vitest";
import type { Body } from "../../../server/contract/calls.ts";
import { sha256Of } from "../../../server/records/canonical.ts";
import { type Api, apiOf } from "../../support/http.ts";
import { type TestSite, testSite } from "../../support/test-site.ts";

/** A site that is served on a port of its own, with one delivery, for requests of any shape. */
export interface Listening {
  readonly site: TestSite;
  readonly api: Api;
  readonly server: Server;
  readonly delivery: string;
  readonly port: number;
  /** Where photos are sent whole, and where one is sent in parts. */
  readonly photos: string;
  partsOf(sha256: string): string;
  readonly temporaryFiles: () => Promise<string[]>;
}

export const listening = async (options: Parameters<typeof testSite>[0] = {}): Promise<Listening> => {
  const site = await testSite(options);
  const api = apiOf(site);
  const delivery = await api.begin();
  const server = createServer(api.app);
  await new Promise<void>((done) => server.listen(0, "127.0.0.1", done));
  const { port } = server.address() as AddressInfo;
  const deliveryAt = `http://127.0.0.1:${port}/api/v1/deliveries/${delivery}`;
  onTestFinished(async () => {
    server.closeAllConnections();
    server.close();
    await site.remove();
  });
  return {
    site,
    api,
    server,
    delivery,
    port,
    photos: `${deliveryAt}/photos`,
    partsOf: (sha256) => `${deliveryAt}/uploads/${sha256}`,
    temporaryFiles: () => readdir(site.store.open(delivery).temporaryFolder),
  };
};

/** What a photo with these bytes is said to be: a detail of no leaf. */
export const aboutOf = (bytes: Buffer | string, given: Partial<Body<"uploadPhoto">> = {}): Body<"uploadPhoto"> => ({
  sha256: sha256Of(bytes),
  name: "photo.jpg",
  kind: "detail",
  shows: [],
  note: "",
  ...given,
});

/** The headers of a page of ours on this port. */
export const asPage = ({ api, port }: Listening, more: Record<string, string> = {}): Record<string, string> => ({
  ...api.headers,
  host: `127.0.0.1:${port}`,
  ...more,
});
