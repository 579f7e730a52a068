import { useState } from "preact/hooks";
import { Choice, NumberField, Pick } from "../fields.tsx";
import type { LookDraft } from "./look-draft.ts";
import { putOnWall, stepped, wallOf } from "./walls.ts";

const OnWall = (props: {
  opening: string;
  walls: LookDraft["walls"];
  wall: number | null;
  onChange: (walls: string[][]) => void;
}) => {
  const { opening, walls, wall } = props;
  const last = wall === null ? 0 : (walls[wall]?.length ?? 0) - 1;
  const at = wall === null ? 0 : (walls[wall]?.indexOf(opening) ?? 0);
  const choices = [
    ["off", "on no wall"],
    ...walls.map((_, index) => [String(index), `on wall ${index + 1}`] as const),
    [String(walls.length), "on a new wall"],
  ] as const;
  return (
    <li>
      <Pick
        label={`Opening ${opening}`}
        of={choices}
        value={wall === null ? "off" : String(wall)}
        onChoose={(chosen) => props.onChange(putOnWall(walls, opening, chosen === "off" ? null : Number(chosen)))}
      />
      {wall !== null && (
        <>
          <button
            type="button"
            disabled={at === 0}
            aria-label={`${opening} earlier on the wall`}
            onClick={() => props.onChange(stepped(walls, opening, -1))}
          >
            Up
          </button>
          <button
            type="button"
            disabled={at === last}
            aria-label={`${opening} later on the wall`}
            onClick={() => props.onChange(stepped(walls, opening, 1))}
          >
            Down
          </button>
        </>
      )}
    </li>
  );
};

const Walls = (props: {
  openings: readonly string[];
  walls: LookDraft["walls"];
  onChange: (walls: string[][]) => void;
}) => {
  const { openings, walls, onChange } = props;
  const off = openings.filter((opening) => wallOf(walls, opening) === null);
  return (
    <fieldset class="walls-told">
      <legend>Openings along each wall, in the order one walks past them</legend>
      {walls.length === 0 && (
        <p>
          None told: every two faces count alike.{" "}
          <button type="button" onClick={() => onChange([[...openings]])}>
            All stand along one wall
          </button>
        </p>
      )}
      {walls.map((wall, index) => (
        <section key={wall.join(" ")}>
          <h4>Wall {index + 1}</h4>
          <ol>
            {wall.map((opening) => (
              <OnWall key={opening} opening={opening} walls={walls} wall={index} onChange={onChange} />
            ))}
          </ol>
        </section>
      ))}
      {off.length > 0 && (
        <section>
          {walls.length > 0 && <h4>On no wall yet</h4>}
          <ul>
            {off.map((opening) => (
              <OnWall key={opening} opening={opening} walls={walls} wall={null} onChange={onChange} />
            ))}
          </ul>
        </section>
      )}
    </fieldset>
  );
};

/** How one space is seen: how much it counts, its walls, and what is wanted along them. */
export const SpaceLook = (props: {
  name: string;
  openings: readonly string[];
  draft: LookDraft;
  summary: string;
  onChange: (draft: LookDraft) => void;
}) => {
  const { name, draft, openings } = props;
  const [open, setOpen] = useState(false);
  const change = (some: Partial<LookDraft>) => props.onChange({ ...draft, ...some });
  return (
    <details open={open} onToggle={(event) => setOpen(event.currentTarget.open)}>
      <summary>
        {name}: {props.summary}
      </summary>
      {open && (
        <section class="space-look" aria-label={`How ${name} is seen`}>
          <NumberField
            label="How much this space counts"
            unit="0 to 10, usual 1"
            text={draft.weight}
            onInput={(weight) => change({ weight })}
          />
          <Walls openings={openings} walls={draft.walls} onChange={(walls) => change({ walls })} />
          <Choice
            label="Lightness along each wall"
            of={[
              ["off", "as it comes"],
              ["lighter", "ever lighter"],
              ["darker", "ever darker"],
            ]}
            value={draft.gentle}
            onChoose={(gentle) => change({ gentle })}
          />
          <Choice
            label="A light leaf beside a dark one"
            of={[
              ["may", "may be"],
              ["not", "is not wanted"],
            ]}
            value={draft.noLightBesideDark ? "not" : "may"}
            onChoose={(chosen) => change({ noLightBesideDark: chosen === "not" })}
          />
          <NumberField
            label="How much accepted marks count"
            unit="0 to 1; empty: less in a room, not at all in a store"
            text={draft.marksCount}
            onInput={(marksCount) => change({ marksCount })}
          />
        </section>
      )}
    </details>
  );
};
