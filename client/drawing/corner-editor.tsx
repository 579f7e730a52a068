import { useEffect, useRef, useState } from "preact/hooks";
import { cornerNames, isUprightQuad, moveCorner, type Point, type Quad } from "./corner-quad.ts";

const handlePx = 24;
const loupeShare = 0.17;
const loupeTimes = 4;

/** Drags the four corners of a leaf over its photo, by finger, mouse or arrow keys, with a loupe at the corner. */
export const CornerEditor = (props: {
  picture: string;
  photo: { readonly width: number; readonly height: number };
  start: Quad;
  onKeep: (quad: Quad) => void;
  onLeave: () => void;
}) => {
  const { photo, picture } = props;
  const [quad, setQuad] = useState(props.start);
  const [held, hold] = useState<number | null>(null);
  const [pxPerCss, setScale] = useState(photo.width / 360);
  const paper = useRef<SVGSVGElement>(null);

  useEffect(() => {
    const sheet = paper.current;
    if (!sheet) return;
    const watcher = new ResizeObserver(() => setScale(photo.width / Math.max(1, sheet.clientWidth)));
    watcher.observe(sheet);
    return () => watcher.disconnect();
  }, [photo.width]);

  const at = (event: PointerEvent): Point | null => {
    const toScreen = paper.current?.getScreenCTM();
    if (!toScreen) return null;
    const { x, y } = new DOMPoint(event.clientX, event.clientY).matrixTransform(toScreen.inverse());
    return [x, y];
  };
  const drag = (corner: number, event: PointerEvent & { currentTarget: SVGGElement }) => {
    if (!event.currentTarget.hasPointerCapture(event.pointerId)) return;
    const to = at(event);
    if (to) setQuad(moveCorner(quad, corner, to, photo));
  };
  const nudge = (corner: number, event: KeyboardEvent) => {
    const step = pxPerCss * (event.shiftKey ? 10 : 1);
    const moves: Record<string, Point> = {
      ArrowLeft: [-step, 0],
      ArrowRight: [step, 0],
      ArrowUp: [0, -step],
      ArrowDown: [0, step],
    };
    const move = moves[event.key];
    const corners = quad[corner];
    if (!move || !corners) return;
    event.preventDefault();
    setQuad(moveCorner(quad, corner, [corners[0] + move[0], corners[1] + move[1]], photo));
  };

  const upright = isUprightQuad(quad);
  const focus = held === null ? null : quad[held];
  const radius = loupeShare * photo.width;
  const loupe: Point | null = focus
    ? [focus[0] < photo.width / 2 ? photo.width - radius * 1.1 : radius * 1.1, radius * 1.1]
    : null;
  return (
    <fieldset class="corner-editor">
      <legend>The four corners of the leaf</legend>
      <p>Drag each corner onto the corner of the leaf. Arrow keys move the chosen corner.</p>
      <svg ref={paper} viewBox={`0 0 ${photo.width} ${photo.height}`}>
        <title>Photo of the leaf</title>
        <image href={picture} width={photo.width} height={photo.height} />
        <polygon class={upright ? "outline halo" : "outline halo wrong"} points={quad.join(" ")} />
        <polygon class="outline" points={quad.join(" ")} />
        {quad.map(([x, y], corner) => (
          <g
            key={cornerNames[corner]}
            class="handle"
            role="slider"
            tabIndex={0}
            aria-label={`Corner ${cornerNames[corner]}`}
            aria-valuenow={Math.round(x)}
            aria-valuetext={`${Math.round(x)} across, ${Math.round(y)} down`}
            onPointerDown={(event) => {
              event.currentTarget.setPointerCapture(event.pointerId);
              event.currentTarget.focus();
            }}
            onPointerMove={(event) => drag(corner, event)}
            onFocus={() => hold(corner)}
            onBlur={() => hold(null)}
            onKeyDown={(event) => nudge(corner, event)}
          >
            <circle class="reach" cx={x} cy={y} r={handlePx * pxPerCss} />
            <circle class="dot" cx={x} cy={y} r={5 * pxPerCss} />
          </g>
        ))}
        {focus && loupe && (
          <g class="loupe" pointer-events="none">
            <clipPath id="loupe-glass">
              <circle cx={loupe[0]} cy={loupe[1]} r={radius} />
            </clipPath>
            <g clip-path="url(#loupe-glass)">
              <image
                href={picture}
                width={photo.width}
                height={photo.height}
                transform={`translate(${loupe[0] - focus[0] * loupeTimes} ${loupe[1] - focus[1] * loupeTimes}) scale(${loupeTimes})`}
              />
              <path
                d={`M ${loupe[0] - radius} ${loupe[1]} h ${2 * radius} M ${loupe[0]} ${loupe[1] - radius} v ${2 * radius}`}
              />
            </g>
            <circle class="rim" cx={loupe[0]} cy={loupe[1]} r={radius} />
          </g>
        )}
      </svg>
      {!upright && <p class="warn">The corners cross each other: put each on its own corner of the leaf.</p>}
      <div class="buttons">
        <button type="button" class="main" disabled={!upright} onClick={() => props.onKeep(quad)}>
          Keep these corners
        </button>
        <button type="button" onClick={props.onLeave}>
          Leave them as they were
        </button>
      </div>
    </fieldset>
  );
};
