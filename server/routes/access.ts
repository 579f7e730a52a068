import type { CookieOptions, Express, Request, Response } from "express";
import qrcode from "qrcode";
import type { Access } from "../access/access.ts";
import { makeOffer } from "../access/pairing.ts";
import type { RecordLink } from "../access/record-links.ts";
import { sessionLimits, thisComputer } from "../access/sessions.ts";
import type { Session } from "../contract/access.ts";
import type { CallName } from "../contract/paths.ts";
import { Refusal } from "../problem.ts";
import type { Site } from "../site.ts";
import { bind, bodyOf, json, route, sendReply } from "./bind.ts";
import { cookieName, sessionOf } from "./who-may-call.ts";

const loopback = ["127.0.0.1", "::1", "::ffff:127.0.0.1"];

/** Being let in, letting others in and shutting them out, and how things stand for the page. */
export const access = (
  app: Express,
  site: Site,
  { door, clock, sessions, pairing, links, leftOffer }: Access,
): void => {
  const cookie: CookieOptions = { httpOnly: true, sameSite: "strict", path: "/", secure: door.secure };
  const ago = (ms: number): string => new Date(clock.wallMs() - ms).toISOString();
  const told = ({ id, ageMs, lastsMs }: RecordLink) => ({ id, made: ago(ageMs), until: ago(ageMs - lastsMs) });
  const letIn = async (
    name: CallName,
    response: Response,
    who: Omit<Session, "id">,
    link?: RecordLink,
  ): Promise<void> => {
    const before = response.locals.session as Session | null;
    if (before) await sessions.end(before.id);
    const { token, session } = await sessions.begin(who, link?.id);
    response.cookie(cookieName(door), token, { ...cookie, maxAge: sessionLimits.ageMs });
    sendReply(response, name, link ? { ...session, until: told(link).until } : session);
  };
  const addressOf = (request: Request, path: string): string => {
    const port = request.socket.localPort;
    const host = door.shared ? `${door.names[0]}:${port}` : request.headers.host;
    return `${door.secure ? "https" : "http"}://${host}${path}`;
  };

  route(app, "beginHere", async (request, response) => {
    if (door.shared || !loopback.includes(request.socket.remoteAddress ?? ""))
      throw new Refusal("This device needs a code. Ask the foreman for one.", 401);
    if (response.locals.session) return sendReply(response, "beginHere", response.locals.session);
    const all = { name: null, role: "foreman", delivery: null, record: null } as const;
    await letIn("beginHere", response, { ...all, device: thisComputer });
  });
  route(app, "state", (_request, response) => {
    const standing = { insecure: door.insecure, ...site.store.health() };
    sendReply(response, "state", { session: sessionOf(response), ...standing });
  });
  route(app, "nameSession", ...json, async (request, response) => {
    const named = await sessions.rename(sessionOf(response).id, bodyOf("nameSession", request.body).name);
    sendReply(response, "nameSession", named ?? sessionOf(response));
  });
  route(app, "signOut", async (_request, response) => {
    await sessions.end(sessionOf(response).id);
    response.clearCookie(cookieName(door), cookie);
    sendReply(response, "signOut", {});
  });

  route(app, "offerPairing", ...json, async (request, response) => {
    const wish = bodyOf("offerPairing", request.body);
    if (wish.delivery !== null) site.store.open(wish.delivery);
    const { offer, code, token } = makeOffer(wish, clock);
    pairing.add(offer);
    const address = addressOf(request, `/pair#${token}`);
    const qr = await qrcode.toString(address, { type: "svg", margin: 1 });
    const open = pairing.list().find(({ id }) => id === offer.id);
    sendReply(response, "offerPairing", { ...open, code, address, qr });
  });
  bind(app, "offers", () => [...pairing.list()]);
  route(app, "pair", ...json, async (request, response) => {
    const { secret, name } = bodyOf("pair", request.body);
    const left = await leftOffer();
    if (left) pairing.add(left);
    const taken = pairing.take(secret);
    if (taken.kind === "wait") {
      response.set("Retry-After", "60");
      throw new Refusal("Too many wrong codes were tried. Wait a minute, then ask the foreman for a new one.", 429);
    }
    if (taken.kind === "wrong")
      throw new Refusal("This code does not open. It may be mistyped, used or older than ten minutes.", 403);
    await letIn("pair", response, { ...taken.wish, name, record: null });
  });
  bind(app, "devices", () =>
    sessions.list().map(({ session, ageMs, idleMs }) => ({ ...session, since: ago(ageMs), seen: ago(idleMs) })),
  );
  bind(app, "shutOut", async ({ device }) => {
    if (!(await sessions.end(device))) throw new Refusal("There is no such device: it is out already.", 404);
    return {};
  });

  const recordOf = (delivery: string, number: string): number => {
    const { records } = site.store.open(delivery).read();
    const record = records.find((one) => String(one.number) === number);
    if (!record) throw new Refusal("There is no such record.", 404);
    return record.number;
  };
  route(app, "linkRecord", ...json, async (request, response) => {
    const { delivery = "", number = "" } = request.params as Record<string, string>;
    const { days } = bodyOf("linkRecord", request.body);
    const { secret, link } = await links.make(delivery, recordOf(delivery, number), days);
    sendReply(response, "linkRecord", { ...told(link), address: addressOf(request, `/r#${secret}`) });
  });
  bind(app, "recordLinks", ({ delivery, number }) => links.list(delivery, recordOf(delivery, number)).map(told));
  bind(app, "endLink", async ({ delivery, link }) => {
    if (!(await links.end(delivery, link))) throw new Refusal("There is no such link: it ended already.", 404);
    return {};
  });
  route(app, "openLink", ...json, async (request, response) => {
    const link = links.open(bodyOf("openLink", request.body).secret);
    if (!link) throw new Refusal("This link does not open any more. Ask who sent it for a new one.", 403);
    const guest = { name: null, device: "guest", role: "guest", delivery: link.delivery, record: link.record } as const;
    await letIn("openLink", response, guest, link);
  });
};
