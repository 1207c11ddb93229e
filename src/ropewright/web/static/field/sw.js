// Keeps the app on the phone.  A new version is fetched as a whole beside the old one and takes
// over at the next start: never half of one and half of the other.

const FILES = [
  "./", "app.css", "clusters.js", "coverage.js", "dom.js", "entries.js", "evaluate.js", "exact.js", "found.js",
  "icon.svg", "index.html", "keypad.js", "main.js", "manifest.webmanifest", "pieces.js",
  "places.js", "rulings.js", "screens/begin.js", "screens/cluster.js", "screens/damage.js",
  "screens/end.js", "screens/hold.js", "screens/mark.js", "screens/measure.js", "screens/open.js",
  "screens/pass.js", "screens/place.js", "screens/plan.js", "screens/ropes.js",
  "screens/settings.js", "screens/shift.js", "screens/waiting.js", "screens/what.js",
  "sections.js", "session.js", "signs.js", "store.js", "sync.js", "texts.js", "units.js",
  "windows.js",
];
const TEXTS = "/api/texts/en.json";
const PHOTOS = "photos";

const base = new URL("./", self.location).href;
const addresses = [...FILES.map((name) => new URL(name, base).href), new URL(TEXTS, base).href];

async function fetchAll() {
  const name = `app-${Math.max(0, ...(await versions()).map(numberOf)) + 1}`;
  const cache = await caches.open(name);
  await cache.addAll(addresses.map((address) => new Request(address, { cache: "no-cache" })));
  await cache.put(new URL("complete", base).href, new Response("yes"));
  return name;
}

// Versions are counted, not dated: a phone's clock may be set back.
const numberOf = (name) => Number(name.slice(4));
const versions = async () => (await caches.keys()).filter((name) => /^app-\d+$/.test(name));

async function complete() {
  const names = (await versions()).sort((a, b) => numberOf(b) - numberOf(a));
  for (const name of names) {
    if (await (await caches.open(name)).match(new URL("complete", base).href)) return name;
  }
  return null;
}

async function tidy(kept) {
  for (const name of await caches.keys()) {
    if (name.startsWith("app-") && name !== kept) await caches.delete(name);
  }
}

self.addEventListener("install", (event) => {
  event.waitUntil(fetchAll().then(() => self.skipWaiting()));
});
self.addEventListener("activate", (event) => {
  event.waitUntil(complete().then(tidy).then(() => self.clients.claim()));
});

// The page says when it has started: then there is time to look for a newer version.
let serving = null;
self.addEventListener("message", (event) => {
  if (event.data === "look for a newer version") {
    event.waitUntil(fetchAll().catch(() => {}));
  }
});

self.addEventListener("fetch", (event) => {
  const { request } = event;
  const url = new URL(request.url);
  if (request.method !== "GET" || url.origin !== self.location.origin) return;
  if (url.pathname.startsWith("/api/v1/photos/")) event.respondWith(photo(request));
  else if (addresses.includes(url.origin + url.pathname)) event.respondWith(own(request, url));
  if (request.mode === "navigate") event.waitUntil(complete().then(tidy));
});

async function own(request, url) {
  if (request.mode === "navigate" || serving === null) serving = await complete();
  const held = serving && (await (await caches.open(serving)).match(url.origin + url.pathname));
  return held ?? fetch(request);
}

async function photo(request) {
  const cache = await caches.open(PHOTOS);
  const held = await cache.match(request);
  if (held) return held;
  const answer = await fetch(request);
  if (answer.ok) await cache.put(request, answer.clone());
  return answer;
}
