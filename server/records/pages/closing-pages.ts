import { instantWords } from "../instant-words.ts";
import { writeFigures } from "../paper/figure.ts";
import type { Sheet } from "../paper/sheet.ts";
import { writeTable } from "../paper/table.ts";
import { write } from "../paper/text.ts";
import type { LeafRecord } from "../record-schema.ts";
import { figure } from "../wording.ts";
import { type Copies, photoFigures } from "./leaf-figures.ts";

const writeStore = (sheet: Sheet, { storeLog, terms, job }: LeafRecord): void => {
  const { humidityMinPercent, humidityMaxPercent, temperatureMinC, temperatureMaxC } = terms.store;
  write(sheet, "section", "How the leaves were stored");
  write(
    sheet,
    "body",
    `Agreed for the store: ${figure(humidityMinPercent)} to ${figure(humidityMaxPercent)} % relative humidity, ${figure(temperatureMinC)} to ${figure(temperatureMaxC)} °C. Hours outside: ${figure(storeLog.hoursOutside, 1)}.`,
  );
  for (const warning of storeLog.warnings) write(sheet, "body", warning);
  if (storeLog.readings.length === 0) {
    write(sheet, "body", "No reading was logged.");
    return;
  }
  writeTable(
    sheet,
    [
      { title: "When", share: 3 },
      { title: "°C", share: 1, align: "right" },
      { title: "% RH", share: 1, align: "right" },
      { title: "Wood moisture %", share: 1.4, align: "right" },
      { title: "Band", share: 1.2 },
      { title: "Where, instrument, by whom", share: 4 },
      { title: "Event", share: 4 },
    ],
    storeLog.readings.map(
      ({ at, temperatureC, humidityPercent, moisturePercent, outside, place, instrument, event, by }) => [
        instantWords(at, job.timeZone),
        figure(temperatureC, 1),
        figure(humidityPercent, 1),
        figure(moisturePercent, 1),
        outside ? "OUTSIDE" : "within",
        [place, instrument, by].filter((word) => word !== "").join(", "),
        event,
      ],
    ),
    8,
  );
};

const originalWords = {
  "as-received": "unchanged",
  changed: "CHANGED: its bytes no longer give this hash",
  missing: "MISSING from the store",
} as const;

/** A hash on two lines. */
const halves = (sha256: string): string[] => [sha256.slice(0, 32), sha256.slice(32)];

const copyWords = (copy: LeafRecord["photos"][number]["copy"]): string[] =>
  copy.kind === "missing"
    ? [`no copy: ${copy.why}`]
    : [
        `${copy.name}, SHA-256`,
        ...halves(copy.sha256),
        `left out of it: ${copy.removed.length === 0 ? "nothing was there" : copy.removed.join(", ")}`,
      ];

const writePhotos = (sheet: Sheet, record: LeafRecord, copies: Copies): void => {
  const general = record.pictures.filter(({ leaf }) => leaf === null);
  if (general.length > 0) {
    write(sheet, "section", "Load, note and store in photos");
    writeFigures(sheet, photoFigures(sheet, record, general, copies), { columns: 2, highestMm: 90, roomMm: 2 });
  }
  write(sheet, "section", "Photos");
  write(sheet, "body", record.leftOut);
  if (record.photos.length === 0) {
    write(sheet, "body", "No photo belongs to this record.");
    return;
  }
  writeTable(
    sheet,
    [
      { title: "No.", share: 0.8 },
      { title: "Name", share: 3 },
      { title: "Shows", share: 2 },
      { title: "Taken", share: 2.6 },
      { title: "Bytes, px", share: 2.2, align: "right" },
      { title: "SHA-256 of the original, whether it was found so at issue, and the copy sent", share: 6 },
    ],
    record.photos.map(({ id, name, kind, shows, takenAt, bytes, width, height, original, copy }, index) => [
      String(index + 1),
      name,
      [kind, ...shows.map(({ leaf, face }) => `${leaf} ${face}`)].join(", "),
      takenAt === null ? "not in the file" : instantWords(takenAt, record.job.timeZone),
      `${bytes}\n${width} x ${height}`,
      [...halves(id), originalWords[original], ...copyWords(copy)].join("\n"),
    ]),
    7,
  );
};

const writeSeal = (sheet: Sheet, record: LeafRecord, jsonSha256: string): void => {
  const { previous, ledgerHead, number } = record;
  write(sheet, "section", "What this record can show");
  write(
    sheet,
    "body",
    "SHA-256 of this record as canonical JSON (RFC 8785). It stands for this record, for every record before it and for the copies of the photos; it is in the letter too:",
  );
  write(sheet, "strong", jsonSha256);
  write(
    sheet,
    "body",
    previous
      ? `The record before it, number ${previous.number}: JSON ${previous.jsonSha256}, PDF ${previous.pdfSha256}.`
      : `Record ${number} is the first of this delivery.`,
  );
  write(sheet, "body", `The ledger stood at line ${ledgerHead.seq}, SHA-256 ${ledgerHead.sha256}.`);
  write(
    sheet,
    "body",
    "Any change to this record after the copy with this hash left the sender's computer can be shown. The hash does not show that a photo shows what is said of it, nor that the clock was right.",
  );
};

/** The store log, every photo with its hash, and what the hashes are good for. */
export const writeClosingPages = (sheet: Sheet, record: LeafRecord, copies: Copies, jsonSha256: string): void => {
  sheet.doc.addPage();
  writeStore(sheet, record);
  writePhotos(sheet, record, copies);
  writeSeal(sheet, record, jsonSha256);
};
