import { render } from "preact";
import { App } from "./app.tsx";
import { openDesk } from "./desk.ts";
import { openKeptViews } from "./kept-views.ts";
import { watchVersion } from "./new-version.ts";
import { openPhotoShelf } from "./photo-shelf.ts";
import { sendPhoto } from "./send-photo.ts";
import { learnState } from "./standing.ts";
import { openUploadQueue } from "./upload-queue.ts";

const retryMs = 20_000;
const stateMs = 60_000;

const start = async () => {
  const queue = await openUploadQueue(await openPhotoShelf(), sendPhoto, () => {
    desk.freshness.value += 1;
  });
  const desk = openDesk(queue, await openKeptViews());
  const learn = () => learnState(desk);
  const tryAgain = () => void queue.sendWaiting();
  addEventListener("online", tryAgain);
  document.addEventListener("visibilitychange", tryAgain);
  setInterval(tryAgain, retryMs);
  setInterval(() => void learn(), stateMs);
  void learn().then(tryAgain);
  void navigator.storage?.persist?.();
  void watchVersion((load) => {
    desk.newVersion.value = load;
  });
  render(<App desk={desk} />, document.body);
};

if (location.pathname === "/r") void import("./screens/guest.tsx").then(({ showGuest }) => showGuest(document.body));
else void start();
