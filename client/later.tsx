import type { FunctionComponent } from "preact";
import { useEffect, useState } from "preact/hooks";
import { Icon } from "./icon.tsx";

/** A screen whose script comes when it is first opened, so that the first page need not wait for it. */
export const later = <Props extends object>(
  load: () => Promise<FunctionComponent<Props>>,
): FunctionComponent<Props> => {
  let there: FunctionComponent<Props> | null = null;
  return (props) => {
    const [state, turn] = useState<"coming" | "there" | "failed">(there ? "there" : "coming");
    useEffect(() => {
      if (there) return;
      let wanted = true;
      load().then(
        (screen) => {
          there = screen;
          if (wanted) turn("there");
        },
        () => wanted && turn("failed"),
      );
      return () => {
        wanted = false;
      };
    }, []);
    const Screen = there;
    if (Screen) return <Screen {...props} />;
    if (state === "failed")
      return (
        <>
          <h1>This screen did not load</h1>
          <p class="plate warn">
            <Icon name="warning" /> There is no signal, or Leafledger was renewed on the laptop since this page was
            opened. What you entered and the photos on this device are safe.
          </p>
          <button type="button" class="main" onClick={() => location.reload()}>
            <Icon name="again" /> Load again
          </button>
        </>
      );
    return (
      <p class="quiet" aria-busy="true">
        Opening …
      </p>
    );
  };
};
