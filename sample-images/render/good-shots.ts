import { closeUp, lineUp, type Pose, type Side, single, type Wish } from "./compose.ts";
import { type DemoLeaf, demoLeaves, type FaceName } from "./demo-leaves.ts";
import type { ReferenceKind } from "./references.ts";
import type { Shot } from "./shot.ts";
import { sites } from "./sites.ts";

const leafOf = (id: string): DemoLeaf => {
  const leaf = demoLeaves.find((one) => one.id === id);
  if (!leaf) throw new Error(`the demo has no leaf ${id}`);
  return leaf;
};

const pose = (name: string): Pose => {
  const [id = "", face] = name.split("/");
  return { leaf: leafOf(id), face: face as FaceName };
};

const at = (day: string, minutes: number): string => {
  const clock = [Math.floor(minutes / 60), minutes % 60].map((n) => String(n).padStart(2, "0")).join(":");
  return `${day}T${clock}:${String((minutes * 17) % 60).padStart(2, "0")}+00:00`;
};
const arrival = "2026-03-03";

const faces = ["A", "B"] as const;

/** The 16 walnut faces, the printed card beside or against each leaf; stored in all eight orientations. */
const walnut = (): Shot[] =>
  [1, 2, 3, 4, 5, 6, 7, 8].flatMap((n) =>
    faces.map((face, i) => {
      const id = `W0${n}`;
      const kind: ReferenceKind = id === "W02" && face === "A" ? "card-with-grey" : "card";
      const side: Side = n % 4 === 3 ? "on" : n % 2 === 0 ? "left" : "right";
      const far = side === "left" ? 1 : -1;
      const wish: Wish = {
        taken: at(arrival, 676 + n * 7 + i * 3),
        orientation: face === "A" ? n : n % 2 === 0 ? 6 : 1,
        clutter:
          n % 3 === 0
            ? [["bucket", far * 640 - 155]]
            : n % 3 === 1
              ? [["batten", far * 620 - 20]]
              : [["level", far * 600 - 30]],
        ...(id === "W04" && face === "B" ? { size: [3024, 4032] as const, orientation: 6 } : {}),
      };
      return single(
        `good/${id.toLowerCase()}-${face.toLowerCase()}.jpg`,
        sites.consulting,
        pose(`${id}/${face}`),
        [[kind, side]],
        wish,
      );
    }),
  );

const pair = (): Shot[] =>
  ["P1", "P2"].flatMap((id, n) =>
    faces.map((face, i) =>
      single(
        `good/${id.toLowerCase()}-${face.toLowerCase()}.jpg`,
        sites.waiting,
        pose(`${id}/${face}`),
        [["chart", n === i ? "right" : "left"]],
        {
          taken: at(arrival, 760 + n * 8 + i * 4),
          orientation: i ? 6 : 1,
          clutter: n === i ? [["roll of foam", -730]] : [["carton", 500]],
        },
      ),
    ),
  );

const sapeleReferences: Readonly<Record<string, readonly [ReferenceKind, Side]>> = {
  "S01/A": ["chart", "right"],
  "S01/B": ["chart", "on"],
  "S02/A": ["chart", "left"],
  "S02/B": ["grey", "right"],
  "S03/A": ["chart", "right"],
  "S03/B": ["chart", "left"],
  "S04/A": ["grey", "left"],
  "S04/B": ["grey", "right"],
};

/** The eight sapele faces: S03 in Display P3, S04/B as HEIC. */
const sapele = (): Shot[] =>
  Object.entries(sapeleReferences).map(([name, [kind, side]], i) => {
    const file = `good/${name.toLowerCase().replace("/", "-")}.${name === "S04/B" ? "heic" : "jpg"}`;
    return single(file, sites.stair, pose(name), [[kind, side]], {
      taken: at(arrival, 800 + i * 5),
      orientation: name === "S04/B" ? 1 : ([1, 6, 1, 8] as const)[i % 4]!,
      encoding: name.startsWith("S03") ? "display-p3" : "srgb",
      clutter: side === "left" ? [["broom", 460]] : side === "right" ? [["batten", -690]] : [["carton", 470]],
    });
  });

/** The old leaves, hung in their frames. */
const old = (): Shot[] =>
  ["X33", "X34"].map((id, i) =>
    single(`good/${id.toLowerCase()}-a.jpg`, sites.landing, { ...pose(`${id}/A`), hung: true }, [["chart", "on"]], {
      taken: at(arrival, 850 + i * 6),
      orientation: i ? 6 : 1,
      fill: 0.86,
    }),
  );

/** Ash without any reference: each line-up shares two faces with the next, the last closes the ring. */
const ashLineUps: readonly (readonly string[])[] = [
  ["A01/A", "A02/A", "A03/A", "A04/A"],
  ["A03/A", "A04/A", "A05/A", "A06/A"],
  ["A05/A", "A06/A", "A01/B", "A02/B"],
  ["A01/B", "A02/B", "A03/B", "A04/B"],
  ["A03/B", "A04/B", "A05/B", "A06/B"],
  ["A05/B", "A06/B", "A01/A"],
];

const ash = (): Shot[] =>
  ashLineUps.map((names, i) =>
    lineUp(`good/ash-line-up-${i + 1}.jpg`, sites.lobby, names.map(pose), {
      taken: at(arrival, 875 + i * 9),
      orientation: i === 3 ? 3 : 1,
      clutter: i % 3 === 0 ? [["dust sheet", -900]] : i % 3 === 1 ? [["carton", 1560]] : [["bucket", -2020]],
    }),
  );

/** A walnut leaf taken twice more the same day: what the set-up repeats to. */
const repeats = (): Shot[] =>
  [1, 2].map((n) =>
    single(`good/w01-a-again-${n}.jpg`, sites.consulting, pose("W01/A"), [["card", "right"]], {
      taken: at(arrival, 745 + n * 190),
      orientation: 1,
      clutter: [["batten", -640]],
    }),
  );

/** The marks, each about 400 mm wide; the open joint as it had grown three days later. */
const details = (): Shot[] =>
  [
    { name: "W03/A", site: sites.consulting, day: arrival, minutes: 701, word: "corner", by: [-70, -60] },
    { name: "W05/A", site: sites.consulting, day: arrival, minutes: 713, word: "dent", by: [20, 10] },
    { name: "W07/B", site: sites.consulting, day: arrival, minutes: 731, word: "sand-through", by: [-15, 12] },
    { name: "A06/B", site: sites.lobby, day: arrival, minutes: 935, word: "streak", by: [25, -20] },
    { name: "S02/A", site: sites.stair, day: arrival, minutes: 813, word: "joint-arrived", by: [-40, -40] },
    { name: "S02/A", site: sites.stair, day: "2026-03-06", minutes: 512, word: "joint-opened", by: [-40, -40] },
  ].map(({ name, site, day, minutes, word, by }) => {
    const posed = pose(name);
    const taken = at(day, minutes);
    const mark = posed.leaf.faces[posed.face].marks.find(
      ({ from, until }) => (from === undefined || taken >= from) && (until === undefined || taken < until),
    );
    if (!mark) throw new Error(`no mark on ${name} on ${day}`);
    const [x, y, w, h] = mark.boxMm;
    const file = `good/${name.toLowerCase().replace("/", "-")}-${word}.jpg`;
    return { ...closeUp(file, site, posed, "detail", [x + w / 2 + by[0]!, y + h / 2 + by[1]!], { taken }), mark };
  });

/** The label of the wrong leaf: it claims 826, the leaf is 726 wide. */
const labels = (): Shot[] => [
  closeUp("good/a04-label.jpg", sites.lobby, pose("A04/A"), "label", [150, 120], { taken: at(arrival, 870) }),
];

/** Every photo of the demo that a joiner could use, in the order they were taken. */
export const goodShots = (): readonly Shot[] =>
  [walnut(), pair(), sapele(), old(), ash(), repeats(), details(), labels()]
    .flat()
    .toSorted((one, other) => (one.taken < other.taken ? -1 : 1));
