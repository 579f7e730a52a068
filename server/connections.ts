import { readFileSync } from "node:fs";
import type { IncomingMessage, Server, ServerOptions } from "node:http";
import { limits } from "./limits.ts";

/** How long a client may take: Node answers 408 when headers or the whole request take longer, and looks as often as `checkMs`. */
export const patience: Pick<ServerOptions, "headersTimeout" | "requestTimeout" | "connectionsCheckingInterval"> = {
  headersTimeout: limits.slow.headersMs,
  requestTimeout: limits.slow.requestMs,
  connectionsCheckingInterval: limits.slow.checkMs,
};

/** Files this process may have open at once, connections among them; no limit where the system does not tell. */
const mostOpenFiles = (): number => {
  try {
    const soft = /^Max open files\s+(\d+)/m.exec(readFileSync("/proc/self/limits", "utf8"))?.[1];
    return soft ? Number(soft) : Number.POSITIVE_INFINITY;
  } catch {
    return Number.POSITIVE_INFINITY;
  }
};

/** Files that are open beside connections: the journals, the pipes to child processes, photos that arrive. */
const otherFiles = 48;
const fewestConnections = 8;

const connectionsFor = (openFiles: number): number =>
  Math.max(fewestConnections, Math.min(limits.connections, openFiles - otherFiles));

/** What came of a body: when the last byte, and how many in the stretch of time that is looked at now. */
interface Pace {
  seenBytes: number;
  heardAt: number;
  since: number;
  sinceBytes: number;
}

/**
 * Closes connections whose body stands still or crawls, and takes no more connections than there are open files for. Requests that
 * have arrived whole may take as long as they need to be answered.
 */
export const watchConnections = (server: Server, now: () => number = () => performance.now()): void => {
  const counted = () => {
    server.maxConnections = connectionsFor(mostOpenFiles());
  };
  counted();
  const arriving = new Map<IncomingMessage, Pace>();
  server.on("request", (request: IncomingMessage) => {
    if (request.complete || request.method === "GET" || request.method === "HEAD") return;
    const { bytesRead } = request.socket;
    arriving.set(request, { seenBytes: bytesRead, heardAt: now(), since: now(), sinceBytes: bytesRead });
    const whole = () => arriving.delete(request);
    request.once("end", whole).once("close", whole);
  });
  const look = () => {
    counted(); // the limit of a running process can be changed
    const { idleMs, paceMs, paceBytes } = limits.slow;
    for (const [request, pace] of arriving) {
      const { bytesRead } = request.socket;
      if (bytesRead > pace.seenBytes) {
        pace.seenBytes = bytesRead;
        pace.heardAt = now();
      }
      const crawls = now() - pace.since > paceMs && bytesRead - pace.sinceBytes < paceBytes;
      if (now() - pace.heardAt > idleMs || crawls) request.destroy();
      else if (now() - pace.since > paceMs) Object.assign(pace, { since: now(), sinceBytes: bytesRead });
    }
  };
  // Who is turned away for want of room finds some at the next try: connections kept for later give way.
  server.on("drop", () => server.closeIdleConnections());
  const timer = setInterval(look, limits.slow.checkMs);
  timer.unref();
  server.once("close", () => clearInterval(timer));
};
