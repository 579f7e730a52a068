import { readFile } from "node:fs/promises";
import { text } from "node:stream/consumers";
import * as z from "zod";
import { Refusal } from "../problem.ts";
import { allotmentFile } from "./allotment-file.ts";

const contentOf = async (file: string): Promise<string> => {
  try {
    return await (file === "-" ? text(process.stdin) : readFile(file, "utf8"));
  } catch (error) {
    throw new Refusal(`${file} cannot be read: ${error instanceof Error ? error.message : "unknown cause"}`);
  }
};

const readJson = async <Schema extends z.ZodType>(file: string, schema: Schema, what: string) => {
  const content = await contentOf(file);
  let json: unknown;
  try {
    json = JSON.parse(content);
  } catch (error) {
    throw new Refusal(`${file} is not JSON: ${error instanceof Error ? error.message : "cannot be read"}`);
  }
  const read = schema.safeParse(json);
  if (read.success) return read.data;
  const faults = read.error.issues.map(({ path, message }) => ({ at: path.join("."), says: message }));
  throw new Refusal(`${file} is not ${what}.`, 422, faults);
};

/** An allotment to solve, from a file, or from standard input for "-". */
export const readAllotment = (file: string) => readJson(file, allotmentFile, "an allotment to solve");

const planFile = z.object({
  places: z.array(
    z.object({
      opening: z.string(),
      place: z.union([z.literal(0), z.literal(1)]).default(0),
      leaf: z.string(),
      turned: z.boolean().default(false),
    }),
  ),
});

/** Where leaves hang, as `leafledger allot --json` answers it. */
export const readPlan = async (file: string) => (await readJson(file, planFile, "a plan to begin from")).places;
