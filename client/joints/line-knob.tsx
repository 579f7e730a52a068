import { useRef } from "preact/hooks";
import type { JointLine } from "../../analysis/joints/joint-lines.ts";
import type { Pattern } from "../../server/contract/leaf.ts";
import { ontoFace } from "./face-frame.ts";
import { lineWords, placeWords } from "./line-words.ts";

type Point = readonly [x: number, y: number];

const knobPx = { width: 44, height: 28, reach: 44 };

/** mm that a key moves a line; with Shift, or a page key, ten times as far. */
const keyStep = (axis: JointLine["axis"], { key, shiftKey }: KeyboardEvent): number => {
  const far = shiftKey ? 10 : 1;
  const steps: Readonly<Record<string, number>> =
    axis === "x" ? { ArrowLeft: -far, ArrowRight: far } : { ArrowUp: -far, ArrowDown: far, PageUp: -10, PageDown: 10 };
  return steps[key] ?? 0;
};

const placeOf = (event: PointerEvent & { currentTarget: SVGGElement }): Point | null => {
  const toScreen = event.currentTarget.ownerSVGElement?.getScreenCTM();
  if (!toScreen) return null;
  const { x, y } = new DOMPoint(event.clientX, event.clientY).matrixTransform(toScreen.inverse());
  return [x, y];
};

/** One line over the face with its knob beside it, to be dragged by either, or moved by the arrow keys. */
export const LineKnob = (props: {
  pattern: Pattern;
  line: JointLine;
  atMm: number;
  knob: Point;
  mmPerPx: number;
  chosen: boolean;
  onChoose: (pointer: Point | null) => void;
  onPlace: (atMm: number, gesture: string) => void;
}) => {
  const { pattern, line, atMm, knob, mmPerPx } = props;
  const { axis, fromMm, toMm } = line;
  const held = useRef<{ readonly offset: number; readonly gesture: string } | null>(null);
  const name = lineWords(pattern, line);
  const across = (point: Point): number => (axis === "x" ? point[0] : point[1]);
  const [x, y] = knob;
  const inward = axis === "x" ? (y < 0 ? fromMm : toMm) : x < 0 ? fromMm : toMm;
  const end: Point = axis === "x" ? [x, inward] : [inward, y];
  const stretch = axis === "x" ? `M ${atMm} ${fromMm} V ${toMm}` : `M ${fromMm} ${atMm} H ${toMm}`;
  return (
    <g
      class={props.chosen ? "joint-line chosen" : "joint-line"}
      role="slider"
      tabIndex={0}
      aria-label={name}
      aria-orientation={axis === "x" ? "horizontal" : "vertical"}
      aria-valuemin={0}
      aria-valuemax={axis === "x" ? pattern.widthMm : pattern.heightMm}
      aria-valuenow={Math.round(atMm)}
      aria-valuetext={placeWords(line, atMm)}
      onFocus={() => props.onChoose(null)}
      // A touch on the line must not scroll the page; "touch-action" does not reach inside a drawing.
      onTouchStart={(event) => event.preventDefault()}
      onPointerDown={(event) => {
        const point = placeOf(event);
        if (!point) return;
        event.currentTarget.setPointerCapture(event.pointerId);
        event.currentTarget.focus({ preventScroll: true });
        held.current = { offset: across(point) - atMm, gesture: `drag at ${event.timeStamp}` };
        props.onChoose(point);
      }}
      onPointerMove={(event) => {
        const point = held.current && placeOf(event);
        if (!held.current || !point) return;
        const to = ontoFace(line, Math.round(across(point) - held.current.offset), pattern);
        props.onPlace(to, held.current.gesture);
      }}
      onPointerUp={() => {
        held.current = null;
      }}
      onPointerCancel={() => {
        held.current = null;
      }}
      onKeyDown={(event) => {
        const step = keyStep(axis, event);
        if (step === 0) return;
        event.preventDefault();
        props.onPlace(ontoFace(line, Math.round(atMm) + step, pattern), `keys on ${name}`);
      }}
    >
      <path class="reach" d={stretch} />
      <path class="leader" d={`M ${x} ${y} L ${end[0]} ${end[1]}`} />
      <path class="stretch halo" d={stretch} />
      <path class="stretch" d={stretch} />
      <g transform={`translate(${x} ${y}) scale(${mmPerPx})`}>
        <rect class="reach" x={-knobPx.reach / 2} y={-knobPx.reach / 2} width={knobPx.reach} height={knobPx.reach} />
        <rect
          class="knob"
          x={-knobPx.width / 2}
          y={-knobPx.height / 2}
          width={knobPx.width}
          height={knobPx.height}
          rx={6}
        />
        <text y={5}>{Math.round(atMm)}</text>
      </g>
    </g>
  );
};
