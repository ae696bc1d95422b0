// What the walks through the app share: a visit, and the ways of a thumb.
import { mkdir } from "node:fs/promises";
import { fileURLToPath } from "node:url";
import { complaints } from "./site.mjs";

/** The screens of a job, in order. */
export const SCREENS = ["Job", "Look first", "Reading", "Finding", "Stem", "Proof"];

/** A phone held in one hand, in CSS pixels. */
export const PHONE = { width: 360, height: 740 };

/** Where pictures go; not committed. */
export const OUT = fileURLToPath(new URL("../out/", import.meta.url));

/**
 * Opens the site for a new person: nothing kept, a phone, its clock in their zone.
 *
 * - `prepare`: runs on the page before it loads.
 *
 * Resolves to the page, its context, and what it complained of. A blocked script or style is a
 * complaint too: the browser writes it to the console.
 */
export const visit = async (chrome, site, { prepare = async () => {}, ...options } = {}) => {
  const context = await chrome.newContext({
    viewport: PHONE,
    hasTouch: true,
    locale: "en-US",
    timezoneId: "America/Halifax",
    ...options,
  });
  // Nothing here takes seconds; what does is a fault, and should be said soon.
  context.setDefaultTimeout(8000);
  context.setDefaultNavigationTimeout(30_000);
  const load = async () => {
    const opened = await another(context, site, prepare);
    // From here on everything comes from what is kept.
    await opened.page.evaluate(() => navigator.serviceWorker.ready.then(() => {}));
    return opened;
  };
  // One first load after the other: a plain server need not bear more.
  const turn = line.then(load);
  line = turn.catch(() => {});
  const { page, heard } = await turn;
  return { context, page, heard };
};
let line = Promise.resolve();

/** Opens the root address in one more window of the same person. */
export const another = async (context, site, prepare = async () => {}) => {
  const page = await context.newPage();
  const heard = complaints(page);
  await prepare(page);
  await page.goto(site.url);
  await page.locator("main h1").waitFor();
  return { page, heard };
};

/** Waits until the first screen says that it works without a signal. */
export const readyOffline = (page) => page.getByText("Ready offline", { exact: true }).waitFor();

/** Taps the button of that name. */
export const tap = (page, name) => page.getByRole("button", { name, exact: typeof name === "string" }).tap();

/** Opens what is folded under that heading. */
export const unfold = (page, name) => page.locator("summary", { hasText: name }).first().tap();

/** Picks one of a few: `pick(page, "Metering device", "TXV, adjustable")`. */
export const pick = (page, group, choice) =>
  page.getByRole("group", { name: group, exact: true }).getByText(choice, { exact: true }).tap();

/** The field of that name; its unit is part of the name. */
export const field = (page, name) => page.getByRole("textbox", { name: new RegExp(`^${escaped(name)}( \\(|$)`) });

/** Types over what stands in a field, key by key. */
export const type = async (page, name, text) => {
  const input = field(page, name);
  await input.tap();
  await input.selectText();
  await page.keyboard.press("Backspace");
  await page.keyboard.type(text);
};

/** Types many fields: `{ name: text }`. */
export const typeAll = async (page, entries) => {
  for (const [name, text] of Object.entries(entries)) await type(page, name, text);
};

/** Goes to a screen of the open job by the steps on top. */
export const goTo = async (page, screen) => {
  await page.getByRole("navigation").getByRole("button", { name: screen, exact: true }).tap();
  await at(page, screen);
};

/** Waits until the screen of that heading stands. */
export const at = (page, screen) =>
  page.getByRole("heading", { level: 1, name: new RegExp(`^${screen}`) }).waitFor();

/** Goes to the first screen. */
export const goHome = async (page) => {
  await tap(page, "Evenfeed");
  await at(page, "Set the valve");
};

/** Goes from the first screen to units and theme. */
export const goAbout = async (page) => {
  await tap(page, /^Units, theme, about/);
  await at(page, "Units, theme, about");
};

/** Goes from the first screen to the kept jobs, and waits until they are listed. */
export const goKept = async (page) => {
  await tap(page, /^Kept jobs/);
  await at(page, "Kept jobs");
  await page.getByRole("button", { name: /^Remove/ }).first().waitFor();
};

/** Opens a fresh copy of the demo job. It opens at Stem. */
export const openDemo = async (page) => {
  await tap(page, /^Demo job/);
  await at(page, "Stem");
};

/** Waits until what was typed or tapped last is kept. */
export const saved = (page) => page.locator(".saved").getByText("Saved", { exact: true }).waitFor();

/** Marks every check of Look first that this device has. */
export const markAll = async (page, state = "Done") => {
  const checks = page.locator(".check");
  for (let i = 0; i < (await checks.count()); i += 1) {
    await checks.nth(i).getByText(state, { exact: true }).tap();
  }
};

/** Opens everything that is folded on this screen. */
export const unfoldAll = (page) =>
  page.evaluate(() => document.querySelectorAll("details").forEach((one) => (one.open = true)));

/** What the page keeps of its jobs, in the order of its keys. */
export const keptRows = (page) =>
  page.evaluate(async () => {
    const settled = (request) =>
      new Promise((resolve, reject) => {
        request.onsuccess = () => resolve(request.result);
        request.onerror = () => reject(request.error);
      });
    const database = await settled(indexedDB.open("evenfeed"));
    const rows = {};
    for (const name of database.objectStoreNames) {
      if (name !== "settings") rows[name] = await settled(database.transaction(name).objectStore(name).getAll());
    }
    database.close();
    return rows;
  });

/** Takes a picture of what the screen shows; resolves to its path. */
export const picture = async (page, name) => {
  await mkdir(OUT, { recursive: true });
  const path = `${OUT}${name}.png`;
  // The browser marks a tap for a moment.
  await page.waitForTimeout(300);
  await page.screenshot({ path });
  return path;
};

const escaped = (text) => text.replace(/[.*+?^${}()|[\]\\]/g, "\\$&");
