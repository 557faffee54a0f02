// The store of jobs: an IndexedDB behind a handful of calls, and the only file that knows
// it. The Go side (app/keep) holds a copy in memory; the failure page reads it from here.
// README.md is the contract.
"use strict";

(() => {
  const name = "twoneedles", layout = 1; // a newer layout is refused, an older one brought up in open
  const patience = 4000; // ms; some browsers never answer a request to open
  const channel = channelOf() || { postMessage() {} };
  let opening; // the promise of the database
  let missed = []; // what happened before anybody listened
  let listener = (keys) => missed.push(keys);
  channel.onmessage = ({ data }) => Array.isArray(data) && listener(data.filter((key) => typeof key === "string"));

  function channelOf() {
    try { return new BroadcastChannel(name); } catch { /* an old browser, or storage denied: windows do not hear each other */ }
  }

  function open() {
    opening ||= new Promise((done, fail) => {
      const request = indexedDB.open(name, layout);
      request.onupgradeneeded = ({ oldVersion }) => { if (oldVersion < 1) request.result.createObjectStore("jobs"); };
      request.onsuccess = () => {
        const db = request.result;
        db.onversionchange = ({ newVersion }) => { // a newer version of the page wants in, or somebody deletes
          db.close();
          opening = undefined;
          if (newVersion === null) listener(null);
        };
        db.onclose = () => { opening = undefined; listener(null); }; // cleared under us
        done(db);
      };
      request.onerror = () => fail(request.error);
      setTimeout(() => fail(new DOMException("no answer", "TimeoutError")), patience);
    }).catch((err) => { opening = undefined; throw err; });
    return opening;
  }

  // using runs f in a transaction and is done when that is complete. A connection that was
  // closed meanwhile is opened again; while the browser clears, it refuses for a moment.
  async function using(mode, f) {
    for (let again = true; ; again = false) {
      try {
        const db = await open();
        return await new Promise((done, fail) => {
          const tx = db.transaction("jobs", mode);
          const result = f(tx.objectStore("jobs"));
          tx.oncomplete = () => done(result);
          tx.onabort = () => fail(tx.error);
        });
      } catch (err) {
        if (!again || !["InvalidStateError", "AbortError"].includes(err?.name)) throw err || new DOMException("aborted", "AbortError");
        if (err.name === "AbortError") await new Promise((wake) => setTimeout(wake, 500));
        opening = undefined;
      }
    }
  }

  // A record is {text, by, seq}: by the window that wrote it as its seq-th change, which
  // together are its revision. Whatever else is found there is passed on as a text that
  // nobody can read.
  const textOf = (have) => (typeof have?.text === "string" ? have.text : String(have));
  const revOf = (have) => (typeof have?.by === "string" ? have.by + " " + have.seq : "");

  // all gives {keys, texts, revs}; of the keys where some are named.
  const all = (...named) => using("readonly", (jobs) => {
    const got = { keys: [], texts: [], revs: [] };
    const add = (key, have) => {
      if (typeof key !== "string" || have === undefined) return;
      got.keys.push(key);
      got.texts.push(textOf(have));
      got.revs.push(revOf(have));
    };
    if (named.length) {
      for (const key of named) jobs.get(key).onsuccess = ({ target }) => add(key, target.result);
      return got;
    }
    jobs.getAllKeys().onsuccess = ({ target: { result: keys } }) => {
      jobs.getAll().onsuccess = ({ target: { result } }) => keys.forEach((key, i) => add(key, result[i]));
    };
    return got;
  });

  // change writes items {key, text, base, tab, seq} in one transaction; a text of null
  // removes. Where another window wrote since the revision base, nothing is written and the
  // result carries that window's text; a base of "*" is content with any. Where there should
  // have been something and was nothing, the result says missed.
  async function change(items) {
    const changed = [];
    const results = await using("readwrite", (jobs) => {
      const results = [];
      items.forEach(({ key, text, base, tab, seq }, i) => {
        jobs.get(key).onsuccess = ({ target: { result: have } }) => {
          const rev = revOf(have), own = have?.by === tab;
          results[i] = { rev };
          if (own && have.seq >= seq) results[i].known = true; // an older note of what is here
          else if (have ? have.text === text : text === null) return;
          else if (have && !own && base !== "*" && rev !== base) results[i].text = textOf(have);
          else {
            results[i].missed = !have && Boolean(base) && base !== "*"; // somebody removed it
            const next = { text, by: tab, seq };
            results[i].rev = revOf(next);
            changed.push(key);
            if (text === null) jobs.delete(key);
            else jobs.put(next, key);
          }
        };
      });
      return results;
    });
    if (changed.length) channel.postMessage(changed);
    return results;
  }

  // aside renames everything, so that a start finds nothing of it.
  const aside = () => using("readwrite", (jobs) => {
    jobs.openCursor().onsuccess = ({ target: { result: at } }) => {
      if (!at) return;
      if (String(at.key).startsWith(name + ".")) {
        jobs.put(at.value, "aside." + at.key);
        at.delete();
      }
      at.continue();
    };
  });

  const early = all(); // while the program is still being fetched
  early.catch(() => {});

  window.twoneedles = { store: {
    early: () => early,
    all, change, aside,
    listen(f) {
      listener = f;
      for (const keys of missed) f(keys);
      missed = [];
    },
  } };
})();
