import { userInfo } from "node:os";
import { type Findings, findFaults, type LineFound } from "../keep/find-faults.ts";
import { bridge, cutAfter, type Repaired } from "../keep/repair.ts";
import { say } from "./say.ts";
import { deliveriesNamed, existingDataFolder } from "./verify.ts";

export interface RepairOptions {
  readonly json: boolean;
  readonly bridge: boolean;
  readonly cutAfter?: string;
  readonly by?: string;
  readonly data?: string;
}

const lineWords = ({ line, what, fault }: LineFound): string =>
  `  line ${line} ${fault ?? "is sound in itself, but comes after a damaged one"}${what === null ? "" : ` (${what})`}`;

/** What can be done, the best first. */
const wayOut = ({ delivery, opens, sound, bridgedTo }: Findings): string[] => {
  if (opens) return [];
  if (sound === 0) return ["No line is sound: restore the delivery from a backup."];
  const byBridge =
    bridgedTo === null
      ? []
      : [
          `A snapshot holds what the damaged lines did. To open all up to line ${bridgedTo}: leafledger repair ${delivery} --bridge`,
        ];
  return [
    ...byBridge,
    `To open what is sound alone, up to line ${sound}: leafledger repair ${delivery} --cut-after ${sound}`,
    "Nothing is deleted: the journal as it is now is set aside. If there is a backup that holds more, restore that.",
  ];
};

const findingWords = (findings: Findings): string =>
  [
    findings.opens
      ? `${findings.delivery}: the journal is sound, ${findings.sound} lines.`
      : `${findings.delivery}: sound up to line ${findings.sound}, then:`,
    ...findings.rest.map(lineWords),
    ...findings.linesWithoutPhoto.map((name) => `  photo ${name} is named, but its file is missing`),
    ...findings.photosWithoutLine.map(
      (id) => `  photo file ${id} is named by no line: add it again as a photo, if it is of use`,
    ),
    ...wayOut(findings),
  ].join("\n");

const repairedWords = ({ delivery, upTo, aside, files }: Repaired): string =>
  [
    `${delivery}: opens with all up to line ${upTo}.`,
    `Set aside in ${aside}:`,
    ...files.map((name) => `  ${name}`),
    ...(files.some((name) => name.startsWith("records"))
      ? ["The next record takes the number of the first one set aside."]
      : []),
  ].join("\n");

/** Says what is wrong with a delivery, or repairs its journal as it is told to; gives whether it opens now. */
export const repair = async (delivery: string, options: RepairOptions): Promise<boolean> => {
  const dataFolder = existingDataFolder(options);
  await deliveriesNamed(dataFolder, delivery);
  const by = { name: options.by ?? userInfo().username, device: "command line" };
  const now = new Date().toISOString();
  if (options.bridge || options.cutAfter !== undefined) {
    const repaired = await (options.bridge
      ? bridge(delivery, dataFolder, by, now)
      : cutAfter(delivery, dataFolder, Number(options.cutAfter), by, now));
    say(options.json, repaired, () => repairedWords(repaired));
    return true;
  }
  const findings = await findFaults(delivery, dataFolder);
  say(options.json, findings, () => findingWords(findings));
  return findings.opens;
};
