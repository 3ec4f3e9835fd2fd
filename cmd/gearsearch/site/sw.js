// The page's service worker: once the page has come from a server, it opens
// without one. What stands in front of this file is made with the page: held has
// its version, its files, and the large ones that are fetched when they are wanted.
//
// In:  "large"     hold the large files too
//      "take over" serve the pages that are open, in the place of an older worker
//
// The files of one version are held together, so that a page never gets a part
// of another. A newer version waits until no page of the older one is open, or
// until the reader wants it.
(() => {
  const home = registration.scope;
  const all = "gearsearch " + home + " ";
  const store = () => caches.open(all + held.version);
  // The server is asked whether what the browser has of a file is still right.
  const fresh = (name) => new Request(new URL(name, home), { cache: "no-cache" });

  oninstall = (event) => event.waitUntil(store().then((cache) => cache.addAll(held.files.map(fresh))));

  async function clear() {
    const old = (await caches.keys()).filter((name) => name.startsWith(all) && name !== all + held.version);
    await Promise.all(old.map((name) => caches.delete(name)));
    await clients.claim();
  }
  onactivate = (event) => event.waitUntil(clear());

  async function large() {
    const cache = await store();
    for (const name of held.large) if (!(await cache.match(new URL(name, home), { ignoreVary: true }))) await cache.add(fresh(name));
  }

  onmessage = (event) => {
    if (event.data === "large") event.waitUntil(large().catch(() => {})); // without a network it stays for later
    if (event.data === "take over") skipWaiting();
  };

  // own is the address that a file of the page is held under; "" for what is
  // not the page's.
  function own(request) {
    const url = new URL(request.url);
    url.hash = url.search = "";
    if (request.method !== "GET" || !url.href.startsWith(home)) return "";
    const name = url.href.slice(home.length);
    if (name === "" || name === "index.html") return home;
    return [...held.files, ...held.large].includes(name) ? url.href : "";
  }

  async function serve(request, address) {
    const cache = await store();
    const there = await cache.match(address, { ignoreVary: true });
    if (there) return there;
    const came = await fetch(request);
    if (came.ok && held.large.some((name) => address.endsWith("/" + name))) await cache.put(address, came.clone());
    return came;
  }

  onfetch = (event) => {
    const address = own(event.request);
    if (address) event.respondWith(serve(event.request, address));
  };
})();
