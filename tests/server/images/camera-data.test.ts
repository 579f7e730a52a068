import { expect, test } from "vitest";
import { cameraData } from "../../../server/images/camera-data.ts";
import { exifBlock, exifHead, TAG } from "../../support/odd-pictures/exif-block.ts";
import { jpegSegment, withSegments } from "../../support/odd-pictures/jpeg-parts.ts";
import { brownJpeg } from "../../support/photo-files.ts";

const brown = await brownJpeg();

const written = (main: Parameters<typeof exifBlock>[0]["main"], taken = "2026:03:03 10:52:10", zone = "+01:00") =>
  cameraData(
    withSegments(
      brown,
      jpegSegment(
        0xe1,
        Buffer.concat([exifHead, exifBlock({ main: main ?? {}, shot: { [TAG.taken]: taken, [TAG.takenZone]: zone } })]),
      ),
    ),
  );

test("time, camera and way up are read", () => {
  const main = { [TAG.make]: "Tarnside", [TAG.model]: "T4", [TAG.orientation]: { short: 6 } };
  expect(written(main)).toEqual({ takenAt: "2026-03-03T10:52:10+01:00", camera: "Tarnside T4", orientation: 6 });
});

test("nothing written is nothing known", () => {
  expect(cameraData(brown)).toEqual({ takenAt: null, camera: "unknown camera", orientation: null });
  expect(cameraData(Buffer.from("no picture"))).toMatchObject({ takenAt: null, orientation: null });
});

test.each([
  ["2026:99:99 10:52:10", "+01:00"],
  ["2026:02:30 10:52:10", "+01:00"],
  ["2026:03:03 10:52:10", "+99:00"],
  ["yesterday", "+01:00"],
])("C53: a time that does not exist is none: %s %s", (taken, zone) => {
  expect(written({}, taken, zone).takenAt).toBeNull();
});

test("C53: a camera's name is one line that the journal takes: no control characters, 120 letters at most", () => {
  expect(written({ [TAG.make]: "\u0001\u001b[31mTarn\r\nside" }).camera).toBe("[31mTarn side");
  expect(written({ [TAG.make]: "x".repeat(5000) }).camera).toBe("x".repeat(120));
});

test.each([0, 9, 255])("C52: a way up that is none, %i, is told as it is", (orientation) => {
  expect(written({ [TAG.orientation]: { short: orientation } }).orientation).toBe(orientation);
});
