// The wait is rung at its end: also when the readings have settled before, and after the page was
// thrown away; and not when the end was long ago.
import assert from "node:assert/strict";
import { after, before, test } from "node:test";
import { browser, host } from "./site.mjs";
import * as app from "./app.mjs";

let chrome, site;
before(async () => {
  [chrome, site] = await Promise.all([browser(), host()]);
});
after(async () => {
  await chrome?.close();
  await site?.stop();
});

const START = new Date("2026-06-15T13:00:00Z");
const WAIT_MIN = 15; // as Job has it when nothing is typed
// R-22 at 39.2 °F; the pipe stands 14 °F above it, on its way down from where the demo job left it.
const READING = { "Suction pressure": "67.4", "Suction line": "53.2", "Liquid pressure": "207.8", "Liquid line": "94" };

// Notes each buzz instead of giving it, and each tone that begins.
const listen = async (page) => {
  await page.clock.install({ time: START });
  await page.addInitScript(() => {
    window.buzzes = [];
    Object.defineProperty(navigator, "vibrate", { value: () => window.buzzes.push(Date.now()) > 0 });
    window.tones = 0;
    const start = OscillatorNode.prototype.start;
    OscillatorNode.prototype.start = function (...when) {
      window.tones += 1;
      return start.apply(this, when);
    };
  });
};
const minutes = (page, count) => page.clock.fastForward(count * 60_000);
const buzzes = (page) => page.evaluate(() => window.buzzes.length);
const turn = async (page) => {
  await app.openDemo(page);
  await app.tap(page, /^I turned it/);
  await page.getByRole("timer").waitFor();
};
const read = async (page) => {
  await app.goTo(page, "Reading");
  await app.typeAll(page, READING);
  await app.tap(page, "Keep this reading");
  await app.at(page, "Stem");
};

test("a wait is rung at its end though the readings had settled before", async () => {
  const { page, context, heard } = await app.visit(chrome, site, { prepare: listen });
  await turn(page);
  for (let reading = 0; reading < 3; reading += 1) {
    await minutes(page, 4);
    await read(page);
  }
  assert.equal(await page.locator(".waiting [role=status]").innerText(), "Steady so far");
  assert.equal(await buzzes(page), 0, "not before its time");
  await minutes(page, WAIT_MIN - 12);
  await page.getByRole("timer").waitFor({ state: "detached" });
  assert.equal(await buzzes(page), 1);
  assert.ok((await page.evaluate(() => window.tones)) > 0, "the tap of the turn unlocked the sound");
  await minutes(page, 5);
  assert.equal(await buzzes(page), 1, "once");
  assert.deepEqual(heard, []);
  await context.close();
});

test("a wait is rung in a page that was opened again, and not when it ended while the page was away", async () => {
  const { page, context, heard } = await app.visit(chrome, site, { prepare: listen });
  await turn(page);
  await app.saved(page);
  await minutes(page, WAIT_MIN - 2);
  await page.reload();
  await app.at(page, "Stem");
  await minutes(page, 2);
  assert.equal(await buzzes(page), 1);

  // The next wait ends with no page there to hear it.
  await app.tap(page, "Evenfeed");
  await turn(page);
  await app.saved(page);
  await page.close();
  const later = await app.another(context, site, async (page) => {
    await listen(page);
    await page.clock.setSystemTime(new Date(START.getTime() + 60 * 60_000));
  });
  await app.at(later.page, "Stem");
  await minutes(later.page, 1);
  assert.equal(await buzzes(later.page), 0);
  assert.deepEqual([...heard, ...later.heard], []);
  await context.close();
});
