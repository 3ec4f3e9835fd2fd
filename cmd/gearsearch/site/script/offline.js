"use strict";

// offline has the browser hold a page that comes from a server, so that it opens
// without the server too, and tells when a newer one is there.
const offline = (() => {
  const el = dom.el;
  const rest = 5000; // ms until the large files are fetched: first things first
  let begun = false;

  const tell = (...what) => dom.put(dom.byId("offline"), what);

  // newer offers a version of the page that has come and waits.
  function newer(worker) {
    tell("A newer version of this page is there. ", el("button", { type: "button", class: "quiet", onclick: () => worker.postMessage("take over") }, "Load it"));
    navigator.serviceWorker.addEventListener("controllerchange", () => location.reload(), { once: true });
  }

  const holds = () => tell("This page opens without a network too.");

  function watch(registration) {
    const coming = (worker) => worker.addEventListener("statechange", () => {
      if (worker.state === "installed" && registration.active) newer(worker);
    });
    if (registration.waiting) return newer(registration.waiting);
    if (registration.installing) coming(registration.installing);
    registration.addEventListener("updatefound", () => coming(registration.installing));
  }

  // start is called when the page has nothing more urgent to do.
  async function start() {
    if (begun || !globalThis.gearsearchPage.folder || location.protocol === "file:" || !navigator.serviceWorker) return;
    begun = true;
    try {
      const registration = await navigator.serviceWorker.register("sw.js");
      watch(registration);
      const ready = await navigator.serviceWorker.ready;
      if (!registration.waiting) holds();
      if (!navigator.connection || !navigator.connection.saveData) setTimeout(() => ready.active.postMessage("large"), rest);
    } catch (error) {
      tell(); // a browser that gives pages no room; the page works as it does
    }
  }

  return { start };
})();
