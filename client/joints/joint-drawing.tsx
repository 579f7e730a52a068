import { useEffect, useRef, useState } from "preact/hooks";
import type { Pattern } from "../../server/contract/leaf.ts";
import { faceFrame, knobPlaces } from "./face-frame.ts";
import type { JointDraft } from "./joint-draft.ts";
import { LineKnob } from "./line-knob.tsx";

/** The line chosen, and where on it the pointer took hold. */
export interface ChosenLine {
  readonly line: number;
  readonly pointer: readonly [x: number, y: number] | null;
}

/** The rectangle of a part; none while its lines are crossed. */
const PartPlace = (props: { part: Pattern["parts"][number]; class?: string }) => {
  const [x, y, width, height] = props.part.rectMm;
  return <rect class={props.class} x={x} y={y} width={Math.max(0, width)} height={Math.max(0, height)} />;
};

/** A face seen straight on with the lines of its joints over it; each is dragged by its knob beside the face, or by itself. */
export const JointDrawing = (props: {
  draft: JointDraft;
  pattern: Pattern;
  picture: string | null;
  chosen: ChosenLine | null;
  onChoose: (chosen: ChosenLine) => void;
  onPlace: (line: number, atMm: number, gesture: string) => void;
}) => {
  const { draft, pattern, picture, chosen } = props;
  const { widthMm, heightMm } = pattern;
  const paper = useRef<SVGSVGElement>(null);
  const [widthPx, setWidth] = useState(328);
  useEffect(() => {
    const sheet = paper.current;
    if (!sheet) return;
    const watcher = new ResizeObserver(() => setWidth(sheet.clientWidth));
    watcher.observe(sheet);
    return () => watcher.disconnect();
  }, []);
  const { mmPerPx, marginMm, viewBox } = faceFrame(pattern, widthPx);
  const knobs = knobPlaces(draft.lines, draft.places.linesMm, pattern, marginMm);
  return (
    <svg class="joint-drawing" ref={paper} viewBox={viewBox}>
      <title>The face with the lines of its joints</title>
      {!picture && pattern.parts.map((part) => <PartPlace key={part.name} part={part} class="part-ground" />)}
      {picture && <image href={picture} width={widthMm} height={heightMm} preserveAspectRatio="none" />}
      <rect class="face-edge" width={widthMm} height={heightMm} />
      {pattern.parts
        .filter(({ kind }) => kind === "panel")
        .map((part) => (
          <g key={part.name} class="panel-flat">
            <PartPlace part={part} class="halo" />
            <PartPlace part={part} />
          </g>
        ))}
      {draft.lines.map((line, index) => (
        <LineKnob
          key={`${line.axis} ${line.atMm}`}
          pattern={pattern}
          line={line}
          atMm={draft.places.linesMm[index] ?? line.atMm}
          knob={knobs[index] ?? [0, 0]}
          mmPerPx={mmPerPx}
          chosen={chosen?.line === index}
          onChoose={(pointer) => props.onChoose({ line: index, pointer })}
          onPlace={(atMm, gesture) => props.onPlace(index, atMm, gesture)}
        />
      ))}
    </svg>
  );
};
