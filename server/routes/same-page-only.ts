import type { RequestHandler } from "express";
import { Refusal } from "../problem.ts";

const loopbackNames = ["localhost", "127.0.0.1", "[::1]"];

const hostName = (host: string): string => host.replace(/:\d+$/, "");

/** Answers only under this computer's own names: a page elsewhere cannot reach it under a name of its own (DNS rebinding). */
export const ownNamesOnly: RequestHandler = (request, _response, next) => {
  if (!loopbackNames.includes(hostName(request.headers.host ?? "").toLowerCase()))
    throw new Refusal("This server answers under localhost only.", 421);
  next();
};

/** A change must come from our own page, or from a program that sends no origin at all. */
export const samePageOnly: RequestHandler = (request, _response, next) => {
  const { origin, host } = request.headers;
  const reads = request.method === "GET" || request.method === "HEAD";
  if (!reads && origin !== undefined && origin !== `http://${host}` && origin !== `https://${host}`)
    throw new Refusal("A change must come from Leafledger's own page.", 403);
  next();
};
