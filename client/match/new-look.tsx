import type { ReplacementAnswer } from "../../server/contract/questions.ts";
import { Scroll } from "../scroll.tsx";
import { figure } from "../words.ts";
import { likeWords, partInSpace } from "./question-words.ts";

const axes = ["L*", "a*", "b*"] as const;

/** What a leaf ordered for a place must look like: a swatch, words against a delivered face, and the range of every part. */
export const NewLook = (props: { answer: ReplacementAnswer }) => {
  const { looks } = props.answer;
  if (looks.length === 0) return <p>Nothing that is measured is seen beside it: any colour does.</p>;
  return (
    <Scroll label="What a new leaf must look like">
      <table class="plain">
        <thead>
          <tr>
            <th scope="col">Seen in</th>
            <th scope="col">Colour to aim at</th>
            {axes.map((axis) => (
              <th key={axis} scope="col">
                {axis}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {looks.map((look) => (
            <tr key={`${look.space} ${look.part}`}>
              <th scope="row">{partInSpace(look)}</th>
              <td>
                <svg class="swatch" viewBox="0 0 20 20" aria-hidden="true">
                  <rect width="20" height="20" fill={look.swatch} />
                </svg>{" "}
                {likeWords(look)}
                {look.ranges === null && (
                  <small class="quiet">
                    No one colour keeps the tolerance beside all it is seen with; this one comes nearest, at{" "}
                    {figure(look.worst, null)}.
                  </small>
                )}
                {look.knownWithin !== null && (
                  <small class="quiet">
                    The figures are sure to within {figure(look.knownWithin, null)}; the leaf named is the surer
                    pattern.
                  </small>
                )}
              </td>
              {look.ranges === null
                ? look.lab.map((value, axis) => <td key={axes[axis]}>{figure(value, null)}</td>)
                : look.ranges.map(([low, high], axis) => (
                    <td key={axes[axis]}>
                      {figure(low, null)} to {figure(high, null)}
                    </td>
                  ))}
            </tr>
          ))}
        </tbody>
      </table>
    </Scroll>
  );
};
