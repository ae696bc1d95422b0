// Room for gloves on every width, and pictures of every screen.
import assert from "node:assert/strict";
import { copyFile } from "node:fs/promises";
import { after, before, describe, test } from "node:test";
import { fileURLToPath } from "node:url";
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

// Pictures say the same time whenever they are taken.
const MORNING = new Date("2026-06-15T13:20:00Z");
// Those that the README shows. They are renewed when EVENFEED_SHOTS is set.
const SHOTS = new Map([["phone-stem", "stem.png"], ["phone-finding", "finding.png"]]);

const WIDTHS = [320, 360, 412, 768, 1366, 1920];
const HEIGHT = { 320: 568, 360: 740, 412: 915, 768: 1024, 1366: 768, 1920: 1080 };

// Every place there is, in the demo job, with one check open and a wait running at the end.
const places = async (page, look) => {
  await app.readyOffline(page);
  await look("first-screen");
  await app.openDemo(page);
  for (const screen of app.SCREENS) {
    await app.goTo(page, screen);
    if (screen === "Reading") {
      await app.typeAll(page, { "Suction pressure": "65.1", "Suction line": "58.4", "Liquid pressure": "226", "Liquid line": "98.4" });
    }
    await look(screen.toLowerCase().replace(" ", "-"));
  }
  await app.goTo(page, "Stem");
  await app.tap(page, /^I turned it/);
  await page.getByRole("timer").waitFor();
  await look("stem-waiting");
  await app.goHome(page);
  await app.goKept(page);
  await look("kept-jobs");
  await app.goHome(page);
  await app.goAbout(page);
  await look("about");
};

// For gloves: 48 px each way (48 dp, Android accessibility help). Inputs have 16 px text, under which
// iOS zooms in.
const measure = (page) =>
  page.evaluate(() => {
    const found = [];
    const say = (node, what) => found.push(`${node.tagName} ${node.id || node.innerText?.slice(0, 30)}: ${what}`);
    if (document.documentElement.scrollWidth > innerWidth) {
      const wide = [...document.querySelectorAll("body *")].filter((node) => node.getBoundingClientRect().right > innerWidth + 1);
      found.push(`${document.documentElement.scrollWidth} wide; ${wide.slice(0, 3).map((node) => node.outerHTML.slice(0, 80))}`);
    }
    // Boxes that cut their text off sideways, or whose words run out of them.
    for (const node of document.querySelectorAll("button, label, .result, .proved, .big, .big-name, summary")) {
      if (node.checkVisibility() && node.clientWidth && node.scrollWidth > node.clientWidth + 1) say(node, "words run out of it");
    }
    for (const node of document.querySelectorAll("button, summary, input, select, textarea")) {
      if (!node.checkVisibility()) continue;
      if (node.type === "number") say(node, "a number field");
      const spot = node.type === "radio" ? node.labels[0] : node;
      const { width, height } = spot.getBoundingClientRect();
      if (width < 48 || height < 48) say(spot, `${width.toFixed(0)} x ${height.toFixed(0)}`);
      if (node.matches("input[type=text], select") && parseFloat(getComputedStyle(node).fontSize) < 16) say(node, "small text");
    }
    return found;
  });

const lowAndLarge = async (page, where) => {
  const main = page.locator(".primary:visible");
  if ((await main.count()) === 0) return;
  const box = await main.last().boundingBox();
  assert.ok(box.y >= app.PHONE.height * 0.6 && box.height >= 64, `${where}: main action at ${box.y}, ${box.height} high`);
};

describe("layout", { concurrency: 3 }, () => {
  test("nothing runs over the side and every control fits a glove, from 320 to 1920 px", async () => {
    const { page, context, heard } = await app.visit(chrome, site);
    await places(page, async (where) => {
      await app.unfoldAll(page);
      for (const width of WIDTHS) {
        await page.setViewportSize({ width, height: HEIGHT[width] });
        assert.deepEqual(await measure(page), [], `${where} at ${width}`);
      }
      await page.setViewportSize(app.PHONE);
      await page.evaluate(() => scrollTo(0, 0));
      await lowAndLarge(page, where);
    });
    assert.equal(await page.getAttribute("meta[name=viewport]", "content"), "width=device-width, initial-scale=1, viewport-fit=cover");
    assert.deepEqual(heard, []);
    await context.close();
  });

  test("nothing at the end of a screen hides behind the bar at the foot", async () => {
    const { page, context } = await app.visit(chrome, site);
    await places(page, async (where) => {
      await app.unfoldAll(page);
      const hidden = await page.evaluate(() => {
        scrollTo(0, document.documentElement.scrollHeight);
        const bar = document.querySelector(".act")?.getBoundingClientRect().top ?? innerHeight;
        const parts = [...document.querySelectorAll("main section > *, main .body > *, main .side > *")];
        return parts
          .filter((node) => !node.matches(".act") && node.checkVisibility())
          .filter((node) => node.getBoundingClientRect().bottom > bar + 1)
          .map((node) => node.outerHTML.slice(0, 80));
      });
      assert.deepEqual(hidden, [], where);
    });
    await context.close();
  });

  // What the keyboard leaves of a phone.
  test("with the keyboard open the field and its results are seen", async () => {
    const { page, context } = await app.visit(chrome, site, { viewport: { width: 360, height: 380 } });
    await app.openDemo(page);
    await app.goTo(page, "Reading");
    for (const name of ["Suction pressure", "Suction line", "Liquid pressure", "Liquid line"]) {
      await app.field(page, name).tap();
      await page.keyboard.type("70");
      const seen = await page.evaluate(() => {
        const field = document.activeElement.getBoundingClientRect();
        const bar = document.querySelector(".act").getBoundingClientRect();
        const results = document.querySelector(".results").getBoundingClientRect();
        return {
          field: field.top >= results.bottom && field.bottom <= bar.top,
          results: results.top >= 0 && results.bottom <= bar.top,
          whole: [field.top, field.bottom, results.top, results.bottom, bar.top].map(Math.round).join(),
        };
      });
      assert.ok(seen.field && seen.results, `${name}: ${seen.whole}`);
    }
    await context.close();
  });

  for (const height of [740, 380]) {
    test(`by Tab nothing in focus hides behind a bar, ${height} px high`, async () => {
      const { page, context } = await app.visit(chrome, site, { viewport: { width: 360, height } });
      await app.openDemo(page);
      await app.goTo(page, "Reading");
      await app.unfoldAll(page);
      await page.locator("main").focus();
      const count = await page.evaluate(() => document.querySelectorAll("main :is(input, button, summary)").length);
      let last;
      for (let step = 0; step < count; step += 1) {
        await page.keyboard.press("Tab");
        const at = await page.evaluate(() => {
          const focused = document.activeElement;
          if (!focused.closest("main")) return null;
          const spot = focused.type === "radio" ? focused.labels[0] : focused;
          const { left, top, width, height } = spot.getBoundingClientRect();
          const there = document.elementFromPoint(left + width / 2, top + height / 2);
          const name = focused.id || focused.innerText;
          return { name, seen: spot === there || spot.contains(there), where: `${Math.round(top)} to ${Math.round(top + height)}` };
        });
        if (!at) break;
        assert.ok(at.seen, `${at.name} at ${at.where}`);
        last = at.name;
      }
      assert.equal(last, "Keep this reading");
      await context.close();
    });
  }

  for (const [name, width, height, scale] of [["phone", 360, 740, 2], ["laptop", 1366, 768, 1], ["projector", 1920, 1080, 1]]) {
    test(`pictures of every screen are taken on a ${name}`, async () => {
      const { page, context } = await app.visit(chrome, site, {
        viewport: { width, height },
        deviceScaleFactor: scale,
        prepare: (page) => page.clock.install({ time: MORNING }),
      });
      await places(page, async (where) => {
        const path = await app.picture(page, `${name}-${where}`);
        if (process.env.EVENFEED_SHOTS && SHOTS.has(`${name}-${where}`)) {
          await copyFile(path, fileURLToPath(new URL(`../shots/${SHOTS.get(`${name}-${where}`)}`, import.meta.url)));
        }
      });
      await context.close();
    });
  }
});
