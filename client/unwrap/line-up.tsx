import { useState } from "preact/hooks";
import { Choice, Pick } from "../fields.tsx";
import { TakePhoto } from "../take-photo.tsx";

interface Standing {
  readonly leaf: string;
  readonly face: "A" | "B";
}

const most = 5;

/** A photo of several leaves side by side: they are named left to right, so that each is found in the picture. */
export const LineUp = (props: { delivery: string; leaves: readonly string[] }) => {
  const [standing, stand] = useState<readonly Standing[]>([]);
  const free = props.leaves.filter((leaf) => !standing.some((one) => one.leaf === leaf));
  const [next = ""] = free;
  const put = (index: number, change: Partial<Standing>) =>
    stand(standing.map((one, at) => (at === index ? { ...one, ...change } : one)));
  return (
    <details>
      <summary>Photograph several leaves in one picture</summary>
      <p>Stand three to five leaves side by side. Name them as you see them, from left to right.</p>
      <ol class="standing">
        {standing.map((one, index) => (
          <li key={one.leaf}>
            <Pick
              label={`Leaf ${index + 1} from the left`}
              of={[one.leaf, ...free].map((code) => [code, code])}
              value={one.leaf}
              onChoose={(leaf) => put(index, { leaf })}
            />
            <Choice
              label="Face towards you"
              of={[
                ["A", "A"],
                ["B", "B"],
              ]}
              value={one.face}
              onChoose={(face) => put(index, { face })}
            />
            <button type="button" onClick={() => stand(standing.filter((_, at) => at !== index))}>
              Take {one.leaf} out
            </button>
          </li>
        ))}
      </ol>
      <div class="buttons">
        {standing.length < most && next && (
          <button type="button" onClick={() => stand([...standing, { leaf: next, face: "A" }])}>
            Next leaf to the right
          </button>
        )}
        {standing.length >= 2 && (
          <TakePhoto
            delivery={props.delivery}
            label={`Photograph these ${standing.length}`}
            about={{ kind: "line-up", shows: standing.map((one) => ({ ...one, corners: null })), note: "" }}
          />
        )}
      </div>
    </details>
  );
};
