import * as z from "zod";

/** Where the server listens and where it keeps its data. */
export interface Config {
  readonly host: string;
  readonly port: number;
  readonly dataFolder: string;
}

const loopback = ["127.0.0.1", "localhost", "::1"];

const environment = z.object({
  LEAFLEDGER_PORT: z.coerce.number().int().min(0).max(65_535).default(4180),
  LEAFLEDGER_DATA: z.string().min(1).default("./data"),
  LEAFLEDGER_HOST: z
    .string()
    .default("127.0.0.1")
    .refine((host) => loopback.includes(host), "access for other devices is not built yet: leave it at 127.0.0.1"),
});

/** Reads the settings from the environment; throws one error that lists all that is wrong with them. */
export const readConfig = (env: Readonly<Record<string, string | undefined>>): Config => {
  const read = environment.safeParse(env);
  if (!read.success)
    throw new Error(read.error.issues.map(({ path, message }) => `${path.join(".")}: ${message}`).join("\n"));
  const { LEAFLEDGER_HOST, LEAFLEDGER_PORT, LEAFLEDGER_DATA } = read.data;
  return { host: LEAFLEDGER_HOST, port: LEAFLEDGER_PORT, dataFolder: LEAFLEDGER_DATA };
};
