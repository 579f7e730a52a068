import type { Pattern } from "../../server/contract/leaf.ts";
import { lookedAt, loupeMm, ontoFace } from "./face-frame.ts";
import type { JointDraft } from "./joint-draft.ts";
import type { ChosenLine } from "./joint-drawing.tsx";
import { breadthWords, lineWords, placeWords } from "./line-words.ts";

const steps = {
  x: [
    [-1, "1 mm left"],
    [1, "1 mm right"],
  ],
  y: [
    [-1, "1 mm up"],
    [1, "1 mm down"],
  ],
} as const;

/** What lies under the chosen line, enlarged where no thumb hides it, its place in mm, and steps of a mm. */
export const JointLoupe = (props: {
  draft: JointDraft;
  pattern: Pattern;
  picture: string | null;
  chosen: ChosenLine | null;
  onPlace: (line: number, atMm: number, gesture: string) => void;
}) => {
  const { draft, pattern, picture, chosen } = props;
  const line = chosen && draft.lines[chosen.line];
  const atMm = chosen && draft.places.linesMm[chosen.line];
  if (!chosen || !line || typeof atMm !== "number")
    return <p class="joint-loupe plate">Drag a line by its number onto the joint. Arrow keys move it by 1 mm.</p>;
  const [x, y] = lookedAt(line, atMm, chosen.pointer);
  const [left, top] = [x - loupeMm / 2, y - loupeMm / 2];
  const arms =
    line.axis === "x"
      ? `M ${x} ${top} v ${loupeMm / 4} M ${x} ${top + loupeMm} v ${-loupeMm / 4}`
      : `M ${left} ${y} h ${loupeMm / 4} M ${left + loupeMm} ${y} h ${-loupeMm / 4}`;
  return (
    <div class="joint-loupe plate">
      <svg viewBox={`${left} ${top} ${loupeMm} ${loupeMm}`} aria-hidden="true">
        {picture && (
          <image href={picture} width={pattern.widthMm} height={pattern.heightMm} preserveAspectRatio="none" />
        )}
        <path class="halo" d={arms} />
        <path d={arms} />
      </svg>
      <div>
        <p>
          <strong>{lineWords(pattern, line)}</strong>
          <br />
          {placeWords(line, atMm)}
          <br />
          <span class="quiet">{breadthWords(pattern, line)}</span>
        </p>
        <div class="buttons">
          {steps[line.axis].map(([step, says]) => (
            <button
              key={says}
              type="button"
              onClick={() =>
                props.onPlace(
                  chosen.line,
                  ontoFace(line, Math.round(atMm) + step, pattern),
                  `steps on ${lineWords(pattern, line)}`,
                )
              }
            >
              {says}
            </button>
          ))}
        </div>
      </div>
    </div>
  );
};
