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
      Hold the 24-patch chart, a grey card or the printed card <strong>on the face of the leaf</strong>: there it stands
      in the same light as the timber. Beside the leaf is second best, by a factor of two to three. No shadow of a hand
      on it, and all of it in the picture.
    </p>
    <ul>
      <li>
        A chart in every photo beats a grey card in every photo: the chart also shows which light it is and how the
        phone sees colours. Say once which edition it is, under Chart on the delivery’s first screen.
      </li>
      <li>
        The printed card alone ties photos to each other; a grey card clipped into its window tells its light, only a
        chart how the phone sees wood.
      </li>
    </ul>
    <p class="quiet">Measured on photos rendered with known colours, not on site.</p>
    <p>
      <FileLink href={address("cardSheet", {})}>Card to print (A4)</FileLink>
    </p>
    <p>Print it at 100 %, actual size: the rule on it must measure 100 mm.</p>
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
    <h2>Line-ups</h2>
    <p>
      Stand three to five leaves side by side in one picture, and let one of them stand in the next picture too. Leaves
      seen together are compared in the same light, so line-ups that share faces tell differences better than single
      photos in changing light, and do so without any card. With a chart in them their colours are true as well.
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
