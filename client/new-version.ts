/**
 * Keeps the page on the device for when there is no signal (https or this very computer only), and tells when a newer version of it has
 * come. `found` gets what loads that version: called by a tap, never by itself, so that no work is interrupted.
 */
export const watchVersion = async (found: (load: () => void) => void): Promise<void> => {
  if (!navigator.serviceWorker) return;
  const registration = await navigator.serviceWorker.register("/sw.js").catch(() => null);
  if (!registration) return;
  const tell = () => {
    const { waiting } = registration;
    // The first version ever has nothing to take over from.
    if (!waiting || !navigator.serviceWorker.controller) return;
    found(() => {
      navigator.serviceWorker.addEventListener("controllerchange", () => location.reload(), { once: true });
      waiting.postMessage("take over");
    });
  };
  tell();
  registration.addEventListener("updatefound", () => registration.installing?.addEventListener("statechange", tell));
  document.addEventListener("visibilitychange", () => {
    if (document.visibilityState === "visible") void registration.update().catch(() => undefined);
  });
};
