import type { CookieOptions, Express } from "express";
import type { Access } from "../access/access.ts";
import { sessionLimits } from "../access/sessions.ts";
import { Refusal } from "../problem.ts";
import { bodyOf, json, route, sendReply } from "./bind.ts";
import { sessionCookie, sessionOf } from "./who-may-call.ts";

const cookieOptions: CookieOptions = {
  httpOnly: true,
  sameSite: "strict",
  path: "/",
  maxAge: sessionLimits.ageMs,
};

const loopback = ["127.0.0.1", "::1", "::ffff:127.0.0.1"];

/** Being let in, and how things stand for the page. */
export const access = (app: Express, { sessions }: Access): void => {
  route(app, "beginHere", async (request, response) => {
    if (!loopback.includes(request.socket.remoteAddress ?? ""))
      throw new Refusal("This device needs a code. Ask the foreman for one.", 401);
    if (response.locals.session) return sendReply(response, "beginHere", response.locals.session);
    const { token, session } = await sessions.begin({
      name: null,
      device: "laptop",
      role: "foreman",
      delivery: null,
      record: null,
    });
    response.cookie(sessionCookie, token, cookieOptions);
    sendReply(response, "beginHere", session);
  });
  route(app, "state", (_request, response) => {
    const nothing = { readOnly: null, disk: null, insecure: null, clock: null };
    sendReply(response, "state", { session: sessionOf(response), ...nothing });
  });
  route(app, "nameSession", ...json, async (request, response) => {
    const named = await sessions.rename(sessionOf(response).id, bodyOf("nameSession", request.body).name);
    sendReply(response, "nameSession", named ?? sessionOf(response));
  });
};
