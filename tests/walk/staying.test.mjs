// What was typed stays: through a reload, a discarded page, a change of units; and "Saved" is the
// truth.
import assert from "node:assert/strict";
import { after, before, describe, test } from "node:test";
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

const chip = (page) => page.locator(".saved");

// Where each screen is typed into: a field, and what.
const TYPED = {
  "Look first": ["What was seen", "Panel riveted"],
  Job: ["Which unit", "Roof unit, the one by the crane"],
  Reading: ["Suction pressure", "64,9"],
  Proof: ["Remark for the record", "Ask for the plate"],
};

// Types into a screen, where it can be typed into; resolves to the field and the text.
const typeInto = async (page, screen) => {
  if (screen === "Look first") await app.pick(page, "No ice on coil or lines", "Can't check");
  const [name, text] = TYPED[screen] ?? [];
  if (name) await app.type(page, name, text);
  return [name, text];
};

// Every transaction is noted, and its end is heard only when the walk lets it.
const holdWrites = () => {
  window.writes = [];
  window.hold = null;
  const plain = IDBDatabase.prototype.transaction;
  IDBDatabase.prototype.transaction = function (stores, mode, options) {
    const transaction = plain.call(this, stores, mode, options);
    if (mode === "readwrite") window.writes.push(transaction.durability);
    return transaction;
  };
  const { get, set } = Object.getOwnPropertyDescriptor(IDBTransaction.prototype, "oncomplete");
  Object.defineProperty(IDBTransaction.prototype, "oncomplete", {
    get,
    set(tell) {
      set.call(this, async (event) => {
        await window.hold;
        tell.call(this, event);
      });
    },
  });
};
const hold = (page) => page.evaluate(() => void (window.hold = new Promise((done) => (window.release = done))));
const typeAndWrite = async (page, text) => {
  const before = await page.evaluate(() => window.writes.length);
  await app.type(page, "Suction pressure", text);
  await page.waitForFunction((before) => window.writes.length > before, before);
};
const release = (page) => page.evaluate(() => window.release());

describe("staying", { concurrency: 3 }, () => {
  for (const screen of app.SCREENS) {
    test(`${screen} comes back as it was after the page is thrown away`, async () => {
      const { page, context, heard } = await app.visit(chrome, site);
      await app.openDemo(page);
      if (screen !== "Stem") await app.goTo(page, screen);
      const [name, text] = await typeInto(page, screen);
      await app.saved(page);
      const [before, address] = [await page.locator("main").innerText(), page.url()];
      await page.close();

      const again = await app.another(context, site);
      await app.at(again.page, screen);
      assert.equal(again.page.url(), address, "the same job and screen from the root address");
      assert.equal(await again.page.locator("main").innerText(), before);
      if (name) assert.equal(await app.field(again.page, name).inputValue(), text);
      if (screen === "Look first") {
        const row = again.page.getByRole("group", { name: "No ice on coil or lines" });
        assert.ok(await row.getByRole("radio", { name: "Can't check" }).isChecked());
      }
      assert.deepEqual([...heard, ...again.heard], []);
      await context.close();
    });
  }

  test("a reading half typed, and a job with no name, come back", async () => {
    let { page, context } = await app.visit(chrome, site);
    await app.tap(page, /^On the job/);
    await app.at(page, "Job");
    await app.goTo(page, "Reading");
    const typed = { "Suction pressure": "65", "Liquid line": "-1.5.2", "Liquid pressure": "226" };
    await app.typeAll(page, typed);
    await app.saved(page);
    await page.close();
    ({ page } = await app.another(context, site));
    await app.at(page, "Reading");
    for (const [name, text] of Object.entries(typed)) {
      assert.equal(await app.field(page, name).inputValue(), text);
    }
    await context.close();
  });

  test("what is typed is kept at once when the page goes out of view", async () => {
    const { page, context } = await app.visit(chrome, site, { prepare: (page) => page.clock.install() });
    await app.openDemo(page);
    for (const screen of Object.keys(TYPED)) {
      await app.goTo(page, screen);
      await app.saved(page);
      // No timer runs any more: typing never rests.
      await page.clock.pauseAt(await page.evaluate(() => Date.now() + 1000));
      const [, text] = await typeInto(page, screen);
      assert.ok(!JSON.stringify(await app.keptRows(page)).includes(text), screen);
      await page.evaluate(() => {
        Object.defineProperty(document, "visibilityState", { value: "hidden", configurable: true });
        document.dispatchEvent(new Event("visibilitychange"));
        delete document.visibilityState;
      });
      await app.saved(page);
      assert.ok(JSON.stringify(await app.keptRows(page)).includes(text), screen);
      await page.clock.resume();
    }
    await context.close();
  });

  test("what is typed is kept when the browser's Back is used at once", async () => {
    const { page, context } = await app.visit(chrome, site);
    await app.openDemo(page);
    await app.goTo(page, "Job");
    await app.type(page, "Which unit", "The one by the crane");
    await page.goBack();
    await app.at(page, "Stem");
    await app.goTo(page, "Job");
    assert.equal(await app.field(page, "Which unit").inputValue(), "The one by the crane");
    await context.close();
  });

  test("the wait goes on by the clock while the page is away", async () => {
    const start = new Date("2026-06-15T13:00:00Z");
    let { page, context } = await app.visit(chrome, site, {
      prepare: (page) => page.clock.install({ time: start }),
    });
    await app.openDemo(page);
    await app.tap(page, /^I turned it/);
    const began = await page.evaluate(() => Date.now());
    await app.saved(page);
    const left = async () => {
      const text = await page.locator(".ring-left").textContent();
      const [, sign, min, sec] = /^(\+?)(\d+):(\d\d)$/.exec(text);
      return (sign ? -1 : 1) * (60 * min + Number(sec));
    };
    const due = async () => (began + 15 * 60_000 - (await page.evaluate(() => Date.now()))) / 1000;
    await page.getByRole("timer").waitFor();
    assert.ok(Math.abs((await left()) - (await due())) <= 1);
    await page.clock.fastForward("06:00");
    await page.reload();
    await page.getByRole("timer").waitFor();
    assert.ok(Math.abs((await left()) - (await due())) <= 1);
    // Over its time it counts on, and says so: time up is not settled.
    await page.clock.fastForward("12:20");
    await page.getByText(/^Time was up at/).waitFor();
    assert.ok(Math.abs((await left()) - (await due())) <= 1);
    assert.match(await page.locator(".waiting [role=status]").innerText(), /not settled/);
    await context.close();
  });

  test("units change what is shown and nothing that is kept", async () => {
    const { page, context, heard } = await app.visit(chrome, site);
    await app.openDemo(page);
    await app.goTo(page, "Reading");
    await app.typeAll(page, { "Suction pressure": "64.90", "Suction line": "58.0" });
    await app.saved(page);
    const kept = await app.keptRows(page);
    const units = async (temperature, pressure) => {
      await app.goHome(page);
      await app.goAbout(page);
      await app.pick(page, "Temperatures", temperature);
      await app.pick(page, "Pressures", pressure);
      await app.goHome(page);
      await app.tap(page, /^Go on/);
      await app.at(page, "Reading");
    };
    const value = (name) => app.field(page, name).inputValue();

    await units("°C", "kPa");
    // 1 psi = 6.894757 kPa (NIST SP 811, 2008, B.8); 58 °F is 14.44 °C.
    assert.equal(Number(await value("Suction pressure")), Math.round(64.9 * 6.894757 * 10) / 10);
    assert.equal(await value("Suction line"), "14.4");
    await units("°C", "bar");
    assert.equal(Number(await value("Suction pressure")), 4.47);
    await units("°C", "psi");
    await units("°F", "psi");
    assert.equal(await value("Suction pressure"), "64.90");
    assert.equal(await value("Suction line"), "58.0");
    assert.deepEqual(await app.keptRows(page), kept, "nothing was saved by a change of units");
    assert.deepEqual(heard, []);
    await context.close();
  });

  test("a decimal comma is a decimal, and what is no number is said and kept", async () => {
    const { page, context } = await app.visit(chrome, site);
    await app.openDemo(page);
    await app.goTo(page, "Job");
    await app.type(page, "Nominal capacity", "1,5");
    await app.type(page, "Suction line loss allowed", "1,5");
    await app.goTo(page, "Proof");
    await app.tap(page, "Show the record");
    const record = await page.locator(".record").innerText();
    assert.match(record, /Nominal capacity\s+1\.5 tons/);
    assert.match(record, /Suction line loss added\s+1\.5 psi/);
    await app.goTo(page, "Reading");
    for (const text of ["1.2.3", "abc", "9999"]) {
      await app.type(page, "Suction line", text);
      const input = app.field(page, "Suction line");
      assert.equal(await input.getAttribute("aria-invalid"), "true", text);
      assert.equal(await input.inputValue(), text);
      const ids = (await input.getAttribute("aria-describedby")).split(" ");
      const said = await page.evaluate((ids) => ids.map((id) => document.getElementById(id).innerText).join(" "), ids);
      assert.match(said, /Not usable:/, text);
    }
    await app.type(page, "Suction line", "12,5");
    const sign = page.getByRole("button", { name: "Change sign of suction line" });
    await sign.tap();
    assert.equal(await app.field(page, "Suction line").inputValue(), "-12,5");
    await sign.tap();
    assert.equal(await app.field(page, "Suction line").inputValue(), "12,5");
    await context.close();
  });

  test("Saved is said only after the disk has it, and every write asks for that", async () => {
    const { page, context } = await app.visit(chrome, site, { prepare: (page) => page.addInitScript(holdWrites) });
    await app.openDemo(page);
    await app.goTo(page, "Reading");
    await app.saved(page);
    await hold(page);
    await app.field(page, "Suction pressure").tap();
    await page.keyboard.type("6");
    assert.equal(await chip(page).innerText(), "Saving…", "while typing rests");
    await page.waitForTimeout(1500);
    assert.equal(await chip(page).innerText(), "Saving…", "while the write is under way");
    await release(page);
    await app.saved(page);
    const writes = await page.evaluate(() => window.writes);
    assert.ok(writes.length >= 3);
    assert.deepEqual([...new Set(writes)], ["strict"]);
    await context.close();
  });

  test("a write whose end was not heard is said, and is mended by the next one", async () => {
    const { page, context } = await app.visit(chrome, site, {
      prepare: async (page) => {
        await page.clock.install();
        await page.addInitScript(holdWrites);
      },
    });
    await app.openDemo(page);
    await app.goTo(page, "Reading");
    await app.saved(page);
    await hold(page);
    await typeAndWrite(page, "64");
    // Longer than the storage is waited for.
    await page.clock.fastForward("00:12");
    await chip(page).getByText("Not saved").waitFor();
    assert.match(await page.getByRole("alert").innerText(), /not saved/);
    assert.equal(await app.field(page, "Suction pressure").inputValue(), "64");
    await page.evaluate(() => {
      window.release();
      window.hold = null;
    });
    await app.type(page, "Suction line", "58");
    await app.saved(page);
    await page.reload();
    await app.at(page, "Reading");
    assert.equal(await app.field(page, "Suction pressure").inputValue(), "64");
    assert.equal(await app.field(page, "Suction line").inputValue(), "58");
    await context.close();
  });

  test("a phone that slept in the middle of a save does not call it lost", async () => {
    const { page, context } = await app.visit(chrome, site, {
      prepare: async (page) => {
        await page.clock.install();
        await page.addInitScript(holdWrites);
      },
    });
    await app.openDemo(page);
    await app.goTo(page, "Reading");
    await app.saved(page);
    await hold(page);
    await typeAndWrite(page, "64");
    // Awake again: the timer is overdue, and the storage's answer stands in line behind it.
    await page.clock.fastForward("10:00");
    await release(page);
    await app.saved(page);
    assert.equal(await page.getByRole("alert").count(), 0);
    await context.close();
  });

  test("results are spoken once, when typing rests, with number, unit and verdict", async () => {
    // By the real clock: the walk's own gives timers numbers that do not fit the page's 32 bits, so
    // that none could be called off.
    const { page, context } = await app.visit(chrome, site);
    await app.openDemo(page);
    await app.goTo(page, "Reading");
    const region = page.locator(".side [role=status]");
    assert.equal(await region.innerText(), "", "there from the start, and empty");
    await app.type(page, "Suction line", "58.4");
    await app.field(page, "Suction pressure").tap();
    await page.waitForTimeout(1200);
    await region.evaluate((node) => {
      window.spoken = 0;
      const all = { childList: true, characterData: true, subtree: true };
      new MutationObserver((records) => (window.spoken += records.length)).observe(node, all);
    });
    await page.keyboard.type("65.10", { delay: 20 });
    await page.waitForTimeout(2000);
    assert.equal(await page.evaluate(() => window.spoken), 1);
    assert.match(await region.innerText(), /Superheat \d+\.\d ±\d\.\d °F, above/);
    await context.close();
  });
});
