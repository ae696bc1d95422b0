// Just enough of PDF to read what the browser prints: its pages, and the text on them.
//
// The browser writes fonts with two-byte glyph numbers and a table from glyphs to letters beside each
// (ISO 32000-1:2008, 9.10.3).
import { inflateSync } from "node:zlib";

const objects = (bytes) => {
  const text = bytes.toString("latin1");
  const found = new Map();
  for (const match of text.matchAll(/(\d+) 0 obj\n([\s\S]*?)\nendobj/g)) {
    const start = match[2].indexOf("stream\n");
    const head = start < 0 ? match[2] : match[2].slice(0, start);
    const length = Number(/\/Length (\d+)/.exec(head)?.[1] ?? 0);
    const raw = start < 0 ? "" : match[2].slice(start + 7, start + 7 + length);
    const data = Buffer.from(raw, "latin1");
    const packed = head.includes("/FlateDecode");
    found.set(match[1], { head, body: packed ? inflateSync(data).toString("latin1") : raw });
  }
  return found;
};

const letters = (map) => {
  const table = new Map();
  const letter = (hex) => Buffer.from(hex, "hex").swap16().toString("utf16le");
  for (const [, block] of map.matchAll(/beginbfchar\n([\s\S]*?)endbfchar/g)) {
    for (const [, glyph, to] of block.matchAll(/<(\w+)> <(\w+)>/g)) table.set(parseInt(glyph, 16), letter(to));
  }
  for (const [, block] of map.matchAll(/beginbfrange\n([\s\S]*?)endbfrange/g)) {
    for (const [, from, to, first] of block.matchAll(/<(\w+)> <(\w+)> <(\w+)>/g)) {
      for (let glyph = parseInt(from, 16), at = parseInt(first, 16); glyph <= parseInt(to, 16); glyph += 1, at += 1) {
        table.set(glyph, String.fromCharCode(at));
      }
    }
  }
  return table;
};

/** How many pages, and the text of all of them without its spaces. */
export const readPdf = (bytes) => {
  const all = objects(bytes);
  const pages = [...all.values()].filter(({ head }) => /\/Type \/Page\b(?!s)/.test(head));
  let text = "";
  for (const { head } of pages) {
    const fonts = new Map();
    for (const [, name, number] of head.matchAll(/\/(F\d+) (\d+) 0 R/g)) {
      const map = /\/ToUnicode (\d+) 0 R/.exec(all.get(number).head)?.[1];
      if (map) fonts.set(name, letters(all.get(map).body));
    }
    const [, content] = /\/Contents (\d+) 0 R/.exec(head);
    let font = new Map();
    for (const [, name, hex] of all.get(content).body.matchAll(/\/(F\d+) [\d.]+ Tf|<([0-9A-Fa-f]+)>/g)) {
      if (name) font = fonts.get(name) ?? new Map();
      else for (let i = 0; i < hex.length; i += 4) text += font.get(parseInt(hex.slice(i, i + 4), 16)) ?? "";
    }
  }
  return { pages: pages.length, text: text.replace(/\s/g, "").normalize("NFKC") };
};
