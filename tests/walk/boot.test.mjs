// The page starts; and when it cannot, it says so.
import assert from "node:assert/strict";
import { createHash } from "node:crypto";
import { cp, mkdtemp, readFile, readdir, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { after, before, test } from "node:test";
import { SITE, browser, complaints, host } from "./site.mjs";

let chrome, site;
before(async () => {
  [chrome, site] = await Promise.all([browser(), host()]);
});
after(async () => {
  await chrome?.close();
  await site?.stop();
});

const open = async (url, prepare = async () => {}) => {
  const context = await chrome.newContext();
  const page = await context.newPage();
  const heard = complaints(page);
  await prepare(page, context);
  await page.goto(url);
  return { page, heard, context };
};

const started = (page) => page.waitForSelector("#boot", { state: "hidden" });

test("the page starts without a complaint, from its own address only", async () => {
  const elsewhere = [];
  const { page, heard, context } = await open(site.url, async (page) => {
    page.on("request", (request) => {
      if (!request.url().startsWith(site.url)) elsewhere.push(request.url());
    });
  });
  await started(page);
  await page.waitForSelector("main");
  assert.equal(await page.isVisible("#crash"), false);
  assert.deepEqual(heard, []);
  assert.deepEqual(elsewhere, []);
  await context.close();
});

test("the same site starts in a folder of another address", async (t) => {
  const root = await mkdtemp(join(tmpdir(), "walk-"));
  t.after(() => rm(root, { recursive: true }));
  await cp(SITE, join(root, "x/y"), { recursive: true });
  const elsewhere = await host(root);
  t.after(elsewhere.stop);
  const { page, heard, context } = await open(`${elsewhere.url}x/y/`);
  await started(page);
  assert.deepEqual(heard, []);
  await context.close();
});

test("the Wasm is named as such", async () => {
  const names = await readdir(SITE);
  const wasm = names.find((name) => /^evenfeed-web-.*\.wasm$/.test(name));
  const answer = await fetch(site.url + wasm);
  assert.equal(answer.headers.get("content-type"), "application/wasm");
});

for (const [part, pattern] of [["Wasm", "**/*.wasm"], ["script", "**/evenfeed-web-*.js"]]) {
  test(`without its ${part} the page says that it stopped, and offers to reload`, async () => {
    const { page, context } = await open(site.url, (page) => page.route(pattern, (r) => r.abort()));
    await page.waitForSelector("#crash button.reload", { state: "visible", timeout: 5000 });
    await page.unroute(pattern);
    await page.click("#crash button.reload");
    await page.waitForSelector("#crash", { state: "hidden" });
    await started(page);
    await page.waitForSelector("main");
    await context.close();
  });
}

test("a changed script does not run", async () => {
  const { page, context } = await open(site.url, (page) =>
    page.route("**/evenfeed-web-*.js", async (route) => {
      const answer = await route.fetch();
      await route.fulfill({ response: answer, body: (await answer.text()) + "\n// changed" });
    }),
  );
  await page.waitForSelector("#crash", { state: "visible", timeout: 5000 });
  await context.close();
});

test("a page that takes long says so after five seconds, and not when it starts", async () => {
  let go;
  const held = new Promise((resolve) => (go = resolve));
  const { page, context } = await open(site.url, async (page) => {
    await page.clock.install();
    await page.route("**/*.wasm", (route) => held.then(() => route.continue()));
  });
  await page.clock.fastForward(4000);
  assert.equal(await page.isVisible("#boot-late"), false);
  await page.clock.fastForward(1500);
  await page.waitForSelector("#boot-late button.reload", { state: "visible" });
  go();
  await started(page);
  assert.equal(await page.isVisible("#boot-late"), false);
  await context.close();
});

test("opened as a file the page says how to serve it", async () => {
  const { page, context } = await open(pathToFileURL(join(SITE, "index.html")).href);
  const text = await page.innerText("body");
  assert.match(text, /web server/);
  assert.equal(await page.isVisible("#crash"), false);
  await context.close();
});

test("without JavaScript the page says that it needs it", async () => {
  const context = await chrome.newContext({ javaScriptEnabled: false });
  const page = await context.newPage();
  await page.goto(site.url);
  assert.match(await page.innerText("body"), /needs JavaScript/);
  await context.close();
});

test("an inline script that is not ours does not run", async () => {
  const { page, context } = await open(site.url, (page) =>
    page.route(site.url, async (route) => {
      const answer = await route.fetch();
      const body = (await answer.text()).replace("</body>", "<script>window.intruder = 1</script></body>");
      await route.fulfill({ response: answer, body });
    }),
  );
  await started(page);
  assert.equal(await page.evaluate(() => typeof window.intruder), "undefined");
  await context.close();
});

test("the service worker lists every file of the site, each with its hash", async () => {
  const text = await readFile(join(SITE, "sw.js"), "utf8");
  const listed = [...text.matchAll(/\["([^"]+)", "([^"]+)"\]/g)].map(([, url, hash]) => [url, hash]);
  const names = (await readdir(SITE, { recursive: true, withFileTypes: true })).filter((e) => e.isFile());
  const onDisk = names.map((e) => join(e.parentPath ?? e.path, e.name).slice(SITE.length + 1));
  assert.deepEqual(listed.map(([url]) => url).sort(), onDisk.filter((name) => name !== "sw.js").sort());
  for (const [url, hash] of listed) {
    const bytes = await readFile(join(SITE, url));
    assert.equal(createHash("sha256").update(bytes).digest("base64"), hash, url);
  }
});

test("the site can be installed", async () => {
  const { page, context } = await open(site.url);
  await started(page);
  const session = await context.newCDPSession(page);
  const { installabilityErrors } = await session.send("Page.getInstallabilityErrors");
  // A context of its own is what this browser calls incognito, where nothing can be installed.
  const others = installabilityErrors.filter(({ errorId }) => errorId !== "in-incognito");
  assert.deepEqual(others, []);
  await context.close();
});
