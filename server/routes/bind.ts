import type { Express, Request, RequestHandler, Response } from "express";
import type * as z from "zod";
import { type Body, calls, type Reply } from "../contract/calls.ts";
import { type CallName, paths } from "../contract/paths.ts";
import { Refusal } from "../problem.ts";
import { jsonBody } from "./json-body.ts";

/** Names of the parts of a path that begin with a colon. */
type Named<Path extends string> = Path extends `${string}:${infer Name}/${infer Rest}`
  ? Name | Named<Rest>
  : Path extends `${string}:${infer Name}`
    ? Name
    : never;

export type Params<Name extends CallName> = Readonly<Record<Named<(typeof paths)[Name][1]>, string>>;

/** The calls that answer with JSON. */
type JsonCall = { [Name in CallName]: (typeof calls)[Name]["reply"] extends z.ZodType ? Name : never }[CallName];

const methods = { GET: "get", POST: "post", PUT: "put" } as const;

/** Puts handlers at the method and path of a call. */
export const route = (app: Express, name: CallName, ...handlers: RequestHandler[]): void => {
  const [method, path] = paths[name];
  app[methods[method]](path, ...handlers);
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

/** Reads the body of a call by its schema; throws a ZodError that names what does not fit. */
export const bodyOf = <Name extends CallName>(name: Name, body: unknown): Body<Name> => {
  const schema: z.ZodType | null = calls[name].body;
  return (schema ? schema.parse(body) : null) as Body<Name>;
};

const needsJson: RequestHandler = (request, _response, next) => {
  if (!request.is("application/json")) throw new Refusal("Send JSON.", 415);
  next();
};

/** Serves one call: what comes in is checked, one use case is called, what goes out is checked. */
export const bind = <Name extends JsonCall>(
  app: Express,
  name: Name,
  handle: (params: Params<Name>, body: Body<Name>) => Reply<Name> | Promise<Reply<Name>>,
): void => {
  const answer: RequestHandler = async (request, response) => {
    sendReply(response, name, await handle(paramsOf(name, request), bodyOf(name, request.body)));
  };
  if (calls[name].body === null) route(app, name, answer);
  else route(app, name, needsJson, jsonBody, answer);
};
