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

/// A page of its own, offline; `before` runs in it ahead of its scripts. What goes wrong there is kept in `page.complaints`.
const openPage = async (browser, file, { before, ...options } = {}) => {
  const context = await browser.newContext({ viewport: desk, offline: true, acceptDownloads: true, ...options });
  context.setDefaultTimeout(patience_ms);
  const page = await context.newPage();
  if (before) await page.addInitScript(before);
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

/// A page whose library a test asks as the page itself does, in the page's own worker: `page.inquire(request)`.
const openAsking = async (browser, file, options = {}) => {
  const page = await openPage(browser, file, { ...options, before: () => {
    const Own = window.Worker;
    const waiting = new Map();
    window.Worker = class extends Own {
      constructor(...given) {
        super(...given);
        // Before the page's own listener, which knows no questions but its own.
        this.addEventListener("message", (event) => {
          if (!waiting.has(event.data.id)) return;
          event.stopImmediatePropagation();
          waiting.get(event.data.id)(event.data);
        });
        window.inquire = (request) => new Promise((done) => {
          const id = `test ${waiting.size}`;
          waiting.set(id, ({ reply, failed }) => done(reply ?? { ok: false, problems: [{ text: failed }] }));
          this.postMessage({ id, request });
        });
      }
    };
  } });
  page.inquire = (request) => page.evaluate((asked) => window.inquire(asked), request);
  return page;
};

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
/// As it came, on its form.
const fresh = async (page) => {
  page.complaints.length = 0;
  await show(page, "File");
  await page.getByRole("button", { name: "Erase everything" }).click();
  await page.locator("#file-said", { hasText: "Erased" }).waitFor();
  await show(page, "Recce");
  return page;
};

const words = (page, place = "#answer-lines") => page.locator(place).innerText().then((t) => t.replaceAll("\u00a0", " ").replace(/\s+/g, " "));
const sound = (page) => page.locator("#state", { hasText: /^Sound$/ }).waitFor();
const text = (page) => page.locator("#text").inputValue();

/// What --json says of the page's own file.
const ask = (toml, ...words) => {
  const file = path.join(pages, `asked-${process.pid}.toml`);
  fs.writeFileSync(file, toml);
  return run(words[0], file, ...words.slice(1));
};

module.exports = { answer, ask, desk, fresh, launch, locations, makePage, openAsking, openPage, pages, patience_ms, phone, ready, run, show, sound, text, touch, until, words };
