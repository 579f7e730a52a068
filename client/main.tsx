import { render } from "preact";
import { App } from "./app.tsx";
import { openDesk } from "./desk.ts";
import { openPhotoShelf } from "./photo-shelf.ts";
import { sendPhoto } from "./send-photo.ts";
import { openUploadQueue } from "./upload-queue.ts";

const retryMs = 20_000;

const start = async () => {
  const queue = await openUploadQueue(await openPhotoShelf(), sendPhoto, () => {
    desk.freshness.value += 1;
  });
  const desk = openDesk(queue);
  const tryAgain = () => void queue.sendWaiting();
  addEventListener("online", tryAgain);
  document.addEventListener("visibilitychange", tryAgain);
  setInterval(tryAgain, retryMs);
  tryAgain();
  void navigator.storage?.persist?.();
  render(<App desk={desk} />, document.body);
};

void start();
