import type { RequestHandler, Response } from "express";
import { limits } from "../limits.ts";
import { Refusal } from "../problem.ts";
import type { Site } from "../site.ts";

const comeAgain = (response: Response, seconds: number, says: string): never => {
  response.set("Retry-After", String(seconds));
  throw new Refusal(says, 503);
};

/**
 * Lets so many uploads in at a time, all deliveries and ways of uploading together, and none while the disk or the measuring
 * has no room for it. Who is kept out is told when to come again; phones keep their photos meanwhile.
 */
export const uploadGate = (site: Site): RequestHandler => {
  let inFlight = 0;
  return (request, response, next) => {
    const { delivery = "" } = request.params as { delivery?: string };
    site.store.open(delivery); // an unknown delivery is refused before anything is received
    site.store.check("photo");
    if (inFlight >= limits.uploadsAtOnce)
      comeAgain(response, 1, "Many photos are arriving at once: send this one again in a moment.");
    if (site.measuring.progress(delivery).waiting >= limits.photosWaiting)
      comeAgain(response, 30, "Many photos wait to be measured: send this one again in a minute.");
    inFlight++;
    response.once("close", () => {
      inFlight--;
    });
    next();
  };
};
