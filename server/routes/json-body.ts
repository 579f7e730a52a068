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

/** Where a JSON string that begins at `start` ends: the place behind its closing quote. */
const endOfString = (text: string, start: number): number => {
  for (let at = start + 1; at < text.length; at++) {
    if (text[at] === "\\") at++;
    else if (text[at] === '"') return at + 1;
  }
  return text.length;
};

/** Whether an object in a JSON text names a key twice: which of the two is meant nobody can tell. */
export const namesTwice = (text: string): boolean => {
  /** The keys of each open object; null for a list. */
  const open: (Set<string> | null)[] = [];
  let keyIsNext = false;
  for (let at = 0; at < text.length; at++) {
    const character = text[at];
    if (character === '"') {
      const end = endOfString(text, at);
      const keys = keyIsNext ? open.at(-1) : null;
      const key =
        keys &&
        text
          .slice(at + 1, end - 1)
          .replace(/\\u([0-9a-f]{4})/gi, (_, hex: string) => String.fromCharCode(Number.parseInt(hex, 16)));
      if (key && keys.has(key)) return true;
      if (key) keys.add(key);
      keyIsNext = false;
      at = end - 1;
    } else if (character === "{" || character === "[") {
      open.push(character === "{" ? new Set() : null);
      keyIsNext = character === "{";
    } else if (character === "}" || character === "]") open.pop();
    else if (character === ",") keyIsNext = (open.at(-1) ?? null) !== null;
  }
  return false;
};

/** Reads a JSON body of limited size and depth in which no key stands twice; a compressed one is refused. */
const reader = (limit: number): RequestHandler =>
  express.json({
    limit,
    inflate: false,
    verify: (_request, _response, bytes) => {
      if (jsonDepth(bytes) > limits.jsonDepth) throw new Refusal("The JSON is nested too deeply.", 400);
      if (namesTwice(bytes.toString())) throw new Refusal("The JSON names something twice in one place.", 400);
    },
  });

/** Reads the body of a call; one that holds whole files as text may be larger than what people type. */
export const jsonBody = reader(limits.jsonBytes);
export const jsonFiles = reader(limits.jsonFileBytes);
