import type { Request, RequestHandler, Response } from "express";
import type { Access } from "../access/access.ts";
import type { Door } from "../access/door.ts";
import type { Session } from "../contract/access.ts";
import { type Actor, pathParts } from "../contract/ids.ts";
import type { CallName } from "../contract/paths.ts";
import { mayMake, roles, withoutName } from "../contract/roles.ts";
import { Refusal } from "../problem.ts";

/** Holds the token of a session. Safari drops Secure cookies on plain http, even on this very computer: there it has a plain name. */
export const cookieName = ({ secure }: Door): string => (secure ? "__Host-leafledger" : "leafledger");

/** The value of a cookie, or null. */
const cookieOf = (request: Request, name: string): string | null => {
  const cookies = (request.headers.cookie ?? "").split("; ");
  return cookies.find((one) => one.startsWith(`${name}=`))?.slice(name.length + 1) ?? null;
};

/** Finds whose session a request belongs to, by its cookie. */
export const whoCalls =
  ({ sessions, door }: Access): RequestHandler =>
  (request, response, next) => {
    const token = cookieOf(request, cookieName(door));
    response.locals.session = token === null ? null : sessions.use(token);
    next();
  };

/** The session of a request. Refused when it has none. */
export const sessionOf = (response: Response): Session => {
  const session = response.locals.session as Session | null | undefined;
  if (!session) throw new Refusal("This device is not let in. Ask the foreman for a code, and enter it here.", 401);
  return session;
};

/** Who makes a change. Refused while nobody gave a name, except for what leaves no trace in the history. */
export const actorOf = (name: CallName, request: Request, response: Response): Actor => {
  const { name: person, device, role } = sessionOf(response);
  if (person === null && request.method !== "GET" && !withoutName.has(name))
    throw new Refusal("Say first who enters this: your name stands beside every entry.");
  return { name: person ?? "", device, role };
};

const noSuchDelivery = "There is no such delivery.";

/** Lets a call through to those whom the table of roles names; what lies outside a session's delivery is not there for it. */
export const mayCall =
  (name: CallName): RequestHandler =>
  (request, response, next) => {
    if (roles[name] === "anyone") return next();
    const session = sessionOf(response);
    const { delivery, number } = request.params;
    if (session.delivery !== null && delivery !== undefined && delivery !== session.delivery)
      throw new Refusal(noSuchDelivery, 404);
    if (session.role === "guest" && number !== undefined && number !== String(session.record))
      throw new Refusal("There is no such record.", 404);
    if (!mayMake(session, name)) throw new Refusal("Only the foreman may do this.", 403);
    for (const [part, value] of Object.entries(request.params))
      if (!pathParts[part]?.test(String(value))) throw new Refusal(`There is no such ${part}.`, 404);
    next();
  };
