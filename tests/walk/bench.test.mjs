// Practice: a lesson from the door to the debrief by taps, with the server stopped; the same job
// screens; and the debrief of the command line.
import assert from "node:assert/strict";
import { execFileSync } from "node:child_process";
import { readFile } from "node:fs/promises";
import { createRequire } from "node:module";
import { after, before, test } from "node:test";
import { fileURLToPath } from "node:url";
import { browser, host } from "./site.mjs";
import * as app from "./app.mjs";

let chrome, axe;
before(async () => {
  const script = createRequire(import.meta.url).resolve("axe-core/axe.min.js");
  [chrome, axe] = await Promise.all([browser(), readFile(script, "utf8")]);
});
after(() => chrome?.close());

const clean = async (page, where) => {
  await page.evaluate(axe);
  await app.unfoldAll(page);
  const found = await page.evaluate(async () => {
    const rules = { "target-size": { enabled: true }, "color-contrast-enhanced": { enabled: true } };
    const { violations } = await window.axe.run(document, { rules, resultTypes: ["violations"] });
    return violations.map(({ id, nodes }) => `${id}: ${nodes.map(({ html }) => html.slice(0, 120))}`);
  });
  assert.deepEqual(found, [], where);
  for (const width of [320, 360, 412]) {
    await page.setViewportSize({ width, height: app.PHONE.height });
    assert.deepEqual(await tight(page), [], `${where} at ${width}`);
  }
  await page.setViewportSize(app.PHONE);
  await page.evaluate(() => scrollTo(0, 0));
};

// For gloves: 48 px each way (48 dp, Android accessibility help); nothing over the side.
const tight = (page) =>
  page.evaluate(() => {
    const found = [];
    const over = document.documentElement.scrollWidth - innerWidth;
    if (over > 0) found.push(`${over} px over the side`);
    for (const node of document.querySelectorAll("main :is(button, summary, input, select)")) {
      if (!node.checkVisibility()) continue;
      const spot = ["radio", "checkbox"].includes(node.type) ? node.labels[0] : node;
      const { width, height } = spot.getBoundingClientRect();
      if (width < 48 || height < 48) found.push(`${spot.outerHTML.slice(0, 80)}: ${width.toFixed(0)} x ${height.toFixed(0)}`);
      if (spot.scrollWidth > spot.clientWidth + 1) found.push(`${spot.outerHTML.slice(0, 80)}: words run out of it`);
    }
    return found;
  });

// Does an action of the plant: the button of that name in the group of that name.
const act = async (page, group, name) => {
  const before = await steps(page);
  await app.unfoldAll(page);
  await page.getByRole("group", { name: group, exact: true }).getByRole("button", { name, exact: true }).tap();
  await page.waitForFunction(async (before) => (await window.attempt())?.steps.length > before, before);
};

const steps = (page) => page.evaluate(async () => (await window.attempt())?.steps.length ?? 0);

// The attempt as the page keeps it.
const watched = (page) =>
  page.addInitScript(() => {
    const settled = (request) =>
      new Promise((resolve, reject) => {
        request.onsuccess = () => resolve(request.result);
        request.onerror = () => reject(request.error);
      });
    window.kept = async (name) => {
      const database = await settled(indexedDB.open("evenfeed"));
      const row = await settled(database.transaction("settings").objectStore("settings").get(name));
      database.close();
      return row ? JSON.parse(row.body) : null;
    };
    window.attempt = async () => (await window.kept("bench"))?.attempt;
  });

// Asks a worker of the page for the debrief of an attempt.
const debriefed = (page, attempt) =>
  page.evaluate(async (attempt) => {
    const worker = new Worker(document.querySelector("meta[name=evenfeed-background]").content);
    const ask = (bench) =>
      new Promise((resolve, reject) => {
        worker.onmessage = ({ data }) => resolve(JSON.parse(data));
        worker.onerror = () => reject(new Error("the worker failed"));
        worker.postMessage(JSON.stringify({ bench }));
      });
    await ask({ resume: attempt });
    return (await ask("debrief")).debrief;
  }, attempt);

// The same from the command line, of the same steps.
const onTheLine = ({ address, steps }) => {
  const root = fileURLToPath(new URL("../../", import.meta.url));
  const script = steps.map((step) => `${JSON.stringify(step)}\n`).join("");
  const words = ["run", "-q", "--locked", "-p", "evenfeed-cli", "--", "bench", "--case", address, "--script", "-"];
  return JSON.parse(execFileSync("cargo", words, { cwd: root, input: script, maxBuffer: 1 << 26 }));
};

const begin = async (page, lesson) => {
  await app.tap(page, /^Practice bench/);
  await app.tap(page, lesson);
  await app.at(page, "Plant");
  // Time goes by taps alone, so that the same is done in every run.
  await page.getByText("Held", { exact: true }).tap();
};

const toPlant = async (page) => {
  await app.tap(page, "To the plant");
  await app.at(page, "Plant");
};

const takeReading = async (page) => {
  await app.tap(page, "Take this reading into the job");
  await app.at(page, "Reading");
  await app.tap(page, "Keep this reading");
};

test("a lesson from the door to the debrief, with the server stopped", async (t) => {
  const site = await host();
  t.after(site.stop);
  const { page, context, heard } = await app.visit(chrome, site, { prepare: watched });
  await app.readyOffline(page);
  await site.stop();
  await app.tap(page, /^Practice bench/);
  await app.at(page, "Practice bench");
  await page.getByRole("button", { name: /^5\. Strap the bulb/ }).waitFor();
  await app.picture(page, "phone-bench-pick");
  assert.equal(await page.locator("main .door").count(), 10);
  await clean(page, "pick");
  await app.goHome(page);
  await begin(page, /^5\. Strap the bulb/);
  await app.picture(page, "phone-bench-plant");
  await act(page, "Look at it", "Bulb, strap, wrapping");
  await page.locator(".log").getByText("The strap hangs, the wrapping is gone.").waitFor();
  await act(page, "Connect the gauges", "At the service valve");
  await act(page, "Strap thermometers to the pipes", "At the bulb, wrapped");
  await app.tap(page, "5 minutes on");
  await page.locator("[data-live=suction_line_temp_f]").waitFor();
  await clean(page, "plant");
  await takeReading(page);
  // Guided: Finding tells all.
  await app.at(page, "Finding");
  await page.getByText("Causes", { exact: false }).first().waitFor();
  await page.getByText("Practice, simulated:").waitFor();
  await toPlant(page);
  await act(page, "Strap and wrap the bulb", "Do it");
  // The job waits for it to settle, by the plant's own clock.
  await app.tap(page, "To the end of the wait");
  await app.tap(page, "5 minutes on");
  await app.picture(page, "phone-bench-tools");
  await takeReading(page);
  await toPlant(page);
  // Opened again in the middle: where it was, to the second.
  const before = await page.evaluate(() => window.attempt());
  await page.reload();
  await app.at(page, "Plant");
  await page.getByRole("button", { name: "Take this reading into the job" }).waitFor();
  assert.deepEqual(await page.evaluate(() => window.attempt()), before);
  await app.unfoldAll(page);
  await page.locator("label[for=bench-cause-bulb-contact]").tap();
  await app.tap(page, "That is it");
  await page.getByText(/^You said: /).waitFor();
  await app.tap(page, "Pack up");
  await app.at(page, "Debrief");
  await page.evaluate(() => scrollTo(0, 0));
  await app.picture(page, "phone-bench-debrief");
  await page.locator(".bench-timeline").scrollIntoViewIfNeeded();
  await app.picture(page, "phone-bench-timeline");
  await clean(page, "debrief");
  await page.getByText(/^Found\. You said: /).waitFor();
  const attempt = await page.evaluate(() => window.attempt());
  const debrief = await debriefed(page, attempt);
  assert.equal(debrief.path.found, true);
  assert.deepEqual(debrief, onTheLine(attempt));
  const points = await page.locator("main .big").first().textContent();
  assert.equal(points, `${+debrief.points.toFixed(1)} of ${debrief.out_of}`);
  // Kept on the device, with progress.
  await app.tap(page, "All cases");
  await page.getByRole("heading", { name: "Your attempts" }).waitFor();
  assert.equal((await page.evaluate(() => window.kept("bench-attempts"))).length, 1);
  assert.deepEqual(heard, []);
  await context.close();
});

test("a turn is one turn, at the plant and in the ledger, whichever writes it down", async (t) => {
  const site = await host();
  t.after(site.stop);
  const { page, context, heard } = await app.visit(chrome, site, { prepare: watched });
  await begin(page, /^6\. Set the stem/);
  await act(page, "Connect the gauges", "At the service valve");
  await act(page, "Strap thermometers to the pipes", "At the bulb, wrapped");
  await app.tap(page, "5 minutes on");
  await page.locator("[data-live=suction_line_temp_f]").waitFor();
  // Before the checks the job's own rule holds, and the plant feels nothing.
  const turns = () => page.evaluate(async () => (await window.attempt()).steps.filter((it) => it.do === "turn-stem"));
  await app.unfoldAll(page);
  const stem = page.getByRole("group", { name: "Turn the stem", exact: true });
  await stem.getByRole("button", { name: "Turn it" }).tap();
  await page.getByText(/^The stem stays shut/).waitFor();
  assert.deepEqual(await turns(), []);
  await takeReading(page);
  await app.goTo(page, "Look first");
  await app.markAll(page);
  await app.goTo(page, "Stem");
  await app.tap(page, "As found is written down");
  await toPlant(page);
  await app.unfoldAll(page);
  await stem.getByRole("combobox").selectOption("2");
  await stem.getByRole("button", { name: "Turn it" }).tap();
  await page.waitForFunction(async () => (await window.attempt()).steps.some((it) => it.do === "turn-stem"));
  await app.goTo(page, "Stem");
  await page.getByText("Stem: 1/2 turn closed from as found").waitFor();
  // And the other way round: written down on Stem, felt by the plant.
  await app.unfoldAll(page);
  await app.tap(page, "1/4 more closed");
  await app.tap(page, /^I turned it 1\/4/);
  await page.getByText("Stem: 3/4 turn closed from as found").waitFor();
  assert.deepEqual((await turns()).map((it) => it.quarters), [2, 1]);
  // What the plant has felt is not taken back by a tap.
  await app.unfoldAll(page);
  await app.tap(page, "Take back the newest line");
  await page.getByText(/^The plant has felt it/).waitFor();
  assert.deepEqual(heard, []);
  await context.close();
});

test("a case from an address, and Finding that waits for the call", async (t) => {
  const site = await host();
  t.after(site.stop);
  const { page, context, heard } = await app.visit(chrome, site, { prepare: watched });
  await page.goto(`${site.url}#bench=12;difficulty=alone`);
  await page.getByText("bench=12;difficulty=alone").waitFor();
  await app.tap(page, "Begin this case");
  await app.at(page, "Plant");
  await app.goTo(page, "Finding");
  await page.getByText(/Finding tells nothing until/).waitFor();
  await toPlant(page);
  // At 60x the plant's minute goes by with each second.
  await page.getByText("60x", { exact: true }).tap();
  await page.waitForFunction(() => /^[3-9] min/.test(document.querySelector("[data-live=clock]").textContent));
  assert.deepEqual(heard, []);
  await context.close();
});

test("without a worker the bench says so, and nothing else is missing", async (t) => {
  const site = await host();
  t.after(site.stop);
  const prepare = (page) => page.addInitScript(() => delete window.Worker);
  const { page, context, heard } = await app.visit(chrome, site, { prepare });
  await app.tap(page, /^Practice bench/);
  await page.getByText(/^The simulated plant runs in the background/).waitFor();
  await app.goHome(page);
  await app.openDemo(page);
  assert.deepEqual(heard, []);
  await context.close();
});
