import { useEffect, useState } from "preact/hooks";
import type { Reply } from "../../server/contract/calls.ts";
import { call } from "../api.ts";
import { Pick, TextField } from "../fields.tsx";
import { inGroups } from "./pairing-code.ts";

type Offer = Reply<"offerPairing">;
type Standing = Reply<"offers">[number];

const roles = [
  ["hand", "Site hand: photographs, counts, marks, unwraps"],
  ["foreman", "Foreman: decides, issues, lets others in"],
] as const;

const lookEveryMs = 3000;

/** How an offer stands now: the seconds it has left, or null once it was used or ran out. */
const useStanding = (offer: Offer): Standing | null => {
  const [now, look] = useState<Standing | null>(offer);
  useEffect(() => {
    look(offer);
    const timer = setInterval(() => {
      void call("offers", {}).then((outcome) => {
        if (outcome.kind === "ok") look(outcome.value.find(({ id }) => id === offer.id) ?? null);
      });
    }, lookEveryMs);
    return () => clearInterval(timer);
  }, [offer]);
  return now;
};

const timeLeft = (seconds: number): string =>
  seconds >= 120 ? `${Math.floor(seconds / 60)} minutes` : `${Math.max(0, Math.round(seconds))} seconds`;

/** The picture and the code of one offer, and for how long they open. */
const OpenOffer = (props: { offer: Offer }) => {
  const { offer } = props;
  const now = useStanding(offer);
  const onlyHere = /^http:\/\/(localhost|127\.)/.test(offer.address);
  if (!now) return <p class="plate">{offer.device}: the code was used or has run out.</p>;
  return (
    <div class="plate offer">
      <img
        src={`data:image/svg+xml;utf8,${encodeURIComponent(offer.qr)}`}
        alt="QR code that lets the device in"
        width="220"
        height="220"
      />
      <div>
        <p>
          Let {offer.device} scan the picture, or open <strong>{new URL("/pair", offer.address).href}</strong> there and
          type
        </p>
        <p class="pairing-code">{now.codeVoid ? "tried too often: make a new one" : inGroups(offer.code)}</p>
        <p class="quiet">It lets one device in, for {timeLeft(now.secondsLeft)} more.</p>
        {onlyHere && (
          <p class="warn">
            This laptop answers to itself only, so no phone can open that address. Stop the server and start it with{" "}
            <code>leafledger serve --host 0.0.0.0 --cert</code>.
          </p>
        )}
      </div>
    </div>
  );
};

/** Lets another device in: for which work, on which delivery, and what it is called. */
export const NewOffer = (props: { deliveries: Reply<"listDeliveries"> }) => {
  const [role, setRole] = useState<(typeof roles)[number][0]>("hand");
  const [delivery, setDelivery] = useState("");
  const [device, setDevice] = useState("phone");
  const [offer, setOffer] = useState<Offer | null>(null);
  const [says, say] = useState("");
  const make = async () => {
    const outcome = await call(
      "offerPairing",
      {},
      { role, delivery: delivery || null, device: device.trim() || "phone" },
    );
    if (outcome.kind === "ok") setOffer(outcome.value);
    say(
      outcome.kind === "refused"
        ? outcome.problem.detail
        : outcome.kind === "unreachable"
          ? "The laptop cannot be reached; try again."
          : "",
    );
  };
  return (
    <section aria-label="Let another device in">
      <h2>Let another device in</h2>
      <form
        onSubmit={(event) => {
          event.preventDefault();
          void make();
        }}
      >
        <Pick label="For" value={role} of={roles} onChoose={setRole} />
        <Pick
          label="Delivery"
          value={delivery}
          of={[["", "All deliveries"], ...props.deliveries.map(({ id, name }) => [id, name] as const)]}
          onChoose={setDelivery}
        />
        <TextField label="What the device is called" value={device} onInput={setDevice} required />
        <div class="buttons">
          <button type="submit" class="main">
            Make a code
          </button>
        </div>
      </form>
      <p role="status">{says}</p>
      {offer && <OpenOffer offer={offer} />}
      <p class="quiet">
        Phones need the certificate that this laptop made for itself. It keeps what they send from being read or changed
        on the site's network; it does not say who the laptop belongs to, so load it only from your own laptop.
      </p>
    </section>
  );
};
