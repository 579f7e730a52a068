import type { Express } from "express";
import type { Sessions } from "../access/sessions.ts";
import type { ServerEvent } from "../contract/calls.ts";
import type { Site } from "../site.ts";
import { paramsOf, route } from "./bind.ts";
import { sessionOf } from "./who-may-call.ts";

const lookEveryMs = 500;
const signOfLifeMs = 20_000;

/** Server-sent events of one delivery: how far measuring and planning are, and that something changed; it ends with the session. An event's id is the journal's line. */
export const events = (app: Express, site: Site, sessions: Sessions): void =>
  route(app, "events", (request, response) => {
    const { delivery } = paramsOf("events", request);
    const { id: sessionId } = sessionOf(response);
    const store = site.store.open(delivery);
    let seen = store.head().seq;
    response.writeHead(200, { "Content-Type": "text/event-stream", "Cache-Control": "no-store" });
    const send = (event: ServerEvent): void => {
      response.write(`id: ${seen}\nevent: ${event.kind}\ndata: ${JSON.stringify(event)}\n\n`);
    };
    send({ kind: "progress", progress: site.measuring.progress(delivery) });
    const stopListening = site.measuring.onProgress((id, progress) => {
      if (id === delivery) send({ kind: "progress", progress });
    });
    const planning = site.planning.progress(delivery);
    if (planning) send({ kind: "planning", planning });
    const stopWatching = site.planning.onProgress((id, planning) => {
      if (id === delivery) send({ kind: "planning", planning });
    });
    const look = setInterval(() => {
      if (!sessions.holds(sessionId)) return void response.end();
      const { seq } = store.head();
      if (seq === seen) return;
      seen = seq;
      send({ kind: "changed", seq });
    }, lookEveryMs);
    const signOfLife = setInterval(() => response.write(": still here\n\n"), signOfLifeMs);
    response.on("close", () => {
      stopListening();
      stopWatching();
      clearInterval(look);
      clearInterval(signOfLife);
    });
  });
