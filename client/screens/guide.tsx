import { address } from "../api.ts";
import { FileLink } from "../file-link.tsx";

/** How to take photos that can be measured. */
export const Guide = () => (
  <article class="guide">
    <h1>How to photograph a leaf</h1>
    <svg
      class="guide-drawing"
      viewBox="0 0 360 220"
      role="img"
      aria-label="A leaf stands upright and square to the phone; the card is held on the face, the light comes from the side"
    >
      <path class="floor" d="M10 200h340" />
      <path class="drawn" d="M70 30l66-6v172l-66 4z" />
      <rect class="card" x="88" y="92" width="28" height="40" />
      <path class="ray" d="M20 40l34 22M20 80l34 12M20 120l34 2" />
      <rect class="drawn" x="296" y="92" width="16" height="30" rx="3" />
      <path class="sight" d="M292 98L138 26M292 116L138 194" />
      <text x="16" y="24">
        window
      </text>
      <text x="84" y="216">
        leaf upright
      </text>
      <text x="354" y="146" text-anchor="end">
        phone level
      </text>
      <text x="354" y="164" text-anchor="end">
        with the middle
      </text>
    </svg>
    <h2>The card</h2>
    <p>
      Hold the printed card, a grey card or a 24-patch chart <strong>on the face of the leaf</strong>: there it stands
      in the same light as the timber. Beside the leaf is second best. No shadow of a hand on it, and all of it in the
      picture.
    </p>
    <p>
      <FileLink href={address("cardSheet", {})}>Card to print (A4)</FileLink>
    </p>
    <h2>The leaf</h2>
    <ul>
      <li>Upright, on two carded blocks, held or strapped. Always the same way up, on the same spot.</li>
      <li>All four corners in the picture, the phone level with the middle, about 3 m back.</li>
      <li>Dust wiped off with a dry soft cloth.</li>
    </ul>
    <h2>The light</h2>
    <ul>
      <li>One kind of light: a north window or open shade. Lamps off, no flash, no sun on the leaf.</li>
      <li>If a lamp mirrors in the lacquer, step aside until the shine has left the face.</li>
      <li>Stand coloured things away: hi-vis, blue wrap, painted walls throw their colour onto the timber.</li>
    </ul>
    <h2>No card at hand?</h2>
    <p>
      Stand three to five leaves side by side in one picture, and let one of them stand in the next picture too. Leaves
      seen together are compared in the same light, so their differences are sure even without a card.
    </p>
    <h2>How far can the colours be trusted?</h2>
    <p>
      Photograph one face of three leaves, each three times, setting phone and card up anew each time. “How repeatable
      are my photos?” on the delivery's page then says from where on a difference means something.
    </p>
    <h2>The phone</h2>
    <ul>
      <li>One phone and one lens for the whole job. Original photos, not previews or pictures sent by message.</li>
      <li>
        A torch held along the face finds dents; say so in the note. It finds, daylight at the agreed distance decides.
      </li>
      <li>No phone work on steps or ladders.</li>
    </ul>
  </article>
);
