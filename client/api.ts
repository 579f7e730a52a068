import type { Body, Problem, Reply } from "../server/contract/calls.ts";
import { type CallName, paths } from "../server/contract/paths.ts";

type Named<Path extends string> = Path extends `${string}:${infer Name}/${infer Rest}`
  ? Name | Named<`/${Rest}`>
  : Path extends `${string}:${infer Name}`
    ? Name
    : never;

/** The names in a call's path: `{ delivery, leaf }` for /deliveries/:delivery/leaves/:leaf. */
export type Params<Name extends CallName> = { readonly [Key in Named<(typeof paths)[Name][1]>]: string | number };

/** What came of a call. "unreachable" is no signal or no server: nothing was decided. */
export type Outcome<T> =
  | { readonly kind: "ok"; readonly value: T }
  | { readonly kind: "refused"; readonly problem: Problem }
  | { readonly kind: "unreachable" };

/** The address of a call with its names filled in. */
export const address = <Name extends CallName>(name: Name, params: Params<Name>): string => {
  const values: Readonly<Record<string, string | number>> = params;
  return paths[name][1].replace(/:([a-z]+)/gi, (_, key: string) => encodeURIComponent(String(values[key])));
};

const asProblem = async (response: Response): Promise<Problem> => {
  const says = await response.json().catch(() => null);
  if (says && typeof says.detail === "string") return says;
  return {
    type: "about:blank",
    title: "No answer that can be read",
    status: response.status,
    detail: `The laptop answered ${response.status}. Try again; nothing was changed.`,
  };
};

/** Sends one request and reads the answer; a page elsewhere could not add its header. Never throws on a refusal or a lost signal. */
export const send = async <T>(path: string, request: RequestInit): Promise<Outcome<T>> => {
  try {
    const headers = new Headers(request.headers);
    headers.set("x-leafledger", "1");
    const response = await fetch(path, { ...request, headers });
    if (!response.ok) return { kind: "refused", problem: await asProblem(response) };
    return { kind: "ok", value: await response.json() };
  } catch {
    return { kind: "unreachable" };
  }
};

/** One call of the contract. */
export const call = <Name extends CallName>(
  name: Name,
  params: Params<Name>,
  ...body: Body<Name> extends null ? [] : [Body<Name>]
): Promise<Outcome<Reply<Name>>> =>
  send(address(name, params), {
    method: paths[name][0],
    ...(body.length > 0 && { headers: { "content-type": "application/json" }, body: JSON.stringify(body[0]) }),
  });
