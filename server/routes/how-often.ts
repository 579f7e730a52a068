import type { Express, Request, RequestHandler, Response } from "express";
import { rateLimit } from "express-rate-limit";
import type { HowOften } from "../access/rates.ts";
import type { Session } from "../contract/access.ts";
import { paths } from "../contract/paths.ts";
import { Refusal } from "../problem.ts";

/** Nobody is told apart by an address that a proxy names: by the session, else by the socket. */
const caller = (request: Request, response: Response): string => {
  const session = response.locals.session as Session | null;
  return session ? `session ${session.id}` : `address ${request.socket.remoteAddress ?? ""}`;
};

const atMost = (limit: number, says: string): RequestHandler =>
  rateLimit({
    windowMs: 60_000,
    limit,
    keyGenerator: caller,
    standardHeaders: false,
    legacyHeaders: false,
    handler: (request, response) => {
      const { resetTime } = (request as unknown as { rateLimit: { resetTime?: Date } }).rateLimit;
      const seconds = Math.max(1, Math.ceil(((resetTime?.getTime() ?? 0) - Date.now()) / 1000));
      response.set("Retry-After", String(seconds));
      throw new Refusal(`${says} Try again in ${seconds} seconds.`, 429);
    },
  });

const uploadInParts = /\/uploads\/[^/]+\/?$/i;
const uploadBegins = /\/(photos|uploads\/[^/]+)\/?$/i;

/** Limits how often each device calls. The parts of one upload count with it, once. */
export const howOften = (app: Express, { light, uploads, pairings }: HowOften): void => {
  const lightly = atMost(light, "This device asks too often.");
  const uploading = atMost(uploads, "This device sends too many photos at once. They stay on it meanwhile.");
  const pairing = atMost(pairings, "Too many tries to be let in.");
  app.use("/api", (request, response, next) => {
    if (uploadInParts.test(request.path) && request.method !== "POST") next();
    else if (request.method === "POST" && uploadBegins.test(request.path)) uploading(request, response, next);
    else lightly(request, response, next);
  });
  app.use([paths.pair[1], paths.openLink[1]], (request, response, next) => {
    if (request.method === "POST" && request.path === "/") pairing(request, response, next);
    else next();
  });
};
