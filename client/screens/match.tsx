import { useLocation } from "preact-iso";
import type { Pattern } from "../../server/contract/leaf.ts";
import type { MatchView, SpaceStrip } from "../../server/contract/views.ts";
import { useChange } from "../change.ts";
import { Icon } from "../icon.tsx";
import { BeforeAfter } from "../match/before-after.tsx";
import { DifferenceTable } from "../match/difference-table.tsx";
import { PlanFigures } from "../match/figures.tsx";
import { FoldedSpaces } from "../match/folded-spaces.tsx";
import { HowSeen } from "../match/how-seen.tsx";
import { kindsOfSpace, unfilledSays } from "../match/kinds-of-space.ts";
import { PlaceActions } from "../match/place-actions.tsx";
import { Planning } from "../match/planning.tsx";
import { Questions } from "../match/questions.tsx";
import { Strip, stripPx } from "../match/strip.tsx";
import { Unknowns } from "../match/unknowns.tsx";
import { letIn, release, type Wishes } from "../match/wishes.ts";
import { Only, useMay } from "../may.tsx";
import { Shown, useView } from "../view.tsx";

const Board = (props: { delivery: string; view: MatchView; patternOf: (leaf: string) => Pattern | undefined }) => {
  const { delivery, view, patternOf } = props;
  const { query, path, route } = useLocation();
  const { undoable } = useChange();
  const may = useMay();
  const chosen = { leaf: query.leaf ?? null, space: query.space ?? null };
  const choose = (leaf: string | null, space: string) =>
    route(leaf === null ? path : `${path}?space=${encodeURIComponent(space)}&leaf=${encodeURIComponent(leaf)}`, true);
  const wish = (wishes: Wishes, says: string) =>
    void undoable(
      delivery,
      "setWishes",
      { delivery },
      { seen: view.seq, locks: [...wishes.locks], bans: [...wishes.bans] },
      says,
    );
  const { together, unfilled, alone } = kindsOfSpace(view.spaces);
  const actions = (strip: SpaceStrip) => {
    const place =
      strip.space.id === chosen.space && strip.places.find(({ leaf }) => leaf !== null && leaf === chosen.leaf);
    return (
      place &&
      may("setWishes") && (
        <PlaceActions
          key={place.leaf}
          delivery={delivery}
          place={place}
          strip={strip}
          wishes={view}
          onWish={wish}
          onClose={() => choose(null, strip.space.id)}
        />
      )
    );
  };
  return (
    <>
      <h1>Match</h1>
      <div class="sections">
        <section aria-labelledby="figures">
          <h2 id="figures">The plan</h2>
          {view.figures ? (
            <PlanFigures figures={view.figures} tolerance={view.tolerance} />
          ) : (
            <p>No plan yet. It needs leaves whose faces are measured and a door schedule.</p>
          )}
          <Only may="planAllotment" otherwise="The foreman plans.">
            <Planning delivery={delivery} view={view} />
          </Only>
        </section>
        <section aria-labelledby="wishes">
          <h2 id="wishes">Wishes</h2>
          <ul class="wishes">
            {view.locks.map(({ leaf, opening, place, turned }) => (
              <li key={`${leaf} ${opening}`}>
                <span>
                  <Icon name="held" /> {leaf} held in {opening}
                  {turned && ", turned"}
                </span>
                <Only may="setWishes">
                  <button
                    type="button"
                    onClick={() => wish(release(view, { leaf, opening, place }), `${leaf} is free again.`)}
                  >
                    Let {leaf} go
                  </button>
                </Only>
              </li>
            ))}
            {view.bans.map(({ leaf, opening, space, why }, index) => (
              <li key={`${leaf} ${opening} ${space}`}>
                <span>
                  <Icon name="banned" /> {leaf} kept out of{" "}
                  {opening ?? view.spaces.find((one) => one.space.id === space)?.space.name ?? space}
                  {why && `: ${why}`}
                </span>
                <Only may="setWishes">
                  <button type="button" onClick={() => wish(letIn(view, index), `${leaf} is let in again.`)}>
                    Let it in
                  </button>
                </Only>
              </li>
            ))}
          </ul>
          {view.locks.length + view.bans.length === 0 && (
            <p>None. {may("setWishes") && "Tap a leaf to turn it, hold it or keep it out."}</p>
          )}
          {view.spare.length > 0 && <p>Spare leaves: {view.spare.join(", ")}</p>}
        </section>
      </div>
      <Only may="takePlanBack">
        <BeforeAfter delivery={delivery} view={view} />
      </Only>
      <Only may="setSight">
        <HowSeen delivery={delivery} view={view} />
      </Only>
      <p class="quiet">
        Screen colours are a guide, the numbers decide. Each leaf is drawn in the colours measured on its parts.
      </p>
      <div class="spaces">
        {together.map((strip) => (
          <section
            key={strip.space.id}
            class="space"
            style={{ "--strip": `${stripPx(strip, patternOf)}px` }}
            aria-labelledby={`space-${strip.space.id}`}
          >
            <h2 id={`space-${strip.space.id}`}>{strip.space.name}</h2>
            <Strip
              strip={strip}
              patternOf={patternOf}
              chosen={strip.space.id === chosen.space ? chosen.leaf : null}
              onChoose={({ leaf }) => choose(leaf, strip.space.id)}
            />
            {actions(strip)}
            {strip.differences.length > 0 && (
              <DifferenceTable space={strip.space.name} differences={strip.differences} />
            )}
          </section>
        ))}
      </div>
      <FoldedSpaces
        id="unfilled"
        title="Still to be filled"
        summary={unfilledSays(unfilled)}
        strips={unfilled}
        chosenSpace={chosen.space}
        onChoose={choose}
        actions={actions}
      />
      <FoldedSpaces
        id="alone"
        title="Seen alone"
        summary={`${alone.length} spaces in which one face is seen and nothing is to be matched`}
        strips={alone}
        chosenSpace={chosen.space}
        onChoose={choose}
        actions={actions}
      />
      <Only may="askReturns">
        <Questions delivery={delivery} view={view} />
      </Only>
      {view.cannotTell.length > 0 && (
        <section class="folded" aria-labelledby="cannot-tell">
          <h2 id="cannot-tell">What cannot be told</h2>
          <Unknowns sentences={view.cannotTell} />
        </section>
      )}
    </>
  );
};

/** Which leaf goes where: each space as the strip of faces that are seen together, and the plan's figures. */
export const Match = (props: { delivery: string }) => {
  const { delivery } = props;
  const match = useView("match", { delivery });
  return (
    <Shown view={match}>
      {(view) => {
        const patternById = new Map(view.patterns.map((pattern) => [pattern.id, pattern]));
        const patternByLeaf = new Map(view.leaves.map(({ code, pattern }) => [code, patternById.get(pattern)]));
        return <Board delivery={delivery} view={view} patternOf={(leaf) => patternByLeaf.get(leaf)} />;
      }}
    </Shown>
  );
};
