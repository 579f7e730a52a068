import express, { type RequestHandler } from "express";
import { limits } from "../limits.ts";
import { Refusal } from "../problem.ts";

const [quote, backslash, openBrace, closeBrace, openBracket, closeBracket] = Buffer.from('"\\{}[]');

/** Deepest nesting of a JSON text, read from its bytes: a deep one parses, and then overflows whoever walks it. */
export const jsonDepth = (bytes: Uint8Array): number => {
  let depth = 0;
  let deepest = 0;
  let inString = false;
  for (let at = 0; at < bytes.length; at++) {
    const byte = bytes[at];
    if (inString) {
      if (byte === backslash) at++;
      else if (byte === quote) inString = false;
    } else if (byte === quote) inString = true;
    else if (byte === openBrace || byte === openBracket) deepest = Math.max(deepest, ++depth);
    else if (byte === closeBrace || byte === closeBracket) depth--;
  }
  return deepest;
};

/** Reads a JSON body of limited size and depth; a compressed one is refused. */
export const jsonBody: RequestHandler = express.json({
  limit: limits.jsonBytes,
  inflate: false,
  verify: (_request, _response, bytes) => {
    if (jsonDepth(bytes) > limits.jsonDepth) throw new Refusal("The JSON is nested too deeply.", 400);
  },
});
