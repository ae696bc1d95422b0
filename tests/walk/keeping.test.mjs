// One build is kept whole, works without its server, and gives way to the next
// only when asked.
//
// The worker is asked by hand here; that the app asks it well is for its own walk.
import assert from "node:assert/strict";
import { createHash } from "node:crypto";
import { cp, mkdtemp, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { after, before, test } from "node:test";
import { SITE, browser, complaints, host, kept } from "./site.mjs";

let chrome;
before(async () => (chrome = await browser()));
after(() => chrome?.close());

// A copy of the site on its own server, opened once and kept.
const keep = async (t) => {
  const folder = await mkdtemp(join(tmpdir(), "walk-"));
  await cp(SITE, folder, { recursive: true });
  const server = await host(folder);
  const context = await chrome.newContext();
  t.after(async () => {
    await context.close();
    await server.stop();
    await rm(folder, { recursive: true });
  });
  const page = await context.newPage();
  await page.goto(server.url);
  await page.evaluate(() => navigator.serviceWorker.register("sw.js", { updateViaCache: "none" }));
  const first = await kept(page);
  assert.equal(first.ready, true);
  await page.waitForFunction(() => navigator.serviceWorker.controller !== null);
  return { folder, server, context, page, first };
};

// The site's next build: another page, and the list that goes with it.
const publish = async (folder, build, { missing = false } = {}) => {
  const html = (await readFile(join(SITE, "index.html"), "utf8")).replace(
    /(<meta name="evenfeed-build" content=").*?"/,
    `$1${build}"`,
  );
  await writeFile(join(folder, "index.html"), html);
  const hash = createHash("sha256").update(html).digest("base64");
  const worker = (await readFile(join(SITE, "sw.js"), "utf8"))
    .replace(/const BUILD = ".*"/, `const BUILD = "${build}"`)
    .replace(/\["index.html", ".*"\]/, `["index.html", "${hash}"]${missing ? `, ["gone.js", "${hash}"]` : ""}`);
  await writeFile(join(folder, "sw.js"), worker);
};

const update = (page) =>
  page.evaluate(async () => {
    const registration = await navigator.serviceWorker.ready;
    // Held from its first moment: one that fails at once is gone from the registration before the
    // update has answered.
    let worker;
    const hold = () => (worker = registration.installing);
    registration.addEventListener("updatefound", hold, { once: true });
    await registration.update();
    worker ??= registration.installing ?? registration.waiting;
    if (!worker) return "none";
    while (worker.state === "installing") {
      await new Promise((resolve) => worker.addEventListener("statechange", resolve, { once: true }));
    }
    return worker.state;
  });

// The page looks for a new build by itself when it starts, so an answer may still be of the one
// before: it is asked again until the newest is in.
const updateUntilInstalled = async (page) => {
  let state;
  for (let tries = 0; tries < 20 && state !== "installed"; tries += 1) {
    if (tries > 0) await page.waitForTimeout(100);
    state = await update(page);
  }
  assert.equal(state, "installed");
};

const cacheNames = (page) => page.evaluate(() => caches.keys());
const shown = (page) => page.getAttribute("meta[name=evenfeed-build]", "content");

test("with its server stopped the page reloads, opens anew, and opens at any place of its own", async (t) => {
  const { server, context, page, first } = await keep(t);
  assert.equal(await shown(page), first.build);
  await server.stop();
  const heard = complaints(page);
  await page.reload();
  await page.waitForSelector("#boot", { state: "hidden" });
  assert.deepEqual(heard, []);
  for (const place of ["", "#/stem", "?from=home", "some/deep/place"]) {
    const other = await context.newPage();
    await other.goto(server.url + place);
    await other.waitForSelector("main");
    assert.equal(await shown(other), first.build, place);
    await other.close();
  }
});

test("kept Wasm is still named as such", async (t) => {
  const { server, page } = await keep(t);
  await server.stop();
  await page.reload();
  const type = await page.evaluate(async () => {
    const { name } = performance.getEntriesByType("resource").find(({ name }) => name.endsWith(".wasm"));
    return (await fetch(name)).headers.get("content-type");
  });
  assert.equal(type, "application/wasm");
});

test("ready is said only while every file is kept", async (t) => {
  const { page } = await keep(t);
  await page.evaluate(async () => {
    const [name] = await caches.keys();
    await (await caches.open(name)).delete(new URL("icon-192.png", location.href).href);
  });
  assert.equal((await kept(page)).ready, false);
});

test("a new build waits until it is asked in, then stands alone", async (t) => {
  const { folder, page, first } = await keep(t);
  await publish(folder, "next");
  await updateUntilInstalled(page);
  assert.deepEqual(await kept(page, "waiting"), { ready: true, build: "next" });
  await page.reload();
  assert.equal(await shown(page), first.build);
  assert.equal((await kept(page)).build, first.build);

  await page.evaluate(async () => {
    const { waiting } = await navigator.serviceWorker.ready;
    const taken = new Promise((resolve) =>
      navigator.serviceWorker.addEventListener("controllerchange", resolve, { once: true }),
    );
    waiting.postMessage("SKIP");
    await taken;
  });
  await page.reload();
  assert.equal(await shown(page), "next");
  assert.equal((await kept(page)).build, "next");
  assert.deepEqual(await cacheNames(page), ["evenfeed-next"]);
});

test("a build with a missing file is not taken, and the next whole one is", async (t) => {
  const { folder, page, first } = await keep(t);
  await publish(folder, "next1", { missing: true });
  assert.equal(await update(page), "redundant");
  await page.reload();
  assert.equal((await kept(page)).build, first.build);
  assert.equal((await kept(page)).ready, true);
  assert.equal(await shown(page), first.build);

  await publish(folder, "next2");
  await updateUntilInstalled(page);
  await page.evaluate(async () => (await navigator.serviceWorker.ready).waiting.postMessage("SKIP"));
  while ((await cacheNames(page)).join() !== "evenfeed-next2") await page.waitForTimeout(50);
  await page.reload();
  assert.equal(await shown(page), "next2");
});

test("a build with a changed byte is not taken", async (t) => {
  const { folder, page, first } = await keep(t);
  await publish(folder, "next");
  await writeFile(join(folder, "icon-192.png"), "not the icon");
  assert.equal(await update(page), "redundant");
  assert.equal((await kept(page)).build, first.build);
});

test("a kept build that cannot start is mended by its reload button", async (t) => {
  const { folder, server, page } = await keep(t);
  // Break what is kept, as a build with a fault would be.
  await page.evaluate(async () => {
    const cache = await caches.open((await caches.keys())[0]);
    const request = (await cache.keys()).find(({ url }) => /evenfeed-web-.*\.wasm$/.test(url));
    const headers = { "Content-Type": "application/wasm" };
    await cache.put(request, new Response("broken", { headers }));
  });
  await publish(folder, "next");
  await page.reload();
  await page.waitForSelector("#crash button.reload", { state: "visible", timeout: 5000 });
  await page.click("#crash button.reload");
  await page.waitForSelector("#crash", { state: "hidden" });
  await page.waitForSelector("#boot", { state: "hidden" });
  assert.equal(await shown(page), "next");
  assert.equal(server.url, page.url());
});
