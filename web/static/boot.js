// Watches the app start and says so when it does not. It stands outside the
// app so that it works when the app cannot.
"use strict";
(() => {
  // A late start is said after this time (ms).
  const PATIENCE = 5000;
  const boot = document.getElementById("boot");
  let started = false;

  const show = (id, shown) => {
    document.getElementById(id).hidden = !shown;
  };

  // The work, but never longer than the patience; a weak signal must not hold a reload up.
  const soon = (work) => Promise.race([work, new Promise((done) => setTimeout(done, PATIENCE))]);
  const settled = (worker) =>
    new Promise((done) => {
      const look = () => worker.state !== "installing" && done();
      worker.addEventListener("statechange", look);
      look();
    });
  const newest = async (kept) => {
    await kept.update();
    if (kept.installing) await settled(kept.installing);
  };

  // Reload into the newest version: it may mend what stopped this one.
  const reload = async ({ currentTarget: button }) => {
    button.disabled = true;
    const workers = navigator.serviceWorker;
    const kept = workers && (await workers.getRegistration().catch(() => undefined));
    // Without a signal there is nothing newer, and this one is tried again.
    if (kept) await soon(newest(kept).catch(() => {}));
    if (kept && kept.waiting) {
      workers.addEventListener("controllerchange", () => location.reload(), { once: true });
      kept.waiting.postMessage("SKIP");
    } else {
      location.reload();
    }
  };
  document.querySelectorAll("button.reload").forEach((button) => button.addEventListener("click", reload));

  if (location.protocol === "file:") {
    show("boot-wait", false);
    show("boot-file", true);
    return;
  }

  const late = setTimeout(() => show("boot-late", true), PATIENCE);
  const failed = () => {
    if (started) return;
    clearTimeout(late);
    boot.hidden = true;
    show("crash", true);
    // The app keeps itself for offline use once it runs. This one does not run, so the
    // look for a mended version must come from here; without a signal it may fail.
    if (navigator.serviceWorker) {
      navigator.serviceWorker.register("sw.js", { updateViaCache: "none" }).catch(() => {});
    }
  };
  // In the capture phase, because a script that cannot be fetched does not bubble.
  addEventListener("error", failed, true);
  addEventListener("unhandledrejection", failed);
  addEventListener("TrunkApplicationStarted", () => {
    started = true;
    clearTimeout(late);
    boot.hidden = true;
  });
})();
