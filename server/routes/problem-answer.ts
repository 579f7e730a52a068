import type { ErrorRequestHandler, Response } from "express";
import multer from "multer";
import type { Problem } from "../contract/calls.ts";
import { Conflicted, Refusal } from "../problem.ts";

const titles: Readonly<Record<number, string>> = {
  400: "The request is not as expected",
  403: "Not from this page",
  404: "Not there",
  409: "Not now",
  413: "Too large",
  412: "Not this protocol",
  415: "Not this kind",
  421: "Not this server",
  422: "Cannot be used",
  423: "Under way already",
  500: "A fault of ours",
  503: "Cannot be done at present",
  507: "The disk is full",
};

const problem = (status: number, detail: string, faults: Problem["faults"] = []): Problem => ({
  type: "about:blank",
  title: titles[status] ?? "Refused",
  status,
  detail,
  ...(faults.length > 0 ? { faults } : {}),
});

/** Errors of the body parser carry the status of the request's fault. */
const badRequestStatus = (error: unknown): number | null => {
  if (!(error instanceof Error) || !("status" in error)) return null;
  return typeof error.status === "number" && error.status >= 400 && error.status < 500 ? error.status : null;
};

const bodyFault: Readonly<Record<number, string>> = {
  413: "What was sent is too large.",
  415: "Send JSON, not compressed.",
};

/** What went wrong, in words fit for the sender: no stack, no path. A fault of ours says no more than that. */
const problemOf = (error: unknown): Problem => {
  if (error instanceof Conflicted) return { ...problem(409, error.message), conflict: error.conflict };
  if (error instanceof Refusal) return problem(error.status, error.message, [...error.faults]);
  if (error instanceof multer.MulterError)
    return error.code.startsWith("LIMIT")
      ? problem(413, "The upload is too large or has too many parts: send one photo of at most 40 MB.")
      : problem(400, "The upload could not be read.");
  if (error instanceof Error && "code" in error && (error.code === "EMFILE" || error.code === "ENFILE"))
    return problem(503, "Too many files are open on this computer at present: do it again in a moment.");
  const status = badRequestStatus(error);
  if (status !== null) return problem(status, bodyFault[status] ?? "The request could not be read.");
  return problem(500, "Something went wrong on our side. What was saved is safe; try again.");
};

/** What holds for the moment only is worth another try after so many seconds, unless the answer says otherwise. */
const againS = 2;

const sendProblem = (response: Response, answer: Problem): void => {
  if ((answer.status === 503 || answer.status === 423) && !response.get("Retry-After"))
    response.set("Retry-After", String(againS));
  response.status(answer.status).type("application/problem+json").send(JSON.stringify(answer));
};

/** The last handler: every error becomes a problem answer (RFC 9457); `report` hears of faults of ours. */
export const problemAnswer =
  (report: (error: unknown) => void): ErrorRequestHandler =>
  (error, _request, response, next) => {
    const answer = problemOf(error);
    if (answer.status === 500) report(error);
    if (response.headersSent) next(error);
    else sendProblem(response, answer);
  };
