import type { Express, Request, RequestHandler, Response } from "express";
import type * as z from "zod";
import { type Body, calls, type Reply } from "../contract/calls.ts";
import type { Actor } from "../contract/ids.ts";
import { type CallName, paths } from "../contract/paths.ts";
import { Refusal } from "../problem.ts";
import { jsonBody, jsonFiles } from "./json-body.ts";
import { actorOf, mayCall } from "./who-may-call.ts";

/** Names of the parts of a path that begin with a colon. */
type Named<Path extends string> = Path extends `${string}:${infer Name}/${infer Rest}`
  ? Name | Named<Rest>
  : Path extends `${string}:${infer Name}`
    ? Name
    : never;

export type Params<Name extends CallName> = Readonly<Record<Named<(typeof paths)[Name][1]>, string>>;

/** The calls that answer with JSON. */
type JsonCall = { [Name in CallName]: (typeof calls)[Name]["reply"] extends z.ZodType ? Name : never }[CallName];

const methods = { GET: "get", POST: "post", PUT: "put", HEAD: "head", PATCH: "patch" } as const;

/** Puts handlers at the method and path of a call, behind its row in the table of roles. */
export const route = (app: Express, name: CallName, ...handlers: RequestHandler[]): void => {
  const [method, path] = paths[name];
  app[methods[method]](path, mayCall(name), ...handlers);
};

/** The named parts of a request's path; Express has matched them all. */
export const paramsOf = <Name extends CallName>(_name: Name, request: Request): Params<Name> =>
  request.params as unknown as Params<Name>;

/** Checks a reply against the call's schema before it is sent: a misfit is a fault of ours. */
export const sendReply = (response: Response, name: CallName, reply: unknown): void => {
  const checked = calls[name].reply?.safeParse(reply);
  if (!checked?.success) throw new Error(`${name}: the reply does not fit: ${checked?.error.message ?? "no schema"}`);
  response.set("Cache-Control", "no-store").json(checked.data);
};

/** Reads the body of a call by its schema; the refusal names what does not fit. */
export const bodyOf = <Name extends CallName>(name: Name, body: unknown): Body<Name> => {
  const schema: z.ZodType | null = calls[name].body;
  const read = schema?.safeParse(body);
  if (!read || read.success) return (read?.data ?? null) as Body<Name>;
  const faults = read.error.issues.map(({ path, message }) => ({ at: path.join("."), says: message }));
  throw new Refusal(`${faults[0]?.at || "the request"}: ${faults[0]?.says}.`, 400, faults);
};

const saysJson: RequestHandler = (request, _response, next) => {
  if (!request.is("application/json")) throw new Refusal("Send JSON.", 415);
  next();
};

/** Calls whose body holds whole files as text. */
const withFiles: ReadonlySet<CallName> = new Set<CallName>([
  "createDelivery",
  "importOrder",
  "importSchedule",
  "addChart",
]);

/** What reads the body of a call that takes one. */
export const json: readonly RequestHandler[] = [saysJson, jsonBody];

/** Serves one call: who makes it and what comes in are checked, one use case is called, what goes out is checked. */
export const bind = <Name extends JsonCall>(
  app: Express,
  name: Name,
  handle: (params: Params<Name>, body: Body<Name>, by: Actor) => Reply<Name> | Promise<Reply<Name>>,
): void => {
  const answer: RequestHandler = async (request, response) => {
    const by = actorOf(name, request, response);
    sendReply(response, name, await handle(paramsOf(name, request), bodyOf(name, request.body), by));
  };
  if (calls[name].body === null) route(app, name, answer);
  else route(app, name, ...(withFiles.has(name) ? [saysJson, jsonFiles] : json), answer);
};
