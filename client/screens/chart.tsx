import type { Reply } from "../../server/contract/calls.ts";
import { useChange } from "../change.ts";
import { ChartForm } from "../chart/chart-form.tsx";
import { ChartPatches } from "../chart/patches.tsx";
import { Choice } from "../fields.tsx";
import { Icon } from "../icon.tsx";
import { Only } from "../may.tsx";
import { Shown, useView } from "../view.tsx";

const counted = (photos: number): string => (photos === 1 ? "1 photo" : `${photos} photos`);

const Editions = (props: { delivery: string; view: Reply<"charts"> }) => {
  const { delivery, view } = props;
  const { chosen, editions, photos } = view;
  const { undoable } = useChange();
  const edition = editions.find(({ id }) => id === chosen);
  return (
    <>
      <Only may="chooseChart" otherwise={`${edition?.title ?? chosen}. The foreman chooses the edition.`}>
        <Choice
          label="Edition in the photos"
          of={editions.map(({ id, title }) => [id, title] as const)}
          value={chosen}
          onChoose={(chart) =>
            void undoable(
              delivery,
              "chooseChart",
              { delivery },
              { seen: view.seq, chart },
              "Chosen. Colours are solved anew.",
            )
          }
        />
      </Only>
      <p>
        {photos.measured === 0 ? "No photo is measured by it yet." : `${counted(photos.measured)} measured by it.`}
        {edition?.enteredBy && ` Values entered by ${edition.enteredBy}.`}
      </p>
      {photos.sentBack > 0 && (
        <p class="plate warn">
          <Icon name="warning" /> {counted(photos.sentBack)} sent back: the chart in{" "}
          {photos.sentBack === 1 ? "it is" : "them is"} rather another edition, or fits none.
        </p>
      )}
      {edition && <ChartPatches edition={edition} />}
    </>
  );
};

/** Which edition of the 24-patch chart stands in the photos, and the values of further ones. */
export const ChartScreen = (props: { delivery: string }) => {
  const { delivery } = props;
  const view = useView("charts", { delivery });
  return (
    <>
      <h1>Chart</h1>
      <p>
        A 24-patch chart gives true colours only by its own values, and these changed from edition to edition. The year
        is usually printed on it. A photo whose chart fits another edition clearly better is sent back; a phone with
        strong colours of its own may hide the difference, so choose with care.
      </p>
      <Shown view={view}>{(charts) => <Editions delivery={delivery} view={charts} />}</Shown>
      <Only may="addChart" otherwise="Only the foreman adds a chart with values of its own.">
        <h2>A chart with values of its own</h2>
        <ChartForm delivery={delivery} />
      </Only>
    </>
  );
};
