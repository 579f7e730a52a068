import { useState } from "preact/hooks";
import { call } from "../api.ts";
import { useChange } from "../change.ts";
import { useDesk } from "../desk.ts";
import { Pick } from "../fields.tsx";
import { dateAndTime } from "../times.ts";
import { Shown, useView } from "../view.tsx";
import { TextToCopy } from "./text-to-copy.tsx";

const zone = Intl.DateTimeFormat().resolvedOptions().timeZone;

const lengths = [
  ["7", "7 days"],
  ["14", "14 days"],
  ["30", "30 days"],
  ["90", "90 days"],
] as const;

const OpenLinks = (props: { delivery: string; number: number }) => {
  const { delivery, number } = props;
  const desk = useDesk();
  const view = useView("recordLinks", { delivery, number });
  const [says, say] = useState("");
  const shut = async (link: string) => {
    const outcome = await call("endLink", { delivery, link });
    if (outcome.kind === "unreachable") return say("The laptop cannot be reached. The link still opens; try again.");
    say(outcome.kind === "ok" ? "The link does not open any more." : outcome.problem.detail);
    desk.freshness.value += 1;
  };
  return (
    <>
      <p role="status">{says}</p>
      <Shown view={view}>
        {(links) =>
          links.length > 0 && (
            <ul class="rows">
              {links.map(({ id, made, until }) => (
                <li key={id} class="row">
                  <span>
                    Link made {dateAndTime(made, zone)}, opens until {dateAndTime(until, zone)}
                  </span>
                  <button type="button" onClick={() => void shut(id)}>
                    Shut this link
                  </button>
                </li>
              ))}
            </ul>
          )
        }
      </Shown>
    </>
  );
};

/** Links by which the supplier sees this one record: made here for some days, listed, and shut. */
export const SupplierLinks = (props: { delivery: string; number: number }) => {
  const { delivery, number } = props;
  const { change } = useChange();
  const [open, unfold] = useState(false);
  const [days, choose] = useState<(typeof lengths)[number][0]>("14");
  const [link, setLink] = useState<string | null>(null);
  const make = async () => {
    const made = await change("linkRecord", { delivery, number }, { days: Number(days) }, "Link made.");
    if (made) setLink(made.address);
  };
  return (
    <details onToggle={(event) => unfold(event.currentTarget.open)}>
      <summary>Link for the supplier to No. {number}</summary>
      <p>Whoever has the link sees this record and its files, and nothing else, while this computer can be reached.</p>
      <Pick label="It opens for" of={lengths} value={days} onChoose={choose} />
      <div class="buttons">
        <button type="button" onClick={() => void make()}>
          Make a link
        </button>
      </div>
      {link && (
        <>
          <TextToCopy label={`Link to No. ${number}`} text={link} rows={2} />
          <p class="quiet">Copy it now: it is not shown again.</p>
        </>
      )}
      {open && <OpenLinks delivery={delivery} number={number} />}
    </details>
  );
};
