import type { RequestHandler } from "express";
import type { Door } from "../access/door.ts";
import { Refusal } from "../problem.ts";

const hostName = (host: string): string => host.replace(/:\d+$/, "");

/** Answers only under names of its own: a page elsewhere cannot reach it under a name of that page's (DNS rebinding). */
export const ownNamesOnly =
  ({ names }: Door): RequestHandler =>
  (request, _response, next) => {
    if (!names.includes(hostName(request.headers.host ?? "").toLowerCase()))
      throw new Refusal("This server does not answer under that name: use the address that Leafledger shows.", 421);
    next();
  };

/**
 * A change must come from our own page. The browser says where a request comes from, and a page elsewhere cannot add a header of its own
 * without asking first, which is never allowed.
 */
export const samePageOnly: RequestHandler = (request, _response, next) => {
  const { origin, host, "sec-fetch-site": from, "x-leafledger": marked } = request.headers;
  const sameOrigin = origin === `http://${host}` || origin === `https://${host}`;
  const ours = marked === "1" && (from === undefined ? sameOrigin : from === "same-origin" && (!origin || sameOrigin));
  if (request.method !== "GET" && request.method !== "HEAD" && !ours)
    throw new Refusal("A change must come from Leafledger's own page.", 403);
  next();
};
