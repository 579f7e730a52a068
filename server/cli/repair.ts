import { userInfo } from "node:os";
import { type Cut, cutAfter, type Findings, findFaults, type LineFound } from "../keep/repair.ts";
import { say } from "./say.ts";
import { deliveriesNamed, existingDataFolder } from "./verify.ts";

export interface RepairOptions {
  readonly json: boolean;
  readonly cutAfter?: string;
  readonly by?: string;
  readonly data?: string;
}

const lineWords = ({ line, what, fault }: LineFound): string =>
  `  line ${line} ${fault ?? "is sound in itself, but comes after a damaged one"}${what === null ? "" : ` (${what})`}`;

const findingWords = ({ delivery, opens, sound, rest, ...photos }: Findings): string =>
  [
    opens ? `${delivery}: the journal is sound, ${sound} lines.` : `${delivery}: sound up to line ${sound}, then:`,
    ...rest.map(lineWords),
    ...photos.linesWithoutPhoto.map((name) => `  photo ${name} is named, but its file is missing`),
    ...photos.photosWithoutLine.map(
      (id) => `  photo file ${id} is named by no line: add it again as a photo, if it is of use`,
    ),
    ...(opens || sound === 0
      ? []
      : [
          `To open it from what is sound: leafledger repair ${delivery} --cut-after ${sound}`,
          "What comes after is set aside in a file, not deleted. If there is a backup that holds more, restore that.",
        ]),
    ...(sound === 0 ? ["No line is sound: restore the delivery from a backup."] : []),
  ].join("\n");

const cutWords = ({ delivery, kept, aside, files }: Cut): string =>
  [`${delivery}: opens from its first ${kept} lines.`, `Set aside in ${aside}:`, ...files.map((name) => `  ${name}`)]
    .concat(
      files.some((name) => /record-/.test(name))
        ? ["The next record takes the number of the first one set aside."]
        : [],
    )
    .join("\n");

/** Says what is wrong with a delivery, or cuts its journal where it is told to; gives whether it opens now. */
export const repair = async (delivery: string, options: RepairOptions): Promise<boolean> => {
  const dataFolder = existingDataFolder(options);
  await deliveriesNamed(dataFolder, delivery);
  if (options.cutAfter === undefined) {
    const findings = await findFaults(delivery, dataFolder);
    say(options.json, findings, () => findingWords(findings));
    return findings.opens;
  }
  const by = { name: options.by ?? userInfo().username, device: "command line" };
  const cut = await cutAfter(delivery, dataFolder, Number(options.cutAfter), by, new Date().toISOString());
  say(options.json, cut, () => cutWords(cut));
  return true;
};
