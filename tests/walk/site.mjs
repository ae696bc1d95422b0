// What every walk needs: the built site on a server that can be stopped, and
// the system's browser.
//
// `cargo xtask test` sets the environment:
//   EVENFEED_SITE  the folder of the built site
//   EVENFEED_HOST  the command that serves a folder
//   CHROMIUM       the browser
import { spawn } from "node:child_process";
import { once } from "node:events";
import { chromium } from "playwright-core";

const need = (name) => {
  const value = process.env[name];
  if (!value) throw new Error(`${name} is not set; run \`cargo xtask test\``);
  return value;
};

/** The folder of the built site. */
export const SITE = need("EVENFEED_SITE");

/**
 * Serves a folder; resolves to its address and the way to stop it.
 *
 * Port 0 takes any free port; a given one serves an address again.
 */
export const host = async (folder = SITE, port = 0) => {
  const [program, ...words] = need("EVENFEED_HOST").split(" ");
  const server = spawn(program, [...words, folder, "--port", String(port)], {
    stdio: ["ignore", "pipe", "inherit"],
  });
  const [line] = await Promise.race([
    once(server.stdout, "data"),
    once(server, "exit").then(([status]) => {
      throw new Error(`the server ended with ${status}`);
    }),
  ]);
  const url = String(line).trim();
  const stop = async () => {
    if (server.exitCode !== null || server.signalCode !== null) return;
    const ended = once(server, "exit");
    server.kill();
    await ended;
  };
  return { url, port: Number(new URL(url).port), stop };
};

/** The browser, without a window and without calls of its own. */
export const browser = () =>
  chromium.launch({
    executablePath: need("CHROMIUM"),
    args: [
      "--no-sandbox",
      "--disable-gpu",
      "--disable-quic",
      "--no-first-run",
      "--disable-background-networking",
      "--disable-component-update",
      "--disable-sync",
    ],
  });

// Trunk marks the preload of the Wasm too, where this browser does not look at the mark (yet).
const KNOWN = /`integrity` attribute is currently ignored for preload/;

/** A list that fills with everything the page complains of. */
export const complaints = (page) => {
  const list = [];
  page.on("console", (message) => {
    const bad = ["error", "warning"].includes(message.type());
    if (bad && !KNOWN.test(message.text())) list.push(message.text());
  });
  page.on("pageerror", (error) => list.push(String(error)));
  page.on("requestfailed", (request) => list.push(`${request.url()} ${request.failure()?.errorText}`));
  return list;
};

/** Asks a service worker of the page what it keeps: `{ready, build}`. */
export const kept = (page, which = "active") =>
  page.evaluate(async (which) => {
    const registration = await navigator.serviceWorker.ready;
    if (!registration[which]) return null;
    const { port1, port2 } = new MessageChannel();
    const answer = new Promise((resolve) => (port1.onmessage = ({ data }) => resolve(data)));
    registration[which].postMessage("STATE?", [port2]);
    return answer;
  }, which);
