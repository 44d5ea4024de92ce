"use strict";
// The pocket page in Firefox ESR, through WebDriver BiDi: opened from a file, typed into, reloaded, moved.

const assert = require("node:assert/strict");
const { execFileSync } = require("node:child_process");
const fs = require("node:fs");
const path = require("node:path");
const { pathToFileURL } = require("node:url");
const { test } = require("node:test");
const { _bidiFirefox } = require("playwright-core");
const { answer, locations, makePage, patience_ms, ready, show, text, until } = require("./pocket_page.js");

const firefox = ["firefox-esr", "firefox"].map((name) => {
  try { return execFileSync("which", [name], { encoding: "utf8" }).trim(); } catch { return ""; }
}).find(Boolean);
const absent = "firefox is absent (Debian: firefox-esr)";
const skip = firefox || process.env.CI ? false : absent;

test("Firefox opens the page from a file, answers, keeps what is typed and moves a mark", { skip }, async () => {
  assert.ok(firefox, absent);
  const file = makePage("firefox", "tallow-lane.toml");
  const browser = await _bidiFirefox.launch({ executablePath: firefox, headless: true, timeout: patience_ms });
  try {
    const context = await browser.newContext();
    context.setDefaultTimeout(patience_ms);
    const page = await context.newPage();
    await page.goto(pathToFileURL(file).href);
    await ready(page);
    await page.locator("#state", { hasText: /^Sound$/ }).waitFor();
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
  } finally {
    await browser.close();
  }
});
