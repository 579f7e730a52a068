import type { JointLine } from "../../analysis/joints/joint-lines.ts";
import type { Pattern } from "../../server/contract/leaf.ts";
import { partWords } from "../words.ts";

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

/** Parts that run along a line have it for an edge; others only end there. */
const along = (pattern: Pattern, { axis, sides }: JointLine) => {
  const grain = axis === "x" ? "v" : "h";
  const framing = sides.filter(({ kind }) => kind !== "panel");
  const running = framing.filter(({ part }) => pattern.parts.find(({ name }) => name === part)?.grain === grain);
  return running.length > 0 ? running : framing.length > 0 ? framing : sides;
};

const edges = {
  x: { start: "left edge", end: "right edge" },
  y: { start: "upper edge", end: "lower edge" },
} as const;

/** A line by the parts it bounds: "Rail mid, upper edge"; between boards "Board 1 to board 2". */
export const lineWords = (pattern: Pattern, line: JointLine): string => {
  const bounded = along(pattern, line);
  const named = (end: "start" | "end") =>
    bounded
      .filter((side) => side.end === end)
      .map(({ part }) => partWords(part))
      .join(" and ");
  const [before, after] = [named("end"), named("start")];
  if (before && after) return capital(`${before} to ${after}`);
  return capital(before ? `${before}, ${edges[line.axis].end}` : `${after}, ${edges[line.axis].start}`);
};

/** Where a line is: "951 mm from the top". */
export const placeWords = ({ axis }: JointLine, atMm: number): string =>
  `${Math.round(atMm * 10) / 10} mm from the ${axis === "x" ? "left" : "top"}`;

/** How broad the parts along a line are: "rail mid 190 mm". */
export const breadthWords = (pattern: Pattern, line: JointLine): string =>
  along(pattern, line)
    .map(({ part }) => {
      const [, , width, height] = pattern.parts.find(({ name }) => name === part)?.rectMm ?? [0, 0, 0, 0];
      return `${partWords(part)} ${Math.round(line.axis === "x" ? width : height)} mm`;
    })
    .join(", ");
