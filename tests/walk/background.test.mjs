// The page's background: no part of the first load, kept with everything else, and not missed where
// it cannot be had.
import assert from "node:assert/strict";
import { after, before, test } from "node:test";
import { browser, host } from "./site.mjs";
import * as app from "./app.mjs";

let chrome;
before(async () => (chrome = await browser()));
after(() => chrome?.close());

// Asks the worker that the page names, as the page does: text in, text out.
const ask = (page, question) =>
  page.evaluate(
    (question) =>
      new Promise((resolve, reject) => {
        const worker = new Worker(document.querySelector("meta[name=evenfeed-background]").content);
        worker.onmessage = ({ data }) => resolve(data);
        worker.onerror = () => reject(new Error("the worker failed"));
        worker.postMessage(question);
      }),
    question,
  );

test("the background is not loaded with the page, and answers with the server stopped", async (t) => {
  const site = await host();
  t.after(site.stop);
  const { page, context, heard } = await app.visit(chrome, site);
  await app.readyOffline(page);
  const loaded = await page.evaluate(() => performance.getEntriesByType("resource").map(({ name }) => name));
  assert.ok(loaded.some((name) => name.endsWith(".wasm")));
  assert.deepEqual(loaded.filter((name) => name.includes("background")), []);
  await site.stop();
  assert.equal(typeof (await ask(page, "{}")), "string");
  assert.deepEqual(heard, []);
  await context.close();
});

test("a browser without workers does everything else", async (t) => {
  const site = await host();
  t.after(site.stop);
  const { page, context, heard } = await app.visit(chrome, site, {
    prepare: (page) => page.addInitScript(() => delete window.Worker),
  });
  await app.openDemo(page);
  for (const screen of app.SCREENS) await app.goTo(page, screen);
  assert.equal(await page.evaluate(() => typeof Worker), "undefined");
  assert.deepEqual(heard, []);
  await context.close();
});
