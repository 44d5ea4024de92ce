"use strict";
// What the browser tests share: pages made by the program, opened without a network.

const { execFileSync } = require("node:child_process");
const fs = require("node:fs");
const path = require("node:path");
const { pathToFileURL } = require("node:url");
const { chromium } = require("playwright-core");

const program = process.env.KEYHOUR_PROGRAM;
const locations = process.env.KEYHOUR_LOCATIONS;
const pages = process.env.KEYHOUR_PAGES;

const phone = { width: 360, height: 740 };
const desk = { width: 1280, height: 900 };

const run = (...words) => execFileSync(program, words, { encoding: "utf8", stdio: ["ignore", "pipe", "pipe"] });

/// The folder of a fresh light sheet. `location`: a name in locations/, or a path.
const makeSheet = (name, location, date, ...more) => {
  const folder = path.join(pages, name);
  fs.rmSync(folder, { recursive: true, force: true });
  run("sheet", path.resolve(locations, location), "--date", date, "--out", folder, ...more);
  return folder;
};

/// patch --json of a day at the slider's minutes, by their local clocks: "13:05".
const patchesOf = (location, date) => {
  const words = ["patch", path.resolve(locations, location), "--date", date, "--step", "5", "--json"];
  return new Map(JSON.parse(run(...words)).instants.map((now) => [now.local.slice(11, 16), now]));
};

/// An environment whose only font is DejaVu Sans.
const dejaVuAlone = () => {
  const fonts = path.join(pages, "fonts");
  fs.rmSync(fonts, { recursive: true, force: true });
  fs.mkdirSync(path.join(fonts, "cache"), { recursive: true });
  for (const style of ["Book", "Bold"]) {
    const file = execFileSync("fc-match", ["-f", "%{file}", `DejaVu Sans:style=${style}`], { encoding: "utf8" });
    if (!/DejaVuSans(-Bold)?\.ttf$/.test(file)) throw new Error(`DejaVu Sans ${style} is absent (Debian: fonts-dejavu-core)`);
    fs.copyFileSync(file, path.join(fonts, path.basename(file)));
  }
  const file = path.join(fonts, "fonts.conf");
  fs.writeFileSync(file, `<fontconfig><dir>${fonts}</dir><cachedir>${path.join(fonts, "cache")}</cachedir></fontconfig>\n`);
  return { ...process.env, FONTCONFIG_FILE: file };
};

const launch = (env = process.env) =>
  chromium.launch({
    env,
    timeout: 120000,
    executablePath: process.env.KEYHOUR_CHROMIUM,
    args: ["--no-sandbox", "--disable-gpu", "--disable-background-networking"],
  });

/// Brings a page to a sheet. What goes wrong there is kept in `page.complaints`.
const visit = async (page, folder, viewport = desk) => {
  page.complaints = [];
  await page.setViewportSize(viewport);
  await page.goto(pathToFileURL(path.join(folder, "sheet.html")).href);
};

/// A page of its own, offline.
const open = async (browser, folder, options = {}) => {
  const context = await browser.newContext({ viewport: desk, offline: true, ...options });
  const page = await context.newPage();
  page.on("console", (m) => { if (["error", "warning"].includes(m.type())) page.complaints.push(m.text()); });
  page.on("pageerror", (e) => page.complaints.push(e.message));
  page.on("dialog", (d) => { page.complaints.push("dialog: " + d.message()); d.dismiss(); });
  page.on("request", (r) => { if (!r.url().startsWith("file:")) page.complaints.push("asked for " + r.url()); });
  await visit(page, folder, options.viewport);
  return page;
};

module.exports = { dejaVuAlone, desk, launch, locations, makeSheet, open, pages, patchesOf, phone, run, visit };
