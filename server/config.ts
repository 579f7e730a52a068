import * as z from "zod";
import { type HowOften, usualRates } from "./access/rates.ts";

/** Where the server listens, how it is guarded there, and where it keeps its data. */
export interface Config {
  readonly host: string;
  readonly port: number;
  readonly dataFolder: string;
  /** `own`: this computer only. Else other devices reach it, over HTTPS or, as was said on purpose, without. */
  readonly guard: "own" | "https" | "insecure";
  /** How often a device may call, times a minute, where another figure than the usual is wanted. */
  readonly rates: HowOften;
  /** Names of this computer beside those it knows of itself. */
  readonly names: readonly string[];
}

const loopback = ["127.0.0.1", "localhost", "::1"];

const flag = z.enum(["0", "1"], "set it to 1 or leave it out").default("0");

const environment = z
  .object({
    LEAFLEDGER_PORT: z.coerce.number().int().min(0).max(65_535).default(4180),
    LEAFLEDGER_DATA: z.string().min(1).default("./data"),
    LEAFLEDGER_HOST: z.string().min(1).default("127.0.0.1"),
    LEAFLEDGER_CERT: flag,
    LEAFLEDGER_INSECURE_HTTP: flag,
    LEAFLEDGER_RATES: z
      .string()
      .regex(/^[1-9][0-9]*(,[1-9][0-9]*){2}$/, "three numbers: calls, uploads and pairings a minute")
      .default(`${usualRates.light},${usualRates.uploads},${usualRates.pairings}`),
    LEAFLEDGER_NAMES: z
      .string()
      .regex(/^[a-z0-9.-]*(,[a-z0-9.-]+)*$/, "name hosts in small letters with commas between them")
      .default(""),
  })
  .superRefine(({ LEAFLEDGER_HOST: host, LEAFLEDGER_CERT: cert, LEAFLEDGER_INSECURE_HTTP: insecure }, context) => {
    if (!loopback.includes(host) && cert === "0" && insecure === "0")
      context.addIssue({
        code: "custom",
        path: ["LEAFLEDGER_HOST"],
        message: `other devices could reach ${host}: add --cert to encrypt, or --insecure-http if nobody else is on this network`,
      });
  });

/** Reads the settings from the environment; throws one error that lists all that is wrong with them. */
export const readConfig = (env: Readonly<Record<string, string | undefined>>): Config => {
  const read = environment.safeParse(env);
  if (!read.success)
    throw new Error(read.error.issues.map(({ path, message }) => `${path.join(".")}: ${message}`).join("\n"));
  const { LEAFLEDGER_HOST: host, LEAFLEDGER_PORT: port, LEAFLEDGER_DATA: dataFolder, ...rest } = read.data;
  const shared = rest.LEAFLEDGER_CERT === "1" ? "https" : "insecure";
  const guard = loopback.includes(host) && rest.LEAFLEDGER_CERT === "0" ? "own" : shared;
  const [light = 1, uploads = 1, pairings = 1] = rest.LEAFLEDGER_RATES.split(",").map(Number);
  const rates = { light, uploads, pairings };
  return { host, port, dataFolder, guard, rates, names: rest.LEAFLEDGER_NAMES.split(",").filter(Boolean) };
};
