import { readFile } from "node:fs/promises";
import { join } from "node:path";
import { type JobFile, jobFile } from "../contract/job-file.ts";
import { Refusal } from "../problem.ts";
import type { ChartChoice } from "../rules/chart-editions.ts";
import { readChart } from "./read-chart.ts";

const parsed = (text: string): unknown => {
  try {
    return JSON.parse(text);
  } catch (error) {
    throw new Refusal(`job.json is no JSON: ${(error as Error).message}.`, 422);
  }
};

/** Photos that name a leaf, and openings that name a space, which the file does not list. */
const unknownNames = ({ leaves, photos, spaces, openings }: JobFile): { at: string; says: string }[] => {
  const ids = new Set(leaves.map(({ id }) => id));
  const names = new Set(spaces.map(({ name }) => name));
  return [
    ...photos.flatMap(({ file, shows }) =>
      shows.filter(({ leaf }) => !ids.has(leaf)).map(({ leaf }) => ({ at: file, says: `there is no leaf ${leaf}` })),
    ),
    ...openings.flatMap(({ id, spaces: seenFrom }) =>
      seenFrom
        .filter((name) => !names.has(name))
        .map((name) => ({ at: `opening ${id}`, says: `there is no space ${name}` })),
    ),
  ];
};

/** A job file, with the chart whose values it gives or names; null for the usual one. */
export interface Job extends JobFile {
  readonly chart: ChartChoice | null;
}

const chartOf = async (folder: string, { references: { chart } }: JobFile): Promise<ChartChoice | null> => {
  if (!chart?.values && !chart?.labD50) return null;
  const choice = { id: "JOB", title: chart.name ?? "chart of the job file", enteredBy: null };
  if (!chart.values) return { ...choice, white: "D50", lab: chart.labD50 ?? [] };
  const text = await readFile(join(folder, chart.values), "utf8").catch(() => {
    throw new Refusal(`There is no ${chart.values} in ${folder}, which job.json names for the chart's values.`, 422);
  });
  return { ...choice, ...readChart(text, chart.white ?? null) };
};

/** The job.json of a folder. Refused with every place that is not as expected. */
export const readJobFile = async (folder: string): Promise<Job> => {
  const path = join(folder, "job.json");
  const text = await readFile(path, "utf8").catch(() => {
    throw new Refusal(
      `There is no job.json in ${folder}. Write one that lists the leaves and which photo shows which faces.`,
      422,
    );
  });
  const read = jobFile.safeParse(parsed(text));
  const faults = read.success
    ? unknownNames(read.data)
    : read.error.issues.map(({ path: at, message }) => ({ at: at.join("."), says: message }));
  if (read.success && faults.length === 0) return { ...read.data, chart: await chartOf(folder, read.data) };
  const names = faults.map(({ at, says }) => `${at}: ${says}`).join("; ");
  throw new Refusal(`job.json is not as expected. ${names}.`, 422, faults);
};
