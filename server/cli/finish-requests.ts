import type { Server, ServerResponse } from "node:http";

/** How long requests may go on once the program is told to end, ms; then they are broken off. */
const patienceMs = 5000;

const isEventStream = (response: ServerResponse): boolean =>
  String(response.getHeader("content-type")).startsWith("text/event-stream");

/**
 * Follows the requests of a server; what is given ends it in order: no new connections, what is under way is answered, streams of
 * events end, and then all connections are closed.
 */
export const followRequests = (server: Server): (() => Promise<void>) => {
  const open = new Set<ServerResponse>();
  let ending = false;
  const letGo = (response: ServerResponse): void => {
    if (isEventStream(response)) response.end();
    else if (!response.headersSent) response.setHeader("Connection", "close");
  };
  server.prependListener("request", (_request, response) => {
    open.add(response);
    response.once("close", () => open.delete(response));
    if (ending) letGo(response);
  });
  return () =>
    new Promise((done) => {
      ending = true;
      for (const response of open) letGo(response);
      const idle = setInterval(() => {
        server.closeIdleConnections();
        for (const response of open) if (isEventStream(response)) response.end();
      }, 50);
      const late = setTimeout(() => server.closeAllConnections(), patienceMs);
      server.close(() => {
        clearInterval(idle);
        clearTimeout(late);
        done();
      });
    });
};
