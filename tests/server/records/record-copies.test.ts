import { mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import sharp from "sharp";
import { expect, test } from "vitest";
import { crop } from "../../../server/images/crop.ts";
import { preview } from "../../../server/images/decode.ts";
import { canonicalJson, sha256Of } from "../../../server/records/canonical.ts";
import { recordPdf } from "../../../server/records/record-pdf.ts";
import { cropOf, wantedPictures } from "../../../server/records/record-pictures.ts";
import { quayRecord } from "./frozen.ts";
import { quayDelivery } from "./quay-delivery.ts";

const secret = "SERIAL-4711-OWNER";

test("position, serial number and owner in a photo do not reach the printed record", async () => {
  const folder = await mkdtemp(join(tmpdir(), "copies-"));
  try {
    const photo = join(folder, "photo.jpg");
    const bytes = await sharp({ create: { width: 1200, height: 1600, channels: 3, background: "#8a6a50" } })
      .withExif({ IFD0: { Artist: secret, Copyright: secret }, IFD3: { GPSLatitudeRef: "N" } })
      .jpeg()
      .toBuffer();
    expect(bytes.includes(secret) && bytes.includes("Exif\0\0")).toBe(true);
    await writeFile(photo, bytes);
    const outline = [
      [200, 100],
      [800, 100],
      [800, 1421],
      [200, 1421],
    ] as const;
    const delivery = quayDelivery();
    const wanted = wantedPictures(delivery, ["W03"], (_, { face }) => (face === "A" ? outline : null));
    const pattern = delivery.patterns[0]!;
    const copies = new Map<string, Buffer>();
    for (const picture of wanted) {
      const request = cropOf(picture, pattern);
      copies.set(picture.name, request ? await crop(photo, request) : await preview(photo, 800));
    }
    expect([...new Set(wanted.map(({ view }) => view))].sort()).toEqual(["around", "as-taken", "close", "whole"]);
    const record = quayRecord({
      leaves: ["W03"],
      pictures: wanted.map((picture) => ({ ...picture, copy: { kind: "made", sha256: "0".repeat(64), bytes: 1 } })),
    });
    const pdf = await recordPdf(record, copies, sha256Of(canonicalJson(record)));
    for (const copy of copies.values()) expect(pdf.includes(copy), "the copy is in the PDF as it was made").toBe(true);
    expect(pdf.includes(secret)).toBe(false);
    expect(pdf.includes("Exif\0\0")).toBe(false);
  } finally {
    await rm(folder, { recursive: true, force: true });
  }
});
