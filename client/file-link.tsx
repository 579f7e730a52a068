import type { ComponentChildren } from "preact";
import { Icon } from "./icon.tsx";

/** Opens a file of the server in a tab of its own: what was typed on this screen stays, and the router leaves the link alone. */
export const FileLink = (props: { href: string; children: ComponentChildren }) => (
  <a class="button" href={props.href} target="_blank" rel="noreferrer">
    <Icon name="record" /> {props.children}
  </a>
);
