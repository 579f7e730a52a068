import { execFile } from "node:child_process";
import { chmod, mkdir, readFile, stat, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { buffer } from "node:stream/consumers";
import { promisify } from "node:util";
import ExifReader from "exifreader";
import sharp from "sharp";
import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { preview } from "../../../server/images/decode.ts";
import { supplierCopy } from "../../../server/images/supplier-copy.ts";
import { sha256Of } from "../../../server/records/canonical.ts";
import { leafRecord } from "../../../server/records/record-schema.ts";
import type { Site } from "../../../server/site.ts";
import { addLeaf } from "../../../server/use-cases/add-leaf.ts";
import { createDelivery } from "../../../server/use-cases/create-delivery.ts";
import { decideLeaf } from "../../../server/use-cases/decide-leaf.ts";
import { issueRecord } from "../../../server/use-cases/issue-record.ts";
import { issuedCopy, issuedLetter, issuedMail, issuedZip, viewRecord } from "../../../server/use-cases/issued-files.ts";
import { unwrapLeaf } from "../../../server/use-cases/unwrap-leaf.ts";
import { randomOf } from "../../crash/ledger-load.ts";
import { by, smallDelivery } from "../../support/small-delivery.ts";
import { temporaryFolder } from "../../support/temporary-folder.ts";
import { type TestSite, testSite } from "../../support/test-site.ts";

const secrets = ["SERIAL-4711", "OWNER-MR-NOBODY", "LENS-0815", "ARTIST-X"] as const;
const [serial, owner, lens, artist] = secrets;

/** A photo with everything in it that must not go out. */
const tellingPhoto = (background: string): Promise<Buffer> =>
  sharp({ create: { width: 3600, height: 1800, channels: 3, background } })
    .withExif({
      IFD0: { Make: "Brannoch", Model: "P1", Artist: artist, Copyright: owner },
      IFD2: {
        DateTimeOriginal: "2026:03:03 11:52:10",
        BodySerialNumber: serial,
        CameraOwnerName: owner,
        LensSerialNumber: lens,
      },
      IFD3: { GPSLatitudeRef: "N", GPSLatitude: "51/1 30/1 0/1", GPSLongitudeRef: "W", GPSLongitude: "0/1 7/1 0/1" },
    })
    .jpeg()
    .toBuffer();

let fakes: TestSite;
let site: Site;
let delivery: string;

const keepPhoto = async (bytes: Buffer, leaf: string, face: "A" | "B"): Promise<void> => {
  const store = site.store.open(delivery);
  const id = sha256Of(bytes);
  const path = join(store.temporaryFolder, id);
  await writeFile(path, bytes);
  await store.photos.keep(path, id);
  await store.change(by, "Photo", ({ photos }) => {
    photos.push({
      id,
      name: `${leaf}-${face}.jpg`,
      kind: "single",
      shows: [{ leaf, face, corners: null }],
      note: "",
      takenAt: null,
      receivedAt: site.now(),
      bytes: bytes.length,
      width: 3600,
      height: 1800,
      camera: "Brannoch P1",
      flags: [],
    });
  });
};

const issue = (leaf: string) => issueRecord(site, delivery, { by, kind: "accept", leaves: [leaf], revises: null });

beforeEach(async () => {
  fakes = await testSite();
  site = { ...fakes, darkroom: { ...fakes.darkroom, preview, supplierCopy } };
  delivery = (await createDelivery(site, { ...smallDelivery, by })).id;
  for (const [index, code] of ["W01", "W02"].entries()) {
    const leaf = { code, line: "L1", pattern: "FL-2040X826", identity: "as-ordered" as const, replaces: null };
    await addLeaf(site, delivery, { by, leaf });
    await unwrapLeaf(site, delivery, code, { by, at: "2026-03-03T11:00:00+00:00" });
    for (const face of ["A", "B"] as const) await keepPhoto(await tellingPhoto(`#8a${index}a5${face}`), code, face);
    const decision = { outcome: "accept" as const, reason: "", allowance: null, party: null, asks: null };
    await decideLeaf(site, delivery, code, { by, decision });
  }
});
afterEach(() => fakes.remove());

/** The files of a zip that compresses nothing, by its central directory (PKWARE APPNOTE 4.3.12, from memory). */
const unzipped = (zip: Buffer): Map<string, Buffer> => {
  const files = new Map<string, Buffer>();
  for (let at = zip.indexOf("PK\x01\x02", 0, "latin1"); at >= 0; at = zip.indexOf("PK\x01\x02", at + 4, "latin1")) {
    const [bytes, nameBytes, from] = [zip.readUInt32LE(at + 20), zip.readUInt16LE(at + 28), zip.readUInt32LE(at + 42)];
    const start = from + 30 + zip.readUInt16LE(from + 26) + zip.readUInt16LE(from + 28);
    files.set(zip.toString("utf8", at + 46, at + 46 + nameBytes), zip.subarray(start, start + bytes));
  }
  return files;
};

describe("what goes to the supplier", () => {
  test("D11: no position, serial number, owner or thumbnail in any file; the record says what was left out", async () => {
    const { number } = await issue("W01");
    const zip = unzipped(await buffer(await issuedZip(site, delivery, String(number))));
    expect([...zip.keys()]).toEqual([
      "record.pdf",
      "record.json",
      "photo-001.jpg",
      "photo-002.jpg",
      "manifest-sha256.txt",
    ]);
    const mail = await issuedMail(site, delivery, String(number));
    for (const [name, bytes] of [
      ...zip,
      ["letter", Buffer.from(issuedLetter(site, delivery, "1"))],
      ["mail", mail],
    ] as const)
      for (const secret of [...secrets, "GPS", "Exif\0\0"])
        expect(bytes.includes(secret), `${secret} in ${name}`).toBe(false);
    for (const name of ["photo-001.jpg", "photo-002.jpg"]) {
      const { file, jfif, ...others } = ExifReader.load(zip.get(name)!, { expanded: true });
      expect(file?.["Image Width"]?.value).toBe(3000);
      expect(Object.keys(others), "groups of data beside the picture").toEqual([]);
      expect(jfif?.["JFIF Thumbnail Width"]?.value ?? 0).toBe(0);
    }
    const record = leafRecord.parse(JSON.parse(zip.get("record.json")!.toString()));
    for (const { id, copy } of record.photos) {
      expect(copy.kind === "made" && copy.removed).toEqual(
        expect.arrayContaining(["position", "serial numbers", "owner", "time", "camera and lens"]),
      );
      expect(copy.kind === "made" && sha256Of(zip.get(copy.name)!)).toBe(copy.kind === "made" && copy.sha256);
      expect(site.store.open(delivery).photos.has(id)).toBe(true);
    }
  });

  test("`sha256sum -c` finds every file of the zip as the manifest says; the same record gives the same zip", async () => {
    await issue("W01");
    const zip = await buffer(await issuedZip(site, delivery, "1"));
    expect(zip.equals(await buffer(await issuedZip(site, delivery, "1")))).toBe(true);
    const folder = join(await temporaryFolder(), "sent");
    await mkdir(folder);
    for (const [name, bytes] of unzipped(zip)) await writeFile(join(folder, name), bytes);
    const check = () => promisify(execFile)("sha256sum", ["-c", "manifest-sha256.txt"], { cwd: folder });
    expect((await check()).stdout.match(/: OK$/gm)?.length).toBe(4);
    await writeFile(join(folder, "photo-002.jpg"), "other");
    await expect(check()).rejects.toThrow();
  });

  test("the letter names record, claim, deadline, files and the hash at the head of the chain, which the PDF prints too", async () => {
    await issue("W01");
    const record = site.store.open(delivery).read().records[0]!;
    const letter = issuedLetter(site, delivery, "1");
    for (const words of [
      "Acceptance record 1: order HJ-1, delivery note PL-1",
      "We accept leaf W01 of your delivery of Tue 3 Mar 2026 10:40",
      `${record.jsonSha256}  record.json`,
      `${record.copies?.[1]?.sha256}  photo-002.jpg`,
    ])
      expect(letter).toContain(words);
    const mail = (await issuedMail(site, delivery, "1")).toString();
    expect(mail).toMatch(/^X-Unsent: 1/m);
    expect(mail).not.toMatch(/^(From|To):/m);
    expect(mail).toContain("filename=record-1.pdf");
  });

  test("a guest is told the record and its files; a file that is gone is told as such", async () => {
    await issue("W01");
    await issue("W02");
    const view = await viewRecord(site, delivery, "1");
    expect(view).toMatchObject({ number: 1, kind: "accept", leaves: ["W01"], by: by.name });
    expect(view.files.map(({ name, bytes }) => [name, (bytes ?? 0) > 0])).toEqual([
      ["record.pdf", true],
      ["record.json", true],
      ["photo-001.jpg", true],
      ["photo-002.jpg", true],
    ]);
    expect(() => issuedCopy(site, delivery, "1", "../record-000002.json")).toThrow("no such photo");
    expect(await readFile(issuedCopy(site, delivery, "1", "photo-001.jpg"))).toHaveLength(view.files[2]!.bytes!);
  });
});

describe("the files of issued records", () => {
  const filesOf = (number: number): string[] =>
    ["json", "pdf", "photo-001.jpg", "photo-002.jpg"].map((name) =>
      site.store.open(delivery).records.path(number, name),
    );

  test("D17: a thousand flips of any byte of any file are each found and named; all files are read-only", async () => {
    await issue("W01");
    await issue("W02");
    const random = randomOf(17);
    const pick = (count: number): number => Math.floor(random() * count);
    const files = await Promise.all(
      [1, 2].flatMap((number) =>
        filesOf(number).map(async (path, index) => {
          expect((await stat(path)).mode & 0o777).toBe(0o444);
          await chmod(path, 0o644);
          return {
            path,
            bytes: await readFile(path),
            says: `record ${number}: ${["JSON", "PDF", "photo-001.jpg", "photo-002.jpg"][index]} changed`,
          };
        }),
      ),
    );
    // One byte of each of the eight files at a time: each must be named, none instead of another.
    for (let round = 0; round < 1000 / files.length; round++) {
      for (const { path, bytes } of files) {
        const bad = Buffer.from(bytes);
        const at = pick(bad.length);
        bad[at] = bad[at]! ^ (1 << pick(8));
        await writeFile(path, bad);
      }
      expect((await site.store.open(delivery).verify()).faults).toEqual(files.map(({ says }) => says));
    }
    for (const { path, bytes } of files) await writeFile(path, bytes);
    expect((await site.store.open(delivery).verify()).faults).toEqual([]);
  });

  test("D17: what is cut off or missing is named; a record forged with all its hashes shows only by a head hash held elsewhere", async () => {
    await issue("W01");
    const [letter, path] = [issuedLetter(site, delivery, "1"), filesOf(1)[0]!];
    await chmod(path, 0o644);
    const json = await readFile(path, "utf8");
    await writeFile(path, json.slice(0, -1));
    expect((await site.store.open(delivery).verify()).faults).toEqual(["record 1: JSON changed"]);
    const forged = json.replace('"W01"', '"W02"');
    await writeFile(path, forged);
    await site.store.open(delivery).change(by, "x", ({ records }) => {
      records[0]!.jsonSha256 = sha256Of(forged);
    });
    expect((await site.store.open(delivery).verify()).faults).toEqual([]);
    expect(letter).not.toContain(sha256Of(forged));
  });
});
