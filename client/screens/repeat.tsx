import type { Reply } from "../../server/contract/calls.ts";
import { Icon } from "../icon.tsx";
import { Gauge } from "../repeat/gauge.tsx";
import { Ways } from "../repeat/ways.tsx";
import { Shown, useView } from "../view.tsx";

const ToShoot = (props: { sentences: readonly string[] }) =>
  props.sentences.length > 0 && (
    <section class="plate to-shoot" aria-labelledby="to-shoot">
      <h2 id="to-shoot">
        <Icon name="camera" /> To know more
      </h2>
      <ul>
        {props.sentences.map((sentence) => (
          <li key={sentence}>{sentence}</li>
        ))}
      </ul>
    </section>
  );

const Report = (props: { view: Reply<"repeat"> }) => {
  const { ways, gauges, toShoot, tolerance } = props.view;
  return (
    <>
      {ways.length === 0 && (
        <p>
          <Icon name="unknown" /> No face was photographed more than once yet.
        </p>
      )}
      <Ways ways={ways} tolerance={tolerance} />
      {gauges.map((gauge) => (
        <Gauge key={gauge.by} gauge={gauge} />
      ))}
      <ToShoot sentences={toShoot} />
    </>
  );
};

/** How far photos of one and the same face lie apart, and so from where on a difference means something. */
export const Repeat = (props: { delivery: string }) => {
  const view = useView("repeat", { delivery: props.delivery });
  return (
    <>
      <h1>How repeatable are my photos?</h1>
      <p>
        One face photographed several times should come out in one colour. By as much as it does not, two leaves of the
        same colour may seem to differ: on the match board a difference below that says “no reliable difference”.
      </p>
      <Shown view={view}>{(report) => <Report view={report} />}</Shown>
    </>
  );
};
