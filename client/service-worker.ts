/**
 * Keeps the page's own files on the device, so that it opens with no signal. Nothing of the ledger passes through here: whatever
 * begins with /api goes to the laptop, always.
 */

/** Addresses of all built files and a name for just these; the builder puts both in (vite.config.ts). */
interface Shell {
  readonly version: string;
  readonly files: readonly string[];
}

/** As much of the worker's surroundings as is used here. The types for pages and for workers cannot stand in one program. */
interface Worker {
  readonly shell: Shell;
  skipWaiting(): Promise<void>;
  readonly clients: { claim(): Promise<void> };
  addEventListener(kind: "install" | "activate", heard: (event: Lasting) => void): void;
  addEventListener(kind: "message", heard: (event: { readonly data: unknown }) => void): void;
  addEventListener(kind: "fetch", heard: (event: Asked) => void): void;
}
interface Lasting {
  waitUntil(done: Promise<unknown>): void;
}
interface Asked {
  readonly request: Request;
  respondWith(answer: Promise<Response>): void;
}

const worker = self as unknown as Worker;
const { version, files } = worker.shell;
const ours = "leafledger ";
const shelf = ours + version;

const putOnShelf = async () => {
  const cache = await caches.open(shelf);
  await cache.addAll(["/", ...files].map((path) => new Request(path, { cache: "reload" })));
};

const clearOlder = async () => {
  const names = await caches.keys();
  const older = names.filter((name) => name.startsWith(ours) && name !== shelf);
  await Promise.all(older.map((name) => caches.delete(name)));
  await worker.clients.claim();
};

/** A screen is any address that a browser opens as a page, but calls and files such as /openapi.json. */
const isScreen = (request: Request, path: string) =>
  request.mode === "navigate" && !path.startsWith("/api/") && !/^\/[^/]*\.[^/]*$/.test(path);

const fromShelf = async (path: string, request: Request) => {
  const cache = await caches.open(shelf);
  return (await cache.match(path)) ?? fetch(request);
};

worker.addEventListener("install", (event) => event.waitUntil(putOnShelf()));
worker.addEventListener("activate", (event) => event.waitUntil(clearOlder()));
// A new version waits until a person asks for it: never in the middle of work.
worker.addEventListener("message", ({ data }) => {
  if (data === "take over") void worker.skipWaiting();
});
worker.addEventListener("fetch", (event) => {
  const { request } = event;
  const { origin, pathname } = new URL(request.url);
  if (request.method !== "GET" || origin !== location.origin) return;
  if (isScreen(request, pathname)) event.respondWith(fromShelf("/", request));
  else if (files.includes(pathname)) event.respondWith(fromShelf(pathname, request));
});
