// Read by a machine, seen in the sun, in another theme, without colour, without motion.
import assert from "node:assert/strict";
import { readFile } from "node:fs/promises";
import { createRequire } from "node:module";
import { after, before, describe, test } from "node:test";
import { browser, host } from "./site.mjs";
import * as app from "./app.mjs";

let chrome, site, axe;
before(async () => {
  const script = createRequire(import.meta.url).resolve("axe-core/axe.min.js");
  [chrome, site, axe] = await Promise.all([browser(), host(), readFile(script, "utf8")]);
});
after(async () => {
  await chrome?.close();
  await site?.stop();
});

const LAPTOP = { width: 1366, height: 768 };

// Everything that axe knows, and two rules that it leaves out unless asked: WCAG 2.2, 2.5.8 and 1.4.6.
const judge = async (page, where) => {
  const faults = await page.evaluate(async () => {
    const rules = { "target-size": { enabled: true }, "color-contrast-enhanced": { enabled: true } };
    const { violations } = await window.axe.run(document, { rules, resultTypes: ["violations"] });
    return violations.flatMap(({ id, nodes }) => nodes.map((node) => `${id}: ${node.target} ${node.failureSummary}`));
  });
  assert.deepEqual(faults, [], where);
};

// axe does not look into SVG. Text 7:1 (WCAG 1.4.6), marks 3:1 (1.4.11), against the ground behind.
const judgeDrawings = async (page, where) => {
  const faults = await page.evaluate(() => {
    const light = (colour) => {
      const parts = colour.match(/[\d.]+/g).slice(0, 3).map((part) => {
        const share = Number(part) / 255;
        return share <= 0.04045 ? share / 12.92 : ((share + 0.055) / 1.055) ** 2.4;
      });
      return 0.2126 * parts[0] + 0.7152 * parts[1] + 0.0722 * parts[2];
    };
    const ratio = (one, other) => {
      const [dark, bright] = [light(one), light(other)].sort((a, b) => a - b);
      return (bright + 0.05) / (dark + 0.05);
    };
    const ground = (node) => {
      for (let at = node; at; at = at.parentElement) {
        const colour = getComputedStyle(at).backgroundColor;
        if (colour !== "rgba(0, 0, 0, 0)") return colour;
      }
      return "rgb(255, 255, 255)";
    };
    const found = [];
    const need = (node, paint, least) => {
      const colour = getComputedStyle(node)[paint];
      if (colour === "none") return;
      const was = ratio(colour, ground(node.closest("svg")));
      if (was < least) found.push(`${node.tagName}.${node.getAttribute("class")} ${paint} ${was.toFixed(1)}`);
    };
    const all = (what) => document.querySelectorAll(`main ${what}`);
    all("svg text").forEach((node) => need(node, "fill", 7));
    all(".band-edge, .band-strip .edge, .path, .turn, .ahead-middle, .mark.out, .ring-front, .band-strip .whisker").forEach((node) => node.closest("svg") && need(node, "stroke", 3));
    all(".mark.in, .band-strip .value, .weight-bar .front").forEach((node) => need(node, "fill", 3));
    return found;
  });
  assert.deepEqual(faults, [], where);
};

const setTheme = async (page, theme) => {
  await app.goHome(page);
  await app.goAbout(page);
  await app.pick(page, "Theme", theme);
  await app.goHome(page);
};

// What each state of each screen needs before it is looked at.
const everywhere = async (page, look) => {
  await look("first screen");
  await app.goAbout(page);
  await look("about");
  await app.goHome(page);
  await app.openDemo(page);
  for (const screen of app.SCREENS) {
    await app.goTo(page, screen);
    if (screen === "Reading") {
      // An alarm, a doubt and a fault at once.
      await app.typeAll(page, { "Suction pressure": "65", "Suction line": "39", "Liquid pressure": "226", "Liquid line": "9x" });
    }
    if (screen === "Look first") await app.pick(page, "Indoor airflow right", "Not done");
    if (screen === "Proof") await app.tap(page, "Show the record");
    await app.unfoldAll(page);
    await look(screen);
    if (screen === "Stem") await look("stem shut");
    if (screen === "Look first") await app.pick(page, "Indoor airflow right", "Done");
    if (screen === "Reading") {
      await app.type(page, "Suction line", "58.4");
      await app.type(page, "Liquid line", "98.4");
      await look("Reading, all well");
    }
  }
  await app.goTo(page, "Stem");
  await app.tap(page, /^I turned it/);
  await page.getByRole("timer").waitFor();
  await app.unfoldAll(page);
  await look("Stem, waiting");
  await app.goHome(page);
  await app.goKept(page);
  await look("kept jobs");
  await app.tap(page, /^Remove/);
  await page.getByRole("button", { name: "Bring it back" }).waitFor();
  await look("kept jobs, one removed");
};

describe("reach", { concurrency: 3 }, () => {
  for (const theme of ["Sun: black on white", "Dusk: light on dark"]) {
    test(`every screen is clean by axe and readable in ${theme}`, async () => {
      const { page, context, heard } = await app.visit(chrome, site, { bypassCSP: true });
      await page.evaluate(axe);
      await setTheme(page, theme);
      await everywhere(page, async (where) => {
        for (const size of [app.PHONE, LAPTOP]) {
          await page.setViewportSize(size);
          await judge(page, `${where} at ${size.width}`);
          await judgeDrawings(page, `${where} at ${size.width}`);
        }
        await page.setViewportSize(app.PHONE);
      });
      assert.deepEqual(heard, []);
      await context.close();
    });
  }

  test("with reduced motion nothing moves by itself", async () => {
    const { page, context } = await app.visit(chrome, site, { reducedMotion: "reduce" });
    await everywhere(page, async (where) => {
      // The ring is painted anew each second.
      if (where === "Stem, waiting") await page.waitForTimeout(1300);
      const moving = await page.evaluate(() => document.getAnimations().map((one) => one.animationName ?? one.transitionProperty));
      assert.deepEqual(moving, [], where);
    });
    await context.close();
  });

  test("without colour every status still has its word, its shape, and a frame that is seen", async () => {
    const { page, context } = await app.visit(chrome, site);
    const session = await context.newCDPSession(page);
    const look = async () => {
      await app.openDemo(page);
      await app.goTo(page, "Reading");
      const verdict = async (line) => {
        await app.typeAll(page, { "Suction pressure": "65.1", "Suction line": line });
        const mark = page.locator(".verdict").first();
        return { word: (await mark.innerText()).trim(), shape: await mark.locator("path").getAttribute("d") };
      };
      // Dew at 67.1 psig is 38.97 °F (R-22, as in the record of the demo job); band 8 to 12 °F.
      const seen = [await verdict("58.4"), await verdict("49.0"), await verdict("51.0"), await verdict("45.0")];
      assert.deepEqual(seen.map(({ word }) => word), ["above", "in band", "can't tell", "below"]);
      assert.equal(new Set(seen.map(({ shape }) => shape)).size, 4);
      await app.goTo(page, "Look first");
      const done = page.getByRole("group", { name: "Safe to work" }).getByText("Done", { exact: true });
      assert.match(await done.evaluate((label) => getComputedStyle(label, "::before").content), /✓/);
      await app.goTo(page, "Proof");
      assert.match((await page.locator(".proved").allInnerTexts()).join(), /Outside its band.*Proved in band/s);
      await app.goHome(page);
    };
    await session.send("Emulation.setEmulatedVisionDeficiency", { type: "achromatopsia" });
    await look();
    await session.send("Emulation.setEmulatedVisionDeficiency", { type: "none" });
    await page.emulateMedia({ forcedColors: "active" });
    await look();
    await app.openDemo(page);
    await app.goTo(page, "Look first");
    // The chosen one of three is told apart by more than its fill.
    const group = page.getByRole("group", { name: "Safe to work" });
    const looks = await group.locator("label").evaluateAll((labels) =>
      labels.map((label) => [getComputedStyle(label).backgroundColor, getComputedStyle(label, "::before").content].join()),
    );
    assert.notEqual(looks[0], looks[1]);
    assert.equal(looks[1], looks[2]);
    await context.close();
  });
});
