import type { Pattern } from "../../server/contract/leaf.ts";
import { labelPlaces, labelRadius } from "./label-places.ts";
import { type Box, drawnBox, grainLines } from "./leaf-diagram.ts";

export interface DrawnMark {
  readonly id: string;
  readonly box: Box;
  readonly label: string;
  readonly kind: "mark" | "proposed" | "draft";
}

const marginMm = 50;
const headMm = 130;

/** Lines and, where they are known, colours of the parts: the inside of a drawing in mm. */
export const FaceParts = (props: { pattern: Pattern; swatches: Readonly<Record<string, string>>; grain: boolean }) => (
  <g class="face-parts">
    {props.pattern.parts.map((part) => {
      const [x, y, width, height] = part.rectMm;
      const fill = props.swatches[part.name];
      return (
        <g key={part.name}>
          <rect
            class={fill ? "part" : "part blank"}
            x={x}
            y={y}
            width={width}
            height={height}
            {...(fill && { fill })}
          />
          {props.grain &&
            !fill &&
            grainLines(part).map(([x1, y1, x2, y2]) => (
              <line key={`${x1} ${y1}`} class="grain" x1={x1} y1={y1} x2={x2} y2={y2} />
            ))}
        </g>
      );
    })}
  </g>
);

/** A face to scale with its marks. A tap on it gives the place in mm; the form beside it takes the same by keyboard. */
export const LeafDrawing = (props: {
  pattern: Pattern;
  face: "A" | "B";
  swatches: Readonly<Record<string, string>>;
  marks: readonly DrawnMark[];
  onPlace?: (at: { x: number; y: number }) => void;
}) => {
  const { pattern, onPlace } = props;
  const place = (event: MouseEvent & { currentTarget: SVGSVGElement }) => {
    const toScreen = event.currentTarget.getScreenCTM();
    if (!toScreen || !onPlace) return;
    const { x, y } = new DOMPoint(event.clientX, event.clientY).matrixTransform(toScreen.inverse());
    if (x >= 0 && y >= 0 && x <= pattern.widthMm && y <= pattern.heightMm) onPlace({ x, y });
  };
  const boxes = props.marks.map(({ box }) => drawnBox(box, 34));
  const labels = labelPlaces(boxes, pattern);
  const width = pattern.widthMm + 2 * marginMm;
  const height = pattern.heightMm + headMm + marginMm;
  return (
    // biome-ignore lint/a11y/useKeyWithClickEvents: the place is also typed in the form below the drawing
    <svg
      class={onPlace ? "leaf-drawing tappable" : "leaf-drawing"}
      viewBox={`${-marginMm} ${-headMm} ${width} ${height}`}
      role="img"
      aria-label={`Face ${props.face}, ${pattern.widthMm} by ${pattern.heightMm} mm, ${pattern.name}, with ${props.marks.length} marks`}
      onClick={place}
    >
      <path class="top-arrow" d={`M ${pattern.widthMm / 2 - 130} -30 v -60 m -22 26 l 22 -26 l 22 26`} />
      <text class="top-word" x={pattern.widthMm / 2 - 85} y={-35}>
        TOP
      </text>
      <rect class="leaf-edge" x={0} y={0} width={pattern.widthMm} height={pattern.heightMm} />
      <FaceParts pattern={pattern} swatches={props.swatches} grain />
      {props.marks.map((mark, index) => {
        const box = boxes[index] ?? mark.box;
        const [x, y] = [box.x + box.w / 2, box.y + box.h / 2];
        const label = labels[index] ?? { x, y };
        return (
          <g key={mark.id} class={`drawn-mark ${mark.kind}`}>
            <line class="lead halo" x1={x} y1={y} x2={label.x} y2={label.y} />
            <line class="lead" x1={x} y1={y} x2={label.x} y2={label.y} />
            <rect class="halo" x={box.x} y={box.y} width={box.w} height={box.h} />
            <rect class="line" x={box.x} y={box.y} width={box.w} height={box.h} />
            <circle cx={label.x} cy={label.y} r={labelRadius} />
            <text x={label.x} y={label.y + 28}>
              {mark.label}
            </text>
          </g>
        );
      })}
    </svg>
  );
};
