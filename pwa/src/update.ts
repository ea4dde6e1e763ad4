/** The worker's manners: registered once, a newer one waits until the member takes it. */

/** A chunk of an old version may be gone after an update: load the page anew, once. */
function reloadOnceOnMissingChunk(leave: () => void): void {
  window.addEventListener("vite:preloadError", (event) => {
    if (sessionStorage.getItem("reloaded")) return;
    sessionStorage.setItem("reloaded", "yes");
    event.preventDefault();
    leave();
  });
}

function watch(registration: ServiceWorkerRegistration, waits: () => void): void {
  const told = (): void => {
    if (registration.waiting && navigator.serviceWorker.controller) waits();
  };
  told();
  registration.addEventListener("updatefound", () => {
    registration.installing?.addEventListener("statechange", told);
  });
  document.addEventListener("visibilitychange", () => {
    if (document.visibilityState === "visible") registration.update().catch(() => undefined);
  });
}

/** Asks for a newer version and waits until it is laid up; without signal nothing comes of it. */
async function fetchNewer(registration: ServiceWorkerRegistration): Promise<void> {
  await registration.update().catch(() => undefined);
  const fresh = registration.installing;
  if (!fresh) return;
  await new Promise<void>((laidUp) => {
    fresh.addEventListener("statechange", () => fresh.state !== "installing" && laidUp());
  });
}

/**
 * Registers the worker; `waits` is called when a newer version is ready. Gives the act that
 * starts that version and loads the page anew: never done unasked, so no draft is lost.
 */
export async function registerWorker(waits: () => void): Promise<() => Promise<void>> {
  const reload = async (): Promise<void> => {
    window.dispatchEvent(new Event("leaving"));
    location.reload();
  };
  reloadOnceOnMissingChunk(() => void reload());
  if (!import.meta.env.PROD || !("serviceWorker" in navigator)) return reload;
  try {
    const registration = await navigator.serviceWorker.register("/sw.js", { updateViaCache: "none" });
    watch(registration, waits);
    return async () => {
      if (!registration.waiting) await fetchNewer(registration);
      if (!registration.waiting) return reload();
      navigator.serviceWorker.addEventListener("controllerchange", () => void reload(), { once: true });
      registration.waiting.postMessage("take over");
    };
  } catch {
    // Refused by the browser (private window, no certificate): the page works, only not offline.
    return reload;
  }
}
