#!/usr/bin/env node
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { Command, CommanderError, InvalidArgumentError, Option } from "commander";
import { projectFolder } from "../project-folder.ts";
import { allotFile } from "./allot.ts";
import { askAllotment, type Question } from "./ask-allotment.ts";
import { type BackupOptions, backup } from "./backup.ts";
import { type CertOptions, cert } from "./cert.ts";
import { inspect } from "./inspect.ts";
import { type PairOptions, pair } from "./pair.ts";
import { type RecordOptions, record } from "./record.ts";
import { type RepairOptions, repair } from "./repair.ts";
import { type RepeatOptions, repeat } from "./repeat.ts";
import { type RestoreOptions, restore } from "./restore.ts";
import { wordsOf } from "./say.ts";
import { type ServeOptions, serve } from "./serve.ts";
import { verify } from "./verify.ts";

const { version } = JSON.parse(readFileSync(join(projectFolder(), "package.json"), "utf8")) as { version: string };

const data = ["--data <folder>", "where deliveries are kept (else LEAFLEDGER_DATA, else ./data)"] as const;

/** A whole number within a range as commander's argument; anything else is wrong use. */
const whole =
  (low: number, high: number) =>
  (text: string): string => {
    const value = /^\d+$/.test(text) ? Number(text) : Number.NaN;
    if (!(value >= low && value <= high))
      throw new InvalidArgumentError(`It is a whole number from ${low} to ${high}.`);
    return text;
  };

const command = (name: string, says: string, example: string): Command =>
  new Command(name)
    .description(says)
    .option("--json", "answer in JSON", false)
    .addHelpText("after", `\nExample:\n  $ ${example}`);

/** Exit code 1 where something is not sound. */
const endWith = (sound: boolean): void => {
  if (!sound) process.exitCode = 1;
};

const program = new Command("leafledger")
  .description("Measures, matches and records pre-finished timber door leaves from photos taken while unwrapping.")
  .version(version)
  .addHelpText("after", "\nExit codes: 0 done, 1 refused or not sound, 2 wrong use.");

program.addCommand(
  command("serve", "serve the screens and the API on this computer", "leafledger serve --data ./data --port 4180")
    .option("--demo", "begin with the demo delivery when there is none", false)
    .option(...data)
    .option("--port <number>", "port to listen on (else LEAFLEDGER_PORT, else 4180)", whole(0, 65_535))
    .option("--host <address>", "address to listen on (else LEAFLEDGER_HOST, else this computer only)")
    .option("--cert", "let other devices in, over HTTPS by a certificate of this computer", false)
    .option("--insecure-http", "let other devices in without encryption; every page says so", false)
    .action((options: ServeOptions) => serve(options, version)),
);
program.addCommand(
  command(
    "pair",
    "make a code that lets a device in while the server runs",
    "leafledger pair --role hand --device phone",
  )
    .addOption(new Option("--role <role>", "what it may do").choices(["hand", "foreman"]).default("hand"))
    .option("--delivery <delivery>", "one delivery only (else all)")
    .option("--device <label>", "how the history names it", "phone")
    .option(...data)
    .action((options: PairOptions) => pair(options)),
);
program.addCommand(
  command("cert", "make the certificate by which phones are let in over HTTPS", "leafledger cert --data ./data")
    .option(...data)
    .action((options: CertOptions) => cert(options)),
);
program.addCommand(
  command(
    "inspect",
    "measure a folder of photos with its job.json and say what they show",
    "leafledger inspect ./photos-of-tuesday --json > result.json",
  )
    .argument("<folder>", "holds job.json and the photos")
    .action(inspect),
);
program.addCommand(
  command(
    "repeat",
    "say how repeatable photos are, from leaves photographed several times",
    "leafledger repeat ./repeat-shots\n  $ leafledger repeat --delivery brannochquay --data ./data",
  )
    .argument("[folder]", "holds job.json and the photos; a photo there may say who took it (by) and the phone")
    .option("--delivery <delivery>", "the photos of this delivery instead, by its name as in its address")
    .option(...data)
    .action((folder: string | undefined, options: RepeatOptions, itself: Command) => {
      if ((folder === undefined) === (options.delivery === undefined))
        itself.error("error: name a folder, or a delivery after --delivery, one of the two");
      return repeat(folder, options);
    }),
);
program.addCommand(
  command("allot", "allot leaves to openings from a file", "leafledger allot corridor.json")
    .argument("<file>", "leaves, openings, spaces and differences as JSON; - for standard input")
    .option(
      "--returns <tolerance>",
      "ask which leaves, as few as can be, to return so that every space keeps that ΔE00",
    )
    .option("--late <leaf>", "ask which opening to leave empty while this leaf is late")
    .option("--lock <leaf=opening...>", "ask what changes if leaves are locked to openings")
    .option("--replace <opening>", "ask what a new leaf there must look like (OPENING:1 for the right one of a pair)")
    .option("--lift", "ask what would lower the worst difference")
    .option("--sure", "ask how sure the plan is within the uncertainty of the differences (u95)")
    .option("--progress", "tell how far planning is; Ctrl-C takes the best so far", false)
    .option("--from <plan>", "plan before, as --json answers it: ask for the fewest moves from there")
    .option("--loss <number>", "ΔE00 that may be given up for fewer moves (else 0)")
    .option("--tolerance <number>", "ΔE00 a new leaf is to keep, or spaces are held to (else that of the file, else 2)")
    .action((file: string, options: Question & { readonly progress: boolean }, itself: Command) => {
      const { returns, late, lock, replace, lift, sure } = options;
      const asked = [returns, late, lock, replace, lift, sure].filter((one) => one !== undefined);
      if (asked.length > 1)
        itself.error("error: ask one of --returns, --late, --lock, --replace, --lift, --sure at a time");
      return asked.length === 1 || options.from !== undefined ? askAllotment(file, options) : allotFile(file, options);
    }),
);
program.addCommand(
  command(
    "record",
    "issue a record for the supplier, while no server runs on the data folder",
    "leafledger record brannochquay --return W03 W07 --by 'R. Tallis'",
  )
    .argument("<delivery>", "the delivery's name, as in its address")
    .option("--accept <leaves...>", "accept these leaves")
    .option("--return <leaves...>", "return these leaves")
    .option("--revises <number>", "the record that this one corrects", whole(1, 1_000_000))
    .option("--by <name>", "who issues it (else the name you are logged in with)")
    .option(...data)
    .action((delivery: string, options: RecordOptions, itself: Command) => {
      if (Boolean(options.accept) === Boolean(options.return))
        itself.error("error: name the leaves after --accept or after --return, one of the two");
      return record(delivery, options);
    }),
);
program.addCommand(
  command(
    "verify",
    "check journals, photos and records against their hashes, beside a running server too",
    "leafledger verify brannochquay",
  )
    .argument("[delivery]", "one delivery; all when left out")
    .option(...data)
    .action(async (delivery: string | undefined, options: { json: boolean; data?: string }) =>
      endWith(await verify(delivery, options)),
    ),
);
program.addCommand(
  command(
    "backup",
    "copy deliveries into a new folder and check the copy, beside a running server too",
    "leafledger backup --all --to /media/stick/leafledger-6-march",
  )
    .argument("[delivery]", "the delivery's name, as in its address")
    .option("--all", "all deliveries", false)
    .requiredOption("--to <folder>", "a folder that is new or empty")
    .option(...data)
    .action(async (delivery: string | undefined, options: BackupOptions & { all: boolean }, itself: Command) => {
      if ((delivery === undefined) !== options.all)
        itself.error("error: name a delivery, or say --all, one of the two");
      endWith(await backup(delivery, options));
    }),
);
program.addCommand(
  command(
    "restore",
    "bring deliveries of a backup back; none is written over",
    "leafledger restore --from /media/stick/leafledger-6-march --data ./data",
  )
    .argument("[delivery]", "one delivery; all in the backup when left out")
    .requiredOption("--from <folder>", "the backup")
    .option(...data)
    .action(async (delivery: string | undefined, options: RestoreOptions) => endWith(await restore(delivery, options))),
);
program.addCommand(
  command(
    "repair",
    "say why a delivery does not open, and open it from what is sound",
    "leafledger repair brannochquay\n  $ leafledger repair brannochquay --bridge",
  )
    .argument("<delivery>", "the delivery's name, as in its address")
    .option(
      "--cut-after <line>",
      "set what comes after this line aside, in a folder beside it",
      whole(1, 1_000_000_000),
    )
    .option("--by <name>", "who repairs it (else the name you are logged in with)")
    .option(...data)
    .action(async (delivery: string, options: RepairOptions, itself: Command) => {
      if (options.bridge && options.cutAfter !== undefined)
        itself.error("error: say --bridge or --cut-after, one of the two");
      endWith(await repair(delivery, options));
    }),
);
for (const one of [program, ...program.commands]) one.exitOverride();

try {
  await program.parseAsync();
} catch (error) {
  if (error instanceof CommanderError) process.exitCode = error.exitCode === 0 ? 0 : 2;
  else {
    process.stderr.write(`${wordsOf(error)}\n`);
    process.exit(1);
  }
}
