import type { ComponentChildren } from "preact";

/** What may be wider than the screen: it scrolls sideways, by keyboard too. */
export const Scroll = (props: { label: string; class?: string; children: ComponentChildren }) => (
  // biome-ignore lint/a11y/noNoninteractiveTabindex: the keyboard scrolls only what can hold the focus
  <section class={props.class ?? "scroll"} tabIndex={0} aria-label={props.label}>
    {props.children}
  </section>
);
