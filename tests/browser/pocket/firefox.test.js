"use strict";
// The pocket page in Firefox ESR, through WebDriver BiDi: opened from a file, typed into, reloaded, moved.

const assert = require("node:assert/strict");
const { execFileSync } = require("node:child_process");
const fs = require("node:fs");
const path = require("node:path");
const { pathToFileURL } = require("node:url");
const { test } = require("node:test");
const { _bidiFirefox } = require("playwright-core");
const http = require("node:http");
const { answer, ask, locations, makePage, patience_ms, ready, show, sound, text, until, words } = require("./pocket_page.js");
const { byKeys, typeRecce } = require("./recce_typing.js");

const firefox = ["firefox-esr", "firefox"].map((name) => {
  try { return execFileSync("which", [name], { encoding: "utf8" }).trim(); } catch { return ""; }
}).find(Boolean);
const absent = "firefox is absent (Debian: firefox-esr)";
const skip = firefox || process.env.CI ? false : absent;

const open = async (work) => {
  assert.ok(firefox, absent);
  const browser = await _bidiFirefox.launch({ executablePath: firefox, headless: true, timeout: patience_ms });
  try {
    const context = await browser.newContext();
    context.setDefaultTimeout(patience_ms);
    await work(await context.newPage());
  } finally {
    await browser.close();
  }
};

test("Firefox opens the page from a file, answers, keeps what is typed and moves a mark", { skip }, () => open(async (page) => {
  const file = makePage("firefox", "tallow-lane.toml");
  await page.goto(pathToFileURL(file).href);
  await ready(page);
  await sound(page);
  await answer(page, "2026-02-17");
  await page.locator("#answer-lines", { hasText: "clean key 12:59 to 14:18 (1 h 19" }).waitFor();
  await page.getByRole("button", { name: "Move mark type case" }).focus();
  await page.keyboard.press("ArrowRight");
  await page.locator("#worth", { hasText: /^Key .*, was 12:59 to 14:18/ }).waitFor();
  await page.getByRole("button", { name: "Keep it in the file" }).click();
  await until(page, () => JSON.stringify(localStorage).includes("[2.35, 1.8]"));
  await page.goto("about:blank");
  await page.goto(pathToFileURL(file).href);
  await ready(page);
  await show(page, "File");
  const tallow = fs.readFileSync(path.join(locations, "tallow-lane.toml"), "utf8");
  assert.equal(await text(page), tallow.replace("at = [2.3, 1.8]", "at = [2.35, 1.8]"));
}));

test("a whole recce is typed by keys into Firefox, on a page of a plain web server, and answered as the program answers it", { skip }, () => open(async (page) => {
  const file = makePage("firefox served");
  const server = http.createServer((request, response) => response.setHeader("content-type", "text/html").end(fs.readFileSync(file))).listen(0, "127.0.0.1");
  await new Promise((done) => server.once("listening", done));
  try {
    await page.goto(`http://127.0.0.1:${server.address().port}/`);
    await ready(page);
    await typeRecce(page, byKeys(page));
    await sound(page);
    await page.locator("#next", { hasText: /^Measure next: bearing/ }).waitFor();
    await answer(page, "2026-02-10");
    await page.locator("#answer-lines", { hasText: /clean key \d/ }).waitFor();
    const said = await words(page);
    await show(page, "File");
    const [minutes] = /clean key \d\d:\d\d to \d\d:\d\d/.exec(ask(await text(page), "key", "--date", "2026-02-10"));
    assert.ok(said.includes(minutes), `${minutes} is not in ${said}`);
  } finally {
    server.closeAllConnections();
    server.close();
  }
}));
