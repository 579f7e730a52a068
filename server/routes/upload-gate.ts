import type { RequestHandler, Response } from "express";
import { limits } from "../limits.ts";
import { Refusal } from "../problem.ts";
import type { Site } from "../site.ts";

const comeAgain = (response: Response, seconds: number, says: string): never => {
  response.set("Retry-After", String(seconds));
  throw new Refusal(says, 503);
};

/** Who may upload: `room` asks only whether photos may come at all, `turn` also lets only so many in at a time. */
export interface UploadGate {
  readonly room: RequestHandler;
  readonly turn: RequestHandler;
}

/**
 * Lets so many uploads in at a time, all deliveries and ways of uploading together, in the order in which they came, and none while
 * the disk or the measuring has no room. Who would wait too long is told when to come again; phones keep their photos meanwhile.
 */
export const uploadGate = (site: Site): UploadGate => {
  let inFlight = 0;
  const held: (() => void)[] = [];

  const room: RequestHandler = (request, response, next) => {
    const { delivery = "" } = request.params as { delivery?: string };
    site.store.open(delivery); // an unknown delivery is refused before anything is received
    site.store.check("photo");
    if (site.measuring.progress(delivery).waiting >= limits.photosWaiting)
      comeAgain(response, 30, "Many photos wait to be measured: send this one again in a minute.");
    next();
  };

  /** Resolves when there is a place; false after a while, or when the client has gone. */
  const place = (response: Response): Promise<boolean> => {
    if (inFlight < limits.uploads.atOnce) return Promise.resolve(true);
    if (held.length >= limits.uploads.held) return Promise.resolve(false);
    return new Promise((done) => {
      const end = (yes: boolean) => {
        clearTimeout(timer);
        response.off("close", givesUp);
        if (!yes) held.splice(held.indexOf(enter), 1);
        done(yes);
      };
      const enter = () => end(true);
      const givesUp = () => end(false);
      const timer = setTimeout(givesUp, limits.uploads.heldMs);
      response.once("close", givesUp);
      held.push(enter);
    });
  };

  const turn: RequestHandler = async (_request, response, next) => {
    if (!(await place(response)))
      comeAgain(response, 1, "Many photos are arriving at once: send this one again in a moment.");
    inFlight++;
    const leave = () => {
      inFlight--;
      held.shift()?.();
    };
    if (response.destroyed) return leave();
    response.once("close", leave);
    next();
  };

  return { room, turn };
};
