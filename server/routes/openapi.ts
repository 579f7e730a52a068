import * as z from "zod";
import { calls, problem, serverEvent } from "../contract/calls.ts";
import { type CallName, paths } from "../contract/paths.ts";

/** The type of a piece of a file in tus 1.0. */
const partType = "application/offset+octet-stream";

type Json = Record<string, unknown>;

const schemaOf = (schema: z.ZodType, io: "input" | "output"): Json => {
  const { $schema: _, ...rest } = z.toJSONSchema(schema, { io, unrepresentable: "any" }) as Json;
  return rest;
};

const files: Partial<Record<CallName, string>> = {
  photoPreview: "image/jpeg",
  straightFace: "image/jpeg",
  photoOriginal: "application/octet-stream",
  recordPdf: "application/pdf",
  recordJson: "application/json",
  recordCopy: "image/jpeg",
  recordZip: "application/zip",
  recordLetter: "text/plain",
  recordMail: "message/rfc822",
  leavesCsv: "text/csv",
  labelSheet: "application/pdf",
  allotmentSheet: "application/pdf",
  cardSheet: "application/pdf",
};

/** Calls of tus 1.0 answer in their status and headers. */
const inHeaders: readonly CallName[] = ["beginUpload", "uploadOffset", "uploadPart"];

const replyOf = (name: CallName): Json => {
  if (inHeaders.includes(name)) return {};
  const { reply } = calls[name];
  if (reply !== null) return { "application/json": { schema: schemaOf(reply, "output") } };
  if (name === "events") return { "text/event-stream": { schema: schemaOf(serverEvent, "output") } };
  return { [files[name] ?? "application/octet-stream"]: {} };
};

const bodyOf = (name: CallName): Json => {
  const schema: z.ZodType | null = calls[name].body;
  if (name === "uploadPart") return { requestBody: { required: true, content: { [partType]: {} } } };
  if (schema === null) return {};
  const about = schemaOf(schema, "input");
  const content =
    name === "uploadPhoto"
      ? {
          "multipart/form-data": {
            schema: {
              type: "object",
              required: ["about", "photo"],
              properties: {
                about: { type: "string", contentMediaType: "application/json", contentSchema: about },
                photo: { type: "string", contentMediaType: "application/octet-stream" },
              },
            },
          },
          "application/json": { schema: about },
        }
      : { "application/json": { schema: about } };
  return { requestBody: { required: true, content } };
};

const operation = (name: CallName): Json => ({
  operationId: name,
  parameters: [...paths[name][1].matchAll(/:(\w+)/g)].map(([, param]) => ({
    name: param,
    in: "path",
    required: true,
    schema: { type: "string" },
  })),
  ...bodyOf(name),
  responses: {
    [inHeaders.includes(name) ? "2XX" : "200"]: { description: "Done", content: replyOf(name) },
    default: {
      description: "A problem (RFC 9457)",
      content: { "application/problem+json": { schema: { $ref: "#/components/schemas/Problem" } } },
    },
  },
});

/** The description of every call as OpenAPI 3.1, made from the schemas that check them. */
export const openApi = (version: string): Json => {
  const described: Record<string, Json> = {};
  for (const name of Object.keys(paths) as CallName[]) {
    const [method, path] = paths[name];
    const at = path.replace(/:(\w+)/g, "{$1}");
    described[at] = { ...described[at], [method.toLowerCase()]: operation(name) };
  }
  return {
    openapi: "3.1.0",
    info: {
      title: "Leafledger",
      version,
      description: "Deliveries of veneered door leaves: count, photos, decisions, allotment, records.",
    },
    paths: described,
    components: { schemas: { Problem: schemaOf(problem, "output") } },
  };
};
