import { userInfo } from "node:os";
import { readConfig } from "../config.ts";
import { openSite } from "../open-site.ts";
import { issueRecord } from "../use-cases/issue-record.ts";
import { say } from "./say.ts";

export interface RecordOptions {
  readonly json: boolean;
  readonly accept?: string[];
  readonly return?: string[];
  readonly revises?: string;
  readonly by?: string;
  readonly data?: string;
}

/** Issues an acceptance or a return record for the leaves named after the one of the two options that is given. */
export const record = async (delivery: string, options: RecordOptions): Promise<void> => {
  const kind = options.accept ? "accept" : "return";
  const leaves = options.accept ?? options.return ?? [];
  const { dataFolder } = readConfig({
    ...process.env,
    ...(options.data === undefined ? {} : { LEAFLEDGER_DATA: options.data }),
  });
  const open = await openSite(dataFolder);
  const { site } = open;
  try {
    await site.measuring.settled(delivery);
    const by = { name: options.by ?? userInfo().username, device: "command line" };
    const revises = options.revises === undefined ? null : Number(options.revises);
    const result = await issueRecord(site, delivery, { by, kind, leaves, revises });
    say(
      options.json,
      result,
      () => `Issued record ${result.number}${result.late ? ", after its window had shut" : ""}.`,
    );
  } finally {
    await open.close();
  }
};
