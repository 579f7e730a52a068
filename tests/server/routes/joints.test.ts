import { afterEach, beforeEach, describe, expect, test } from "vitest";
import type { Reply } from "../../../server/contract/calls.ts";
import type { Pattern } from "../../../server/contract/leaf.ts";
import type { PhotoState } from "../../../server/contract/photo.ts";
import type { CropRequest, Site } from "../../../server/site.ts";
import { fingerprintOf, measurementRequest } from "../../../server/use-cases/measurement-request.ts";
import { type Api, apiOf } from "../../support/http.ts";
import { by, smallDelivery } from "../../support/small-delivery.ts";
import { type TestSite, testSite } from "../../support/test-site.ts";

const order = `line,item,code,price,quantity,width_mm,height_mm,thickness_mm,pattern,veneer,fire_rating,leaves_per_unit
L1,sapele 838,SA-838,300,4,838,1981,44,four-panel,sapele,FD30,1
L2,oak 838,OK-838,300,4,838,1981,44,flush,oak crown,FD30,1
`;
const schedule = `opening,leaves,width_mm,height_mm,thickness_mm,pattern,veneer,fire_rating,side_a_space,side_b_space,hinge,note
1.01,1,838,1981,44,four-panel,sapele,FD30,Corridor,Office 1,,
`;
const fourPanel = "P4-1981X838";

let under: TestSite;
let site: Site;
let api: Api;
let delivery: string;
let woken: string[];
let crops: CropRequest[];
/** Height in px at which a photo shows a face; a face not named was not found. */
let heights: Record<string, number>;

type SeenFaces = Extract<PhotoState, { kind: "measured" }>["faces"];

const cornersAt = (height: number): SeenFaces[number]["corners"] => [
  [10, 20],
  [410, 20],
  [410, 20 + height],
  [10, 20 + height],
];

/** The faces found in a photo of the delivery. */
const foundIn = (id: string): SeenFaces => {
  const photo = under.store
    .open(delivery)
    .read()
    .photos.find((one) => one.id === id);
  return (photo?.shows ?? []).flatMap(({ leaf, face }) => {
    const height = heights[`${photo?.name} ${leaf}/${face}`];
    return height === undefined ? [] : [{ leaf, face, corners: cornersAt(height), score: 1, byHand: false }];
  });
};

beforeEach(async () => {
  under = await testSite();
  woken = [];
  crops = [];
  heights = {};
  const { measuring, darkroom } = under;
  site = {
    ...under,
    measuring: {
      ...measuring,
      measured: (id) => ({
        ...measuring.measured(id),
        state: (photo) => ({ kind: "measured", faces: foundIn(photo), references: [], open: [] }),
        corners: (photo, face) =>
          foundIn(photo).find((one) => one.leaf === face.leaf && one.face === face.face)?.corners ?? null,
      }),
      wake: (id) => woken.push(id),
    },
    darkroom: {
      ...darkroom,
      crop: async (_path, request) => {
        crops.push(request);
        return Buffer.from("straight");
      },
    },
  };
  api = apiOf(site);
  const begun = { ...smallDelivery, order, schedule };
  delivery = (await api.call("createDelivery", {}, begun).expect(200)).body.id;
  await api.leaf(delivery, "S01", "L1", fourPanel);
  await api.leaf(delivery, "S02", "L1", fourPanel);
  await api.leaf(delivery, "W01", "L2", "FL-1981X838");
});
afterEach(async () => {
  await under.remove();
  expect(api.faults).toEqual([]);
});

const view = async (pattern = fourPanel): Promise<Reply<"pattern">> =>
  (await api.call("pattern", { delivery, pattern }).expect(200)).body;

type Place = Reply<"pattern">["pattern"]["parts"][number]["rectMm"];
const partsOf = ({ parts }: Pattern, put: Record<string, Place> = {}) =>
  parts.map(({ name, rectMm }) => ({ name, rectMm: put[name] ?? rectMm }));

/** The right stile 90 mm broad instead of 105, and what adjoins it. */
const narrowStile = (pattern: Pattern) => {
  const put: Record<string, Place> = { "stile-right": [748, 0, 90, 1981] };
  for (const { name, rectMm } of pattern.parts) {
    const [x, y, w, h] = rectMm;
    if (name.startsWith("rail") || name.endsWith("-right")) put[name] ??= [x, y, w + 15, h];
  }
  return partsOf(pattern, put);
};

const fingerprints = (): string[] => {
  const now = site.store.open(delivery).read();
  return now.photos.map((photo) => fingerprintOf(measurementRequest(now, photo, "/photo.jpg")));
};

describe("a pattern", () => {
  test("is shown with its leaves, and the photos that show one of them, the largest first", async () => {
    heights = { "x.jpg S01/A": 1500 };
    await api.upload({ delivery }, { name: "near.jpg", shows: [{ leaf: "S02", face: "B", corners: null }] }, "near");
    await api.upload(
      { delivery },
      {
        name: "row.jpg",
        kind: "line-up",
        shows: (["W01", "S01"] as const).map((leaf) => ({ leaf, face: "A" as const, corners: null })),
      },
      "row",
    );
    Object.assign(heights, { "near.jpg S02/B": 2800, "row.jpg S01/A": 700, "row.jpg W01/A": 700 });
    const { pattern, leaves, faces } = await view();
    expect(pattern).toMatchObject({ id: fourPanel, widthMm: 838, heightMm: 1981 });
    expect(leaves).toEqual(["S01", "S02"]);
    expect(faces.map(({ leaf, face }) => `${leaf}/${face}`)).toEqual(["S02/B", "S01/A", "S01/A"]);
  });

  test("that is not there is told so", async () => {
    const { body } = await api.call("pattern", { delivery, pattern: "P9-1X1" }).expect(404);
    expect(body.detail).toBe("There is no pattern P9-1X1 in this delivery.");
  });
});

describe("joints set by hand", () => {
  test("hold for every leaf of the pattern, and its photos alone are measured anew", async () => {
    const before = fingerprints();
    woken.length = 0;
    const { pattern } = await view();
    const { body } = await api
      .call("setJoints", { delivery, pattern: fourPanel }, { parts: narrowStile(pattern) })
      .expect(200);
    expect(woken).toEqual([delivery]);
    for (const leaf of ["S01", "S02"]) {
      const { body: leafView } = await api.call("leaf", { delivery, leaf }).expect(200);
      expect(leafView.pattern.jointsBy).toBe(by.name);
      expect(leafView.pattern.parts[1]).toEqual({
        name: "stile-right",
        kind: "stile",
        grain: "v",
        rectMm: [748, 0, 90, 1981],
      });
    }
    const changed = fingerprints().map((fingerprint, index) => fingerprint !== before[index]);
    expect(changed).toEqual([true, true, true, true, false, false]);
    const { body: lines } = await api.call("history", { delivery }).expect(200);
    expect(lines[0]).toMatchObject({ seq: body.seq, actor: by.name, what: "Set the joints of four-panel 1981 x 838" });
  });

  test("are taken back, and the photos measured as before", async () => {
    const before = fingerprints();
    const { pattern } = await view();
    const { body } = await api
      .call("setJoints", { delivery, pattern: fourPanel }, { parts: narrowStile(pattern) })
      .expect(200);
    await api.call("undo", { delivery }, { seq: body.seq }).expect(200);
    expect((await view()).pattern).toEqual(pattern);
    expect(fingerprints()).toEqual(before);
  });

  test.each<[string, Record<string, Place>, string]>([
    [
      "a part of 12 mm",
      { "stile-left": [0, 0, 12, 1981] },
      "The stile left would be 12 mm wide: move one of its lines",
    ],
    ["crossed lines", { "rail-mid": [105, 951, 628, -8] }, "Two lines of the rail mid cross: move one back"],
    ["a part beyond the leaf", { "rail-top": [105, -30, 628, 105] }, "The rail top would lie outside the leaf"],
    [
      "parts over each other",
      { "rail-top": [95, 0, 628, 105] },
      "The stile left and the rail top would overlap by 10 mm",
    ],
  ])("are refused with %s, and nothing is changed", async (_, put, says) => {
    const { pattern } = await view();
    const { body } = await api
      .call("setJoints", { delivery, pattern: fourPanel }, { parts: partsOf(pattern, put) })
      .expect(422);
    expect(body.detail).toContain(says);
    expect((await view()).pattern).toEqual(pattern);
  });

  test("must be those of the pattern, each once", async () => {
    const { pattern } = await view();
    const parts = partsOf(pattern);
    const [first, ...rest] = parts;
    const send = async (sent: unknown) =>
      (await api.call("setJoints", { delivery, pattern: fourPanel }, { parts: sent }).expect(422)).body.detail;
    expect(await send(rest)).toBe("four-panel 1981 x 838 has 11 parts: send each of them once.");
    expect(await send([...parts, first])).toBe("four-panel 1981 x 838 has 11 parts: send each of them once.");
    expect(await send([...rest, { ...first, name: "stile-far" }])).toBe(
      "Where the stile-left of four-panel 1981 x 838 lies is missing: send it too.",
    );
    await api.call("setJoints", { delivery, pattern: fourPanel }, { parts: "none" }).expect(400);
  });
});

describe("a face seen straight on", () => {
  test("is the whole face, cut by the corners measured, and not kept by the browser", async () => {
    heights = { "x.jpg S01/A": 1500 };
    const [photo] = (await view()).faces;
    if (!photo) throw new Error("no photo");
    const answer = await api
      .call("straightFace", { delivery, photo: photo.photo, leaf: "S01", face: "A" })
      .expect(200)
      .expect("Content-Type", "image/jpeg")
      .expect("Cache-Control", "no-store");
    expect(answer.body).toEqual(Buffer.from("straight"));
    const box = { x: 0, y: 0, w: 838, h: 1981 };
    expect(crops).toEqual([{ corners: cornersAt(1500), widthMm: 838, heightMm: 1981, box, pxPerMm: 1 }]);
  });

  test("is not to be had where the photo does not show it", async () => {
    heights = { "x.jpg S01/A": 1500 };
    const [photo] = (await view()).faces;
    const of = (leaf: string, face: string) =>
      api.call("straightFace", { delivery, photo: photo?.photo ?? "", leaf, face }).expect(404);
    const says = "was not found in this photo: set its four corners first.";
    expect((await of("S01", "B")).body.detail).toBe(`Face B of S01 ${says}`);
    expect((await of("S01", "C")).body.detail).toBe("There is no such face.");
    expect((await of("S99", "A")).body.detail).toBe("There is no leaf S99 in this delivery.");
  });
});
