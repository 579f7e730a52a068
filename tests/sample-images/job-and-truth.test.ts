import { readFile } from "node:fs/promises";
import { parse } from "csv-parse/sync";
import { describe, expect, it } from "vitest";
import { readJob, readTruth, samplePath } from "./sample-files.ts";

const job = await readJob();
const truth = await readTruth();
const named = ({ leaf, face }: { leaf: string; face: string }): string => `${leaf}/${face}`;
const rows = async (file: string): Promise<Record<string, string>[]> =>
  parse(await readFile(samplePath(file), "utf8"), { columns: true });

describe("the job and its truth", () => {
  it("list the same photos showing the same faces with the same references", () => {
    const inTruth = new Map(truth.photos.map((photo) => [photo.file, photo]));
    expect(job.photos.map(({ file }) => file)).toEqual(truth.photos.map(({ file }) => file));
    for (const photo of job.photos) {
      const same = inTruth.get(photo.file);
      expect(same?.leaves.map(named), photo.file).toEqual(photo.shows.map(named));
      expect(
        same?.references.map(({ kind }) => kind),
        photo.file,
      ).toEqual(photo.reference);
      expect(same?.taken, photo.file).toBe(photo.taken);
    }
  });

  it("give the job no colour of a leaf", () => {
    expect(JSON.stringify(job.leaves)).not.toContain("lab");
  });

  it("cut every face into the same parts, which lie on the leaf", () => {
    for (const face of truth.faces) {
      const leaf = job.leaves.find(({ id }) => id === face.leaf);
      expect(face.parts.map(({ part, rect_mm }) => ({ part, rect_mm }))).toEqual(
        leaf?.parts.map(({ part, rect_mm }) => ({ part, rect_mm })),
      );
      expect(face.size_mm).toEqual([leaf?.width_mm, leaf?.height_mm]);
      for (const {
        rect_mm: [x, y, w, h],
      } of face.parts) {
        expect(Math.min(x, y)).toBeGreaterThanOrEqual(0);
        expect(x + w).toBeLessThanOrEqual(face.size_mm[0]);
        expect(y + h).toBeLessThanOrEqual(face.size_mm[1]);
      }
    }
  });

  it("count 20 leaves off the lorry and two old ones, and show all 40 faces whole", () => {
    const counted = job.leaves.filter(({ line }) => line !== null);
    expect(counted).toHaveLength(20);
    expect(job.leaves).toHaveLength(22);
    const whole = new Set(truth.photos.flatMap(({ leaves }) => leaves.filter((leaf) => leaf.whole).map(named)));
    for (const { id } of counted)
      for (const face of ["A", "B"]) expect(whole.has(`${id}/${face}`), `${id}/${face}`).toBe(true);
  });

  it("tie all twelve ash faces together through line-ups without any reference", () => {
    const lineUps = job.photos.filter(({ kind }) => kind === "line-up");
    for (const { reference, shows } of lineUps) {
      expect(reference).toEqual([]);
      expect(shows.length).toBeGreaterThanOrEqual(3);
    }
    const tied = new Set(lineUps[0]?.shows.map(named));
    for (let round = 0; round < lineUps.length; round++)
      for (const { shows } of lineUps)
        if (shows.some((face) => tied.has(named(face)))) for (const face of shows) tied.add(named(face));
    expect([...tied].toSorted()).toEqual(
      ["A01", "A02", "A03", "A04", "A05", "A06"].flatMap((id) => [`${id}/A`, `${id}/B`]),
    );
  });

  it("show each mark in a detail that holds all of its box", () => {
    const details = truth.photos.filter(({ kind }) => kind === "detail");
    for (const { leaf, face, marks } of truth.faces)
      for (const { kind } of marks) {
        const seen = details.some(({ leaves, size_px: [w, h] }) =>
          leaves.some(
            (shown) =>
              shown.leaf === leaf &&
              shown.face === face &&
              shown.marks.some(
                (mark) => mark.kind === kind && mark.corners_px?.every(([x, y]) => x > 0 && y > 0 && x < w && y < h),
              ),
          ),
        );
        expect(seen, `${kind} on ${leaf}/${face}`).toBe(true);
      }
  });

  it("keep the two faces of a leaf 0.3 to 3.5 apart in L*", () => {
    for (const { leaf, face, parts } of truth.faces) {
      if (face !== "A" || parts.length > 1) continue;
      const other = truth.faces.find((one) => one.leaf === leaf && one.face === "B");
      const apart = Math.abs((parts[0]?.lab[0] ?? 0) - (other?.parts[0]?.lab[0] ?? 0));
      expect(apart, leaf).toBeGreaterThan(0.2);
      expect(apart, leaf).toBeLessThan(3.5);
    }
  });
});

describe("the papers of the delivery", () => {
  it("order and note 20 leaves for 7,074, as many as the new openings need", async () => {
    const order = await rows("order.csv");
    const note = await rows("delivery-note.csv");
    const schedule = await rows("door-schedule.csv");
    const sum = (of: Record<string, string>[], column: string): number =>
      of.reduce((all, row) => all + Number(row[column]), 0);
    expect(sum(order, "quantity")).toBe(20);
    expect(sum(note, "quantity")).toBe(20);
    expect(order.reduce((all, row) => all + Number(row.price) * Number(row.quantity), 0)).toBe(7074);
    const fresh = schedule.filter(({ note: text }) => !text?.startsWith("existing"));
    expect(sum(fresh, "leaves")).toBe(20);
    expect(schedule).toHaveLength(20);
  });

  it("have the spaces and openings of the job", async () => {
    const schedule = await rows("door-schedule.csv");
    expect(schedule.map(({ opening }) => opening)).toEqual(job.openings.map(({ id }) => id));
    for (const { opening, side_a_space, side_b_space } of schedule)
      expect(job.openings.find(({ id }) => id === opening)?.spaces).toEqual([side_a_space, side_b_space]);
    for (const { name, openings } of job.spaces)
      for (const opening of openings) expect(job.openings.find(({ id }) => id === opening)?.spaces).toContain(name);
  });
});
