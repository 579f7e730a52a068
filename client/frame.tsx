import type { ComponentChildren } from "preact";
import { useEffect } from "preact/hooks";
import { useLocation } from "preact-iso";
import { Banners } from "./banners.tsx";
import { ConflictDialog } from "./conflict/conflict-dialog.tsx";
import { type Desk, useDesk } from "./desk.ts";
import { Icon, type IconName } from "./icon.tsx";
import { listen } from "./live.ts";
import { NoticeBar } from "./notice-bar.tsx";
import { ThisDevice } from "./people/this-device.tsx";
import { WaitingPhotos } from "./waiting-photos.tsx";
import { WhoDialog } from "./who-dialog.tsx";

const places: readonly (readonly [path: string, says: string, icon: IconName])[] = [
  ["", "Delivery", "count"],
  ["/unwrap", "Unwrap", "unwrap"],
  ["/match", "Match", "matching"],
  ["/returns", "Returns", "record"],
];

const deliveryIn = (path: string): string | null => /^\/d\/([^/]+)/.exec(path)?.[1] ?? null;

const useLive = (desk: Desk, delivery: string | null) =>
  useEffect(() => {
    if (!delivery) return;
    const stop = listen(delivery, (event) => {
      if (event.kind === "planning") {
        desk.planning.value = event.planning;
        if (event.planning) return;
      }
      if (event.kind === "progress") {
        const before = desk.progress.value;
        desk.progress.value = event.progress;
        if (before?.solvedAt === event.progress.solvedAt && before?.waiting === event.progress.waiting) return;
      }
      desk.freshness.value += 1;
    });
    return () => {
      stop();
      desk.progress.value = null;
      desk.planning.value = null;
    };
  }, [desk, delivery]);

const Places = (props: { delivery: string; path: string }) => (
  <nav class="places" aria-label="Screens of this delivery">
    {places.map(([path, says, icon]) => {
      const href = `/d/${props.delivery}${path}`;
      const here = path === "" ? props.path === href : props.path.startsWith(href);
      return (
        <a key={path} href={href} aria-current={here ? "page" : undefined}>
          <Icon name={icon} /> {says}
        </a>
      );
    })}
  </nav>
);

/** What stands round every screen: where one is, what waits on this device, what was just done. */
export const Frame = (props: { children: ComponentChildren }) => {
  const desk = useDesk();
  const { path } = useLocation();
  const delivery = desk.standing.value === "in" ? deliveryIn(path) : null;
  useLive(desk, delivery);
  useEffect(() => {
    document.querySelector("main")?.focus({ preventScroll: true });
    scrollTo(0, 0);
  }, [path]);
  const measuring = desk.progress.value;
  return (
    <div class={delivery ? "frame" : "frame alone"}>
      <a class="skip" href="#main">
        To the content
      </a>
      <header>
        <a class="home" href="/">
          <svg viewBox="0 0 24 24" aria-hidden="true">
            <path d="M6 2h12v20H6zM8.500 5h2.500v6h-2.500zM13 5h2.500v6h-2.500zM8.500 14h2.500v5h-2.500zM13 14h2.500v5h-2.500z" />
          </svg>
          <span>Leafledger</span>
        </a>
        <WaitingPhotos />
        <ThisDevice />
        {delivery && measuring && measuring.waiting > 0 && (
          <span class="quiet measuring">
            Measuring: {measuring.measured} done, {measuring.waiting} to go
          </span>
        )}
      </header>
      <Banners />
      {delivery && <Places delivery={delivery} path={path} />}
      <main id="main" tabIndex={-1}>
        {props.children}
      </main>
      <NoticeBar />
      <WhoDialog />
      <ConflictDialog />
    </div>
  );
};
