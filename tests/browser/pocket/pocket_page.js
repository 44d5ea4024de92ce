"use strict";
// What the pocket page's tests share: the page as the program writes it, opened from a file with the
// network forbidden, and a recce as a person types it.

const fs = require("node:fs");
const path = require("node:path");
const { pathToFileURL } = require("node:url");
const { launch, locations, pages, run } = require("../sheet_page.js");

/// A busy machine takes long to compile the library; nothing here waits so long by itself.
const patience_ms = 120000;

const phone = { width: 390, height: 844 };
const desk = { width: 1280, height: 900 };
const touch = { viewport: phone, hasTouch: true, isMobile: true };

/// The path of a fresh page with locations: names in locations/, or { name, text }.
const makePage = (name, ...files) => {
  fs.mkdirSync(path.join(pages, `${name} in`), { recursive: true });
  const given = files.map((file) => {
    if (typeof file === "string") return path.join(locations, file);
    const there = path.join(pages, `${name} in`, file.name);
    fs.writeFileSync(there, file.text);
    return there;
  });
  const page = path.join(pages, `${name}.html`);
  fs.rmSync(page, { force: true });
  run("pocket", "-o", page, ...given);
  return page;
};

/// A page of its own, offline. What goes wrong there is kept in `page.complaints`.
const openPage = async (browser, file, options = {}) => {
  const context = await browser.newContext({ viewport: desk, offline: true, acceptDownloads: true, ...options });
  context.setDefaultTimeout(patience_ms);
  const page = await context.newPage();
  page.complaints = [];
  page.on("console", (m) => { if (["error", "warning"].includes(m.type())) page.complaints.push(m.text()); });
  page.on("pageerror", (e) => page.complaints.push(e.message));
  page.on("request", (r) => { if (!/^(file|blob):/.test(r.url())) page.complaints.push("asked for " + r.url()); });
  page.on("dialog", (d) => d.accept());
  await page.goto(pathToFileURL(file).href);
  await ready(page);
  return page;
};
const ready = (page) => page.locator("body[data-ready]").waitFor();

/// A view by the line of links.
const show = async (page, view) => {
  await page.getByRole("link", { name: view, exact: true }).click();
  await page.locator(`#${view.toLowerCase()}`).waitFor();
};
/// Asks in the page until it says something true. (waitForFunction evaluates text, which the page's policy forbids.)
const until = async (page, asked, ...given) => {
  for (const end = Date.now() + patience_ms; ; await page.waitForTimeout(50)) {
    const said = await page.evaluate(asked, ...given);
    if (said) return said;
    if (Date.now() > end) throw new Error(`not so after ${patience_ms / 1000} s: ${asked}`);
  }
};

const answer = async (page, date, question = "Key") => {
  await show(page, "Answer");
  if (date) await page.getByLabel("Date", { exact: true }).fill(date);
  await page.getByRole("group", { name: "Question" }).getByRole("button", { name: question, exact: true }).click();
};
const text = (page) => page.locator("#text").inputValue();

/// What --json says of the page's own file.
const ask = (toml, ...words) => {
  const file = path.join(pages, `asked-${process.pid}.toml`);
  fs.writeFileSync(file, toml);
  return run(words[0], file, ...words.slice(1));
};

module.exports = { answer, ask, desk, launch, locations, makePage, openPage, pages, patience_ms, phone, ready, run, show, text, touch, until };
