import { afterEach, expect, test } from "vitest";
import { unknownCamera } from "../../../server/contract/photo.ts";
import { repeatView } from "../../../server/contract/repeat.ts";
import { viewRepeat } from "../../../server/use-cases/view-repeat.ts";
import { makeReadings, singles } from "../../analysis/repeat/made-readings.ts";
import { aDelivery, aPhoto } from "../../support/leaves.ts";
import { type TestSite, testSite } from "../../support/test-site.ts";

let site: TestSite;
afterEach(() => site.remove());

const letters = "abcdef0123456789";

/** Photos of three faces, each three times; the last has no camera's name and nobody's. */
const shots = singles(3, 3).map((shot, i) => ({ ...shot, photo: (letters[i] ?? "").repeat(64) }));

test("a delivery tells who took its photos and with which phones, and what its terms allow", async () => {
  site = await testSite();
  const photos = shots.map(({ photo }, i) => ({
    ...aPhoto("single", ["W01", "A"]),
    id: photo,
    camera: i === 8 ? unknownCamera : i % 2 === 0 ? "Brannoch P1" : "Tarnside T4",
    ...(i !== 8 && { by: i < 4 ? "Jo" : "Sam" }),
  }));
  const detail = { ...aPhoto("detail", ["W01", "A"]), id: "9".repeat(64), camera: "Third One", by: "Kim" };
  const document = aDelivery({ photos: [...photos, detail] });
  await site.store.create({ name: "Jo", device: "laptop" }, document);
  const repeats = makeReadings(shots, { photo: [0.5, 0.1, 0.2], part: [0, 0, 0] }, 1);
  const { measuring } = site;
  const measured = { ...measuring, measured: (id: string) => ({ ...measuring.measured(id), repeats }) };

  const view = viewRepeat({ ...site, measuring: measured }, document.id);
  expect(repeatView.parse(view)).toEqual(view);
  expect(view).toMatchObject({
    tolerance: document.terms.toleranceDE00,
    phones: ["Brannoch P1", "Tarnside T4"],
    people: ["Jo", "Sam"],
  });
  expect(view.ways[0]?.limit).toBeGreaterThan(0);
  expect(viewRepeat(site, document.id)).toMatchObject({ ways: [], phones: view.phones });
});
