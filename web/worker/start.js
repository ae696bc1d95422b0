// The page's background, as a worker: one question in, one answer out, both text.
//
// An answer that is no text means that this worker is of no more use: its Wasm did not load, or
// stopped at this question. The page then lets it go.
"use strict";
importScripts("evenfeed-worker.js");
const ready = wasm_bindgen({ module_or_path: "evenfeed-worker_bg.wasm" });
// Who asks hears of it; nobody else need.
ready.catch(() => {});
onmessage = async ({ data }) => {
  let said = null;
  try {
    await ready;
    said = wasm_bindgen.answer(data);
  } finally {
    postMessage(said);
  }
};
