// The boot script: starts the Go program, keeps it for use without network, and
// says so when it dies. static/README.md is the contract with the Go side.
"use strict";

(() => {
  const version = "{{VERSION}}"; // of the contents
  const release = "{{RELEASE}}"; // for people
  // Bytes, for the progress bar, and the SHA-256 of what travels and of the program itself.
  const wasm = { packed: {{WASM_BR_SIZE}}, plain: {{WASM_SIZE}}, sums: ["{{WASM_BR_SUM}}", "{{WASM_SUM}}"] };
  const wordsOf = new Map(); // code → promise of its texts
  const languages = {{LANGUAGES}}; // { code, name, dir, base, sum }, English first
  const said = {{SAID}}; // { code: { key: text } } of index.html before a failure, which is in English
  const base = new URL("./", document.currentScript.src); // the site may live under any path
  const mine = "twoneedles."; // what our keys in localStorage start with
  const $ = (id) => document.getElementById(id);

  // Where the browser has Trusted Types: markup runs no script, since the page's policy
  // refuses those written into it; a script comes from our folder or not at all.
  window.trustedTypes?.createPolicy("default", {
    createHTML: (markup) => markup,
    createScriptURL: (url) => new URL(url, base).href.startsWith(base.href) ? String(url) : null,
  });

  // ---- Contract -----------------------------------------------------------

  const shell = {
    version,
    release,
    base: base.pathname,
    store: window.twoneedles?.store,
    offline: "", // "" | ready | unsupported | failed
    update: "", // the version that waits for a yes
    languages,
    language: "", // the one of texts
    wanted: "", // the one that was chosen; another than language where its words are not to be had
    texts: "", // what the program starts with
    fetchWords: (code) => words(code).then(flat),
    setLanguage,
    install: "", // "" | offered
    takeTyped,
    giveWay,
    applyUpdate,
    showInstall,
    checkForUpdate,
  };
  window.twoneedles = shell;

  function tell(what, value) {
    if (shell[what] === value) return;
    shell[what] = value;
    window.dispatchEvent(new CustomEvent("twoneedles:" + what));
    if (what === "update" && value) {
      window.goappOnUpdate();
      $("shell-newer").hidden = false; // seen only on the failure page
    }
  }

  // What go-app's program calls. It replaces goappNav and goappOnUpdate by its own.
  const env = {
    GOAPP_VERSION: version,
    GOAPP_ROOT_PREFIX: base.pathname.replace(/\/$/, ""),
    GOAPP_STATIC_RESOURCES_URL: base.pathname.replace(/\/$/, ""),
    GOAPP_INTERNAL_URLS: "[]",
  };
  window.goappGetenv = (name) => env[name];
  window.goappNav = () => {};
  window.goappUpdatedBeforeWasmLoaded = false;
  window.goappOnUpdate = () => { window.goappUpdatedBeforeWasmLoaded = true; };
  window.goappAppInstallChangedBeforeWasmLoaded = false;
  window.goappOnAppInstallChange = () => {};
  window.goappTryUpdate = checkForUpdate;

  // ---- Before the first paint ---------------------------------------------

  try {
    const theme = (localStorage.getItem(mine + "theme") || "").replaceAll('"', "");
    if (theme === "light" || theme === "dark") document.documentElement.dataset.theme = theme;
  } catch { /* storage denied: the device's own colours */ }

  // A folder's own page, /job/ or /index.html, is the same place as /job or /.
  const tidy = location.pathname.replace(/\/index\.html$/, "/").replace(/([^/])\/$/, "$1");
  const wanted = tidy + "/" === base.pathname ? base.pathname : tidy;
  if (wanted !== location.pathname) {
    for (const link of document.querySelectorAll("link:not([rel=stylesheet])")) link.href = link.href; // make absolute
    history.replaceState(null, "", wanted + location.search + location.hash);
  }

  // What of the page does not need the program speaks before the words have come, by those
  // that the build put in here: English is written in it.
  shell.wanted = wantedLanguage();
  let spoken = said[shell.wanted] || {};
  const firstWords = words(shell.wanted)
    .then((texts) => [shell.wanted, texts], () => words("en").then((texts) => ["en", texts]));
  firstWords.then(([code]) => setLanguage(code), () => {});

  // ---- The first fields ---------------------------------------------------

  // At the address of Readings its first fields stand before the program (#shell-early).
  // Whoever comes back finds in them what stood there last, in the units of then: the
  // program notes it (app/readings/early.go). What is typed now is noted at every key
  // until the program has it (app/page/typed.go): loading again keeps it. A link brings
  // readings of its own, and a device that was used and has no note shows other fields:
  // there the program comes first.
  const typed = noted("typing"), last = noted("first"); // texts by field; {texts, units, blank, about, invented}
  let fresh = Object.keys(typed).length > 0; // the program has not asked for all of it
  const known = Array.isArray(last.units);
  const units = known ? last.units : navigator.language.startsWith("en-US") ? ["psi", "F"] : ["bar", "C"]; // as firstUnits of app/page
  const early = new AbortController();
  const parsing = new MutationObserver(dress); // before anything of it is painted
  document.documentElement.toggleAttribute("data-early", wanted === base.pathname && !location.hash && (known || !wasUsed()));
  speak(shell.wanted, spoken);
  parsing.observe(document, { childList: true, subtree: true });
  addEventListener("DOMContentLoaded", () => parsing.disconnect());

  function noted(what) {
    try { return { ...JSON.parse(localStorage.getItem(mine + what)) }; } catch { return {}; }
  }

  function wasUsed() {
    try { return localStorage.getItem(mine + "database") !== null; } catch { return false; }
  }

  // dress brings what stands in the page by now to the language, the units and the texts.
  function dress() {
    for (const el of document.querySelectorAll("[data-words]")) put(el, spoken[el.dataset.words]);
    for (const el of document.querySelectorAll("[data-label]")) if (el.dataset.label in spoken) el.setAttribute("aria-label", spoken[el.dataset.label]);
    const fields = $("shell-early");
    if (!fields) return;
    const touched = Object.values(typed).some(Boolean), gone = touched && last.invented;
    for (const input of fields.querySelectorAll("input")) {
      const text = String(typed[input.id] ?? (gone ? "" : last.texts?.[input.id]) ?? "");
      if (input.value !== text) input.value = text;
      input.className = ["", "len1", "len2", "len3"][(text.length > 3) + (text.length > 5) + (text.length > 7)];
    }
    for (const button of fields.querySelectorAll(".units button")) {
      const at = units.indexOf(button.dataset.words.replace("unit.", ""));
      button.setAttribute("aria-pressed", at >= 0);
      if (at >= 0) for (const unit of fields.querySelectorAll([".pair", ".outside"][at] + " .unit")) {
        unit.dataset.words = button.dataset.words;
        put(unit, button.textContent);
      }
    }
    fields.querySelector(".example")?.classList.toggle("blank", last.blank !== false && !touched);
    put(fields.querySelector(".about"), !gone && last.about || "");
  }

  function put(el, text) {
    if (el && text !== undefined && el.textContent !== String(text)) el.textContent = text; // else the observer would not rest
  }

  const isEarly = (el) => el?.matches?.("#shell-early input");

  addEventListener("input", ({ target }) => {
    if (!isEarly(target)) return;
    typed[target.id] = target.value;
    fresh = true;
    try { localStorage.setItem(mine + "typing", JSON.stringify(typed)); } catch { /* the page alone keeps it */ }
    dress();
  }, { signal: early.signal });

  // Arriving selects the number, as selectAll of app/page; a press sets the caret only then.
  let arrived;
  addEventListener("focusin", ({ target }) => { if (isEarly(target)) (arrived = target).select(); }, { signal: early.signal });
  addEventListener("click", ({ target }) => {
    if (isEarly(target) && target === arrived) target.select();
    arrived = undefined;
  }, { signal: early.signal });

  addEventListener("keydown", (event) => { // as onEnter of app/page
    if (event.key !== "Enter" || !isEarly(event.target)) return;
    event.preventDefault();
    const fields = [...document.querySelectorAll("#shell-early input")];
    const next = event.target.id !== "ambient" && fields[fields.indexOf(event.target) + 1];
    if (next) next.focus(); else event.target.blur();
  }, { signal: early.signal });

  // takeTyped gives the texts that were typed, null where none is since it was asked last.
  function takeTyped() {
    const texts = fresh ? typed : null;
    fresh = false;
    return texts;
  }

  // giveWay lets the program's own fields, which it has drawn, take the place of these at
  // once, with the focus, the caret and the scroll; not where something was typed meanwhile.
  function giveWay() {
    if (fresh) return false;
    early.abort();
    const was = document.activeElement, fields = $("shell-early"), y = scrollY;
    const caret = isEarly(was) && [was.selectionStart, was.selectionEnd];
    document.documentElement.removeAttribute("data-early");
    const now = caret && document.querySelector(`#main #${was.id}`);
    if (now) {
      const hush = (event) => event.stopImmediatePropagation(); // arriving there selects the number
      addEventListener("focus", hush, true);
      now.focus({ preventScroll: true });
      now.setSelectionRange(...caret);
      removeEventListener("focus", hush, true);
    }
    fields?.remove();
    scrollTo(0, y);
    try { localStorage.removeItem(mine + "typing"); } catch { /* it never was there */ }
    return true;
  }

  addEventListener("DOMContentLoaded", start);

  const wait = (ms) => new Promise((wake) => setTimeout(wake, ms));

  // ---- The program --------------------------------------------------------

  async function start() {
    $("shell-reload").onclick = loadAgain;
    $("shell-newer").onclick = applyUpdate;
    $("shell-copy").onclick = copyStored;
    $("shell-aside").onclick = setAside;
    if (!window.WebAssembly || !window.Worker || !window.Go) {
      return fail("browser", "WebAssembly, workers or wasm_exec.js is missing");
    }
    let program;
    const go = new Go();
    const lastWords = keepLastWords();
    try {
      program = await WebAssembly.instantiateStreaming(fetchProgram(), go.importObject);
      const [code, texts] = await firstWords;
      shell.language = code;
      shell.texts = flat(texts);
    } catch (err) {
      // A stored page that cannot start may be cured by an update; another one by loading it
      // again, and a worker that begins to store when its page is left may never end (WebKit).
      if (fromStore) keepForOffline();
      return fail(err instanceof WebAssembly.CompileError ? "browser" : "download", String(err));
    }
    // A property that throws when it is read throws past Go, wherever it was called from.
    const resume = go._resume.bind(go);
    go._resume = () => {
      try { resume(); } catch (err) {
        if (!go.exited) fail("stopped", lastWords.join("\n") + "\n" + err);
        throw err;
      }
    };
    go.run(program.instance).then(
      () => fail("stopped", lastWords.join("\n")),
      (err) => fail("stopped", lastWords.join("\n") + "\n" + err));
    keepForOffline();
  }

  // ---- Words --------------------------------------------------------------

  // wantedLanguage is the one that was chosen on this device, else the first of the
  // browser's that we have, else English.
  function wantedLanguage() {
    let chosen = "";
    try { chosen = localStorage.getItem(mine + "language") || ""; } catch { /* storage denied */ }
    const have = (code) => languages.some((l) => l.code === code);
    for (const code of [chosen, ...navigator.languages]) {
      for (const near of [code, code.split("-")[0]]) if (have(near)) return near;
    }
    return "en";
  }

  // words gives the texts of a language by their keys; asked for again after a failure
  // it tries again.
  function words(code) {
    if (!wordsOf.has(code)) {
      const coming = joinedWords(languages.find((l) => l.code === code));
      wordsOf.set(code, coming);
      coming.catch(() => wordsOf.delete(code));
    }
    return wordsOf.get(code);
  }

  async function joinedWords(language) {
    const [own, base] = await Promise.all([wordsFile(language), language.base ? words(language.base) : {}]);
    return { ...base, ...own };
  }

  // wordsFile takes a language's file from the store of this version, else from the
  // host, and keeps it: whoever chose a language has it without network too.
  async function wordsFile({ code, sum }) {
    const address = new URL(`words-${code}.json`, base);
    let store;
    for (let attempt = 0; window.caches && window.isSecureContext && attempt < 3; attempt++) {
      try {
        store = await openStore();
        const kept = await store.match(address);
        if (kept) return await kept.json();
        break;
      } catch { await wait(300); } // as a browser does that is just starting, on a busy machine
    }
    for (const cache of ["default", "reload"]) { // what the browser has kept may be damaged
      const got = await fetch(`${address}.gz?v=${version}`, { cache }).catch(() => ({}));
      if (!got.ok) continue;
      let bytes = new Uint8Array(await got.arrayBuffer().catch(() => new ArrayBuffer(0)));
      // Unpacked already, where the host declared it an encoding; packed twice, where the host
      // packs whatever it sends and the browser takes the name for the reason (WebKitGTK).
      for (let layer = 0; layer < 2 && bytes[0] === 0x1f && bytes[1] === 0x8b; layer++) {
        bytes = new Uint8Array(await new Response(new Blob([bytes]).stream().pipeThrough(new DecompressionStream("gzip")))
          .arrayBuffer().catch(() => new ArrayBuffer(0)));
      }
      if (!bytes.length || !(await isRight(bytes, [sum]))) continue;
      if (store) await store.put(address, new Response(bytes, { headers: { "Content-Type": "application/json" } })).catch(() => {});
      return JSON.parse(new TextDecoder().decode(bytes));
    }
    throw new Error(`${address.pathname} of version ${version} is not to be had`);
  }

  // flat hands texts to the program in one piece: key, text, key, text.
  const flat = (texts) => Object.entries(texts).flat().join("\0");

  // setLanguage lets the document and what stands beside the program speak a language
  // whose words are here.
  async function setLanguage(code) { speak(code, await words(code)); }

  function speak(code, texts) {
    spoken = texts;
    document.documentElement.lang = code;
    document.documentElement.dir = languages.find((l) => l.code === code).dir;
    document.querySelector("link[rel=manifest]").href = new URL(code === "en" ? "manifest.webmanifest" : `manifest-${code}.webmanifest`, base);
    dress();
  }

  const fromStore = Boolean(navigator.serviceWorker && navigator.serviceWorker.controller);
  let firstCopy; // settled when the copy of a first visit is in the store, or is not to be

  // fetchProgram gives the program as a response of type application/wasm. Behind
  // our service worker it comes unpacked from the store. Otherwise it comes packed
  // from the host, and on its way it is put into the store of this version, so
  // that the first visit downloads it once. The service worker trusts that copy
  // only after comparing its hash.
  async function fetchProgram() {
    const tried = [];
    const ask = async (path, cache = "default") => {
      const got = await fetch(new URL(path, base), { cache }).catch((err) => ({ ok: false, status: err, statusText: "" }));
      if (!got.ok) tried.push(`${path}: ${got.status} ${got.statusText}`);
      return got;
    };
    // Read by the page itself: by way of the worker it takes twice as long.
    const storedProgram = async () =>
      (await openStore().then((store) => store.match(new URL("app.wasm", base))).catch(() => {})) || ask("app.wasm");
    // A browser that is just starting, on a busy machine, may fail to read its own
    // store for a while. The host helps if there is one; without it, patience.
    for (let attempt = 0; fromStore && attempt < 3; attempt++) {
      const program = await storedProgram();
      if (program.ok) return program;
      await wait(300);
    }
    let bytes;
    for (const cache of ["default", "reload"]) { // what the browser has kept may be damaged
      const response = await ask("app.wasm.br?v=" + version, cache);
      for (let attempt = 0; fromStore && !response.ok && attempt < 10; attempt++) {
        await wait(600);
        const program = await storedProgram();
        if (program.ok) return program;
      }
      if (!response.ok) throw new Error(tried.join("; "));
      const got = await whole(response.body).catch((err) => err); // broke off, or is not packed as was declared
      if (!(got instanceof Error) && (await isRight(got, wasm.sums))) {
        bytes = got;
        break;
      }
      tried.push("app.wasm.br: " + (got instanceof Error ? got : "damaged on its way"));
    }
    if (!bytes) throw new Error(tried.join("; "));
    const plain = await unpack(bytes);
    if (!window.caches || !window.isSecureContext) return asWasm(plain);
    firstCopy = openStore()
      .then((store) => store.put(new URL("app.wasm", base), asWasm(plain)))
      .catch(() => {}); // no room: the program runs all the same
    return asWasm(plain);
  }

  // openStore opens what is kept of this version; sw.js keeps it under the same name.
  function openStore() { return caches.open(`twoneedles ${base.pathname} ${version}`); }

  const asWasm = (body) => new Response(body, { headers: { "Content-Type": "application/wasm" } });

  // isRight compares with what the build wrote down, because a damaged packed file
  // unpacks to a damaged program or sentence. Browsers calculate the sum over https only.
  async function isRight(bytes, sums) {
    if (!window.crypto || !crypto.subtle) return true;
    const digest = new Uint8Array(await crypto.subtle.digest("SHA-256", bytes));
    return sums.includes(Array.from(digest, (b) => b.toString(16).padStart(2, "0")).join(""));
  }

  // unpack gives the program's bytes. A host that declares a .br file to be an
  // encoding has let the browser unpack it already: a plain program begins so.
  async function unpack(bytes) {
    const plain = (b) => b[0] === 0x00 && b[1] === 0x61 && b[2] === 0x73 && b[3] === 0x6d;
    if (plain(bytes)) return bytes;
    const unpacked = await unbrotli(bytes);
    if (!plain(unpacked)) throw new Error("app.wasm.br does not hold a program");
    return unpacked;
  }

  // whole reads a body to its end and shows how far it has come.
  async function whole(body) {
    const chunks = [];
    let seen = 0;
    for (const reader = body.getReader(); ;) {
      const { done, value } = await reader.read();
      if (done) break;
      chunks.push(value);
      seen += value.byteLength;
      const share = Math.min(1, seen / (seen > wasm.packed ? wasm.plain : wasm.packed));
      for (const bar of document.querySelectorAll(".shell-progress")) bar.value = share;
    }
    return new Uint8Array(await new Blob(chunks).arrayBuffer());
  }

  // unbrotli lets the browser unpack where it can, else a worker of ours. Which error
  // says that it cannot differs: a TypeError by the standard, a NotSupportedError in
  // WebKit on Linux, which knows the name of the format and nothing more.
  async function unbrotli(bytes) {
    try {
      const stream = new Blob([bytes]).stream().pipeThrough(new DecompressionStream("brotli"));
      return new Uint8Array(await new Response(stream).arrayBuffer());
    } catch { /* what is damaged fails in the worker too */ }
    const worker = new Worker(new URL("unpack.js?v=" + version, base));
    try {
      return new Uint8Array(await new Promise((done, failed) => {
        worker.onmessage = (event) => done(event.data);
        worker.onerror = (event) => failed(new Error("unpack.js: " + event.message));
        worker.postMessage(bytes.buffer, [bytes.buffer]);
      }));
    } finally { worker.terminate(); }
  }

  // ---- Offline and updates ------------------------------------------------

  async function keepForOffline() {
    if (!navigator.serviceWorker) return tell("offline", "unsupported");
    navigator.serviceWorker.addEventListener("message", (event) => hear(event.data));
    await firstCopy;
    register(true);
  }

  // register lets the worker store what is not stored yet. An attempt that fails may have
  // met a host in a bad moment, or be one that the page before this began: there is one more.
  async function register(again) {
    try {
      const registration = await navigator.serviceWorker.register(
        new URL("sw.js", base), { scope: base.pathname, updateViaCache: "none" });
      const fresh = registration.installing;
      if (fresh) fresh.addEventListener("statechange", () => {
        // A first install that fails leaves no active worker behind.
        if (fresh.state !== "redundant" || registration.active) return;
        tell("offline", "failed");
        if (again) setTimeout(() => register(false), 5000);
      });
      if (registration.active) registration.active.postMessage("state?");
    } catch {
      // Without network the check for a newer worker fails, the worker does not.
      if (navigator.serviceWorker.controller) return navigator.serviceWorker.controller.postMessage("state?");
      tell("offline", "failed");
    }
  }

  // hear takes what a worker says: newest is the version that is complete on this
  // device, perhaps waiting for a yes. A page that came from the host itself is newer than
  // what was there before, and older than what arrived since.
  function hear(state) {
    if (!state || !state.newest) return;
    tell("offline", "ready");
    if (state.newest !== version && (fromStore || state.arrived)) tell("update", state.newest);
  }

  async function applyUpdate() {
    const registration = await navigator.serviceWorker.getRegistration(base.pathname);
    if (!registration || !registration.active) return loadAgain();
    const answer = new MessageChannel();
    answer.port1.onmessage = loadAgain;
    registration.active.postMessage("switch", [answer.port2]);
  }

  // loadAgain leaves this page for good. Chromium keeps it all the same, as it keeps pages
  // to go back to, and at the next reload shows it instead of the one that came after it.
  let left = false;
  addEventListener("pageshow", () => left && location.reload());

  function loadAgain() {
    left = true;
    location.reload();
  }

  async function checkForUpdate() {
    const registration = navigator.serviceWorker &&
      await navigator.serviceWorker.getRegistration(base.pathname);
    if (registration) registration.update().catch(() => {}); // no network is no news
  }
  addEventListener("online", checkForUpdate);

  // A tap selects the number it arrives at (selectAll of app/page). Safari's engine would take
  // that back as the finger leaves, and set the caret.
  let reached;
  addEventListener("mousedown", ({ target }) => { reached = target !== document.activeElement && target; }, true);
  addEventListener("mouseup", (event) => { if (event.target === reached && reached.matches("input")) event.preventDefault(); }, true);

  // The browser would put the page among the device's apps: we ask in our own place.
  let offer;
  addEventListener("beforeinstallprompt", (event) => {
    event.preventDefault();
    offer = event;
    tell("install", "offered");
  });
  addEventListener("appinstalled", () => tell("install", ""));

  function showInstall() {
    tell("install", ""); // an offer holds for one time
    if (offer) offer.prompt();
  }

  // ---- When it dies -------------------------------------------------------

  // keepLastWords keeps the end of what the Go program wrote; a panic's text is there.
  function keepLastWords() {
    const words = [];
    const write = globalThis.fs.writeSync;
    globalThis.fs.writeSync = (fd, bytes) => {
      words.push(new TextDecoder().decode(bytes).trimEnd());
      if (words.length > 60) words.shift();
      return write(fd, bytes);
    };
    return words;
  }

  async function fail(reason, detail) {
    // A dead program still has its handlers on the window.
    window.onclick = window.onpopstate = window.onresize = null;
    const page = $("shell-failed"), fields = $("shell-early");
    const keep = document.documentElement.hasAttribute("data-early") && Object.values(typed).some(Boolean); // what was typed stays in sight
    for (const child of [...document.body.children]) if (child !== page && !(keep && child === fields)) child.remove();
    page.dataset.reason = reason;
    page.hidden = false;
    $("shell-kept").hidden = !keep;
    if (keep) {
      const line = fields.querySelector("[role=status]");
      line.removeAttribute("data-words");
      line.textContent = $("shell-failed-title").innerText;
    }
    const about = "Version " + release + ", build " + version + "\n" + detail;
    $("shell-detail").value = about;
    if (!isEarly(document.activeElement)) $("shell-failed-title").focus();
    kept = await stored();
    $("shell-copy").hidden = !kept;
    $("shell-aside").hidden = !kept;
    $("shell-detail").value = (kept ? kept + "\n\n" : "") + about;
  }

  const keys = () => Object.keys(localStorage).filter((key) => key.startsWith(mine)).sort();
  let kept = ""; // everything of ours, as text: a copy to the clipboard may not wait for it

  async function stored() {
    const all = [];
    const { keys: at, texts } = await Promise.resolve().then(() => shell.store.all()).catch(() => ({ keys: [], texts: [] }));
    at.forEach((key, i) => { if (key.startsWith(mine)) all.push(key + "\n" + texts[i]); });
    try {
      for (const key of keys()) all.push(key + "\n" + localStorage.getItem(key));
    } catch { /* denied: the database may still have told */ }
    return all.join("\n\n");
  }

  async function copyStored() {
    try {
      await navigator.clipboard.writeText(kept);
      $("shell-copied").hidden = false;
    } catch { // no clipboard here: show the text, selected
      const text = $("shell-detail");
      text.closest("details").open = true;
      text.focus();
      text.select();
    }
  }

  async function setAside() {
    await Promise.resolve().then(() => shell.store.aside()).catch(() => {});
    try {
      for (const key of keys()) {
        localStorage.setItem("aside." + key, localStorage.getItem(key));
        localStorage.removeItem(key);
      }
    } finally { loadAgain(); }
  }
})();
