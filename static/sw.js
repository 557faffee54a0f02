// The service worker: keeps complete versions of the site on the device and
// answers from the one in use. Three rules:
//
//   1. A version is stored whole, every byte compared with its hash, or not at all.
//   2. The version in use changes only when the page says "switch", that is, when
//      the person said yes. Which one is in use is written down in the store and
//      does not depend on which worker the browser happens to run.
//   3. The network is asked only for what is not in the version in use.
//
// Cache names carry the path of the site: several sites may share one host.
"use strict";

const version = "{{VERSION}}";
const files = {{FILES}}; // path → SHA-256 of what is stored
const later = {{LATER}}; // the same of the languages; the page stores the one that is chosen
// Fetched packed and stored unpacked, with this type: nothing to unpack at a start.
const packed = {
  "app.wasm": { ending: ".br", type: "application/wasm", unpack: unbrotli },
  "licences.txt": { ending: ".gz", type: "text/plain; charset=utf-8", unpack: gunzip },
};
for (const path of ["words-en.json", ...Object.keys(later)]) {
  packed[path] = { ending: ".gz", type: "application/json", unpack: gunzip };
}

const base = new URL("./", self.location.href);
// As in boot.js: where a host sends the page's policy, importScripts asks for one too.
self.trustedTypes?.createPolicy("default", {
  createScriptURL: (url) => new URL(url, base).href.startsWith(base.href) ? String(url) : null,
});
const storeName = (v) => `twoneedles ${base.pathname} ${v}`;
const address = (path) => new URL(path, base);

self.addEventListener("install", (event) => event.waitUntil(install()));
self.addEventListener("activate", (event) => event.waitUntil(activate()));
self.addEventListener("message", (event) => event.waitUntil(hear(event)));
self.addEventListener("notificationclick", (event) => event.waitUntil(comeBack(event.notification)));
self.addEventListener("fetch", (event) => {
  const url = new URL(event.request.url);
  const ours = url.origin === base.origin && url.pathname.startsWith(base.pathname);
  if (ours && event.request.method === "GET") event.respondWith(answer(event.request, url));
});

// ---- Which version is in use ----------------------------------------------

let inUse = ""; // remembered for the life of this worker

async function versionInUse() {
  if (inUse) return inUse;
  const note = await (await caches.open(storeName("in use"))).match(address("version"));
  inUse = note ? await note.text() : "";
  return inUse;
}

async function use(v) {
  await (await caches.open(storeName("in use"))).put(address("version"), new Response(v));
  inUse = v;
}

// ---- Storing a version ----------------------------------------------------

async function install() {
  const store = await caches.open(storeName(version));
  const old = await versionInUse();
  const before = old && (await caches.has(storeName(old))) && (await caches.open(storeName(old)));
  const wanted = Object.entries(files);
  // A language that was chosen goes along with the version.
  for (const [path, hash] of Object.entries(later)) {
    if (before && (await before.match(address(path)))) wanted.push([path, hash]);
  }
  // All are waited for, even if one fails: what came is kept for the next attempt.
  const tried = await Promise.allSettled(wanted.map(([path, hash]) => keep(store, path, hash)));
  const failed = tried.find((k) => k.status === "rejected");
  if (failed) throw failed.reason;
  if (!before) await use(version);
  await self.skipWaiting(); // safe: this worker goes on serving the version in use
}

// keep stores one file unless it is there already, from the page or from an
// earlier attempt that broke off. What the browser has just loaded for the page is
// good enough if its hash is right; if not, the host is asked past all caches.
async function keep(store, path, hash) {
  const there = await store.match(address(path));
  if (there && (await sha256(await there.arrayBuffer())) === hash) return;
  for (const cache of ["default", "reload"]) {
    const response = await fetch(address(path + (packed[path] ? packed[path].ending : "") + "?v=" + version), { cache });
    if (!response.ok) continue;
    // Some hosts declare a packed file to be an encoding, and the browser has then
    // unpacked it; others pack it once more, and not every browser unpacks that: so compare
    // first, and unpack what does not match.
    let bytes = await response.arrayBuffer().catch(() => new ArrayBuffer(0)); // broke off, or is not packed as was declared
    let right = (await sha256(bytes)) === hash;
    for (let layer = 0; !right && packed[path] && layer < 2; layer++) {
      bytes = await packed[path].unpack(bytes).catch(() => new ArrayBuffer(0));
      right = (await sha256(bytes)) === hash;
    }
    if (!right) continue;
    const type = packed[path] ? packed[path].type : response.headers.get("Content-Type");
    return store.put(address(path), new Response(bytes, { headers: { "Content-Type": type } }));
  }
  throw new Error(`${path} of version ${version} is not to be had`);
}

async function gunzip(bytes) {
  const stream = new Blob([bytes]).stream().pipeThrough(new DecompressionStream("gzip"));
  return new Response(stream).arrayBuffer();
}

// On a first visit the page has stored the program already, so that the decoder is
// loaded for an update only. It holds this worker up for about half a second.
async function unbrotli(bytes) {
  if (!self.unbrotliNow) importScripts("unpack.js?v=" + version);
  return self.unbrotliNow(bytes).buffer;
}

async function sha256(bytes) {
  const digest = new Uint8Array(await crypto.subtle.digest("SHA-256", bytes));
  return Array.from(digest, (b) => b.toString(16).padStart(2, "0")).join("");
}

async function activate() {
  await self.clients.claim();
  await tidy();
  await tellPages({ newest: version, arrived: true });
}

// tidy deletes what is neither in use nor waiting to be.
async function tidy() {
  const wanted = [storeName("in use"), storeName(await versionInUse()), storeName(version)];
  for (const name of await caches.keys()) {
    if (name.startsWith(storeName("")) && !wanted.includes(name)) await caches.delete(name);
  }
}

// ---- Talking with the pages -----------------------------------------------

async function hear(event) {
  if (event.data === "state?") event.source.postMessage({ newest: version });
  if (event.data === "switch") {
    await use(version);
    await tidy();
    event.ports[0].postMessage("switched");
    await tellPages({ newest: version });
  }
}

// comeBack brings the page to the front that called the person back.
async function comeBack(notice) {
  notice.close();
  const pages = await self.clients.matchAll({ type: "window" });
  if (pages.length) await pages[0].focus();
}

async function tellPages(news) {
  for (const page of await self.clients.matchAll({ type: "window" })) page.postMessage(news);
}

// ---- Answering ------------------------------------------------------------

async function answer(request, url) {
  const path = url.pathname.slice(base.pathname.length);
  const store = await caches.open(storeName(await versionInUse()));
  // Matched by path alone: a query is never part of what we keep.
  const there = await store.match(address(path || "index.html"));
  if (there) return there;
  if (request.mode !== "navigate") {
    // Said in the answer, because a page cannot see why a fetch failed.
    return fetch(request).catch(() => new Response(null, { status: 504, statusText: "neither in the store nor on the network" }));
  }
  if (/^[^/]+\/+$/.test(path)) return Response.redirect(address(path.replace(/\/+$/, "") + url.search));
  const page = path.includes("/") ? null : await store.match(address("index.html"));
  return page || fetch(request).catch(() => Response.redirect(base));
}
