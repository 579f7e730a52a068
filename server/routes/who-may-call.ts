import type { Request, RequestHandler, Response } from "express";
import type { Sessions } from "../access/sessions.ts";
import type { Session } from "../contract/access.ts";
import type { Actor } from "../contract/ids.ts";
import type { CallName } from "../contract/paths.ts";
import { roles, withoutName } from "../contract/roles.ts";
import { Refusal } from "../problem.ts";

const rank = { guest: 0, hand: 1, foreman: 2 } as const;

/** Holds the token of a session. Safari drops Secure cookies on plain http, even on this very computer: there it has this name. */
export const sessionCookie = "leafledger";

/** The value of a cookie, or null. */
const cookieOf = (request: Request, name: string): string | null => {
  const cookies = (request.headers.cookie ?? "").split("; ");
  return cookies.find((one) => one.startsWith(`${name}=`))?.slice(name.length + 1) ?? null;
};

/** Finds whose session a request belongs to, by its cookie. */
export const whoCalls =
  (sessions: Sessions, cookie: string): RequestHandler =>
  (request, response, next) => {
    const token = cookieOf(request, cookie);
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
    const rule = roles[name];
    if (rule === "anyone") return next();
    const session = sessionOf(response);
    const { delivery, number } = request.params;
    const least = rule === "foreman of all" ? "foreman" : rule;
    if (rank[session.role] < rank[least])
      throw new Refusal(
        session.role === "guest" ? noSuchDelivery : "Only the foreman may do this.",
        session.role === "guest" ? 404 : 403,
      );
    if (session.delivery !== null) {
      if (rule === "foreman of all") throw new Refusal("Only a foreman of all deliveries may do this.", 403);
      if (delivery !== undefined && delivery !== session.delivery) throw new Refusal(noSuchDelivery, 404);
    }
    if (session.role === "guest" && number !== undefined && number !== String(session.record))
      throw new Refusal("There is no such record.", 404);
    next();
  };
