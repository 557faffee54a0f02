// What is asked of the decoder: as a worker of its own, so that the page goes on
// meanwhile, it answers a packed program with the plain one; the service worker
// loads the same file and calls unbrotliNow itself.
"use strict";

self.unbrotliNow = (bytes) => self.BrotliDecode(new Int8Array(bytes));

if (self.DedicatedWorkerGlobalScope) self.onmessage = (event) => {
  const plain = self.unbrotliNow(event.data);
  self.postMessage(plain.buffer, [plain.buffer]);
};
