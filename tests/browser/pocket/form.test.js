"use strict";
// What stands outside and what shines inside, typed into the pocket page's form; files that a location names;
// and what happens where the browser allows no worker, or the library stops.

const assert = require("node:assert/strict");
const fs = require("node:fs");
const path = require("node:path");
const { after, before, test } = require("node:test");
const { answer, ask, fresh, launch, locations, makePage, openAsking, openPage, ready, show, sound, text, touch, until, words } = require("./pocket_page.js");

const tallow = fs.readFileSync(path.join(locations, "tallow-lane.toml"), "utf8");
const date = "2026-02-17";
let browser, page;

before(async () => {
  browser = await launch();
  page = await openPage(browser, makePage("form", "tallow-lane.toml"), touch);
});
after(() => browser.close());

const group = (name) => page.getByRole("group", { name, exact: true });
const settled = (said) => page.locator("#state", { hasText: said }).waitFor();
const toml = async () => {
  await show(page, "File");
  const said = await text(page);
  await show(page, "Recce");
  return said;
};

test("a tree is typed by stem and crown, or as an outline, and stands in the answer", async () => {
  await fresh(page);
  await page.getByRole("button", { name: "Add a tree" }).tap();
  const tree = group("tree");
  await settled(/still needed|to mend/);
  await tree.getByLabel("Height above the ground").fill("11");
  await tree.getByLabel("below on the plan").fill("-9");
  await tree.getByLabel("left on the plan").fill("3");
  await tree.getByLabel("Crown, across").fill("6");
  await tree.getByLabel("First month").selectOption({ label: "April" });
  await tree.getByLabel("Last month").selectOption({ label: "October" });
  await sound(page);
  assert.match(await toml(), /\[\[tree\]\]\nname = "tree"\nheight_m = 11\nat = \[3, -9\]\ncrown_m = 6\nleaf = \["04", "10"\]\n/);
  // Another crown, corner by corner: off the street wall, whose left corner is at x = 7.2.
  await group("tree").getByLabel("left on the plan").fill("");
  await group("tree").getByLabel("below on the plan").fill("");
  await group("tree").getByLabel("Crown, across").fill("");
  await group("tree").getByRole("button", { name: "Crown of another outline" }).tap();
  for (const [i, [off, from]] of [["6", "1"], ["6", "5"], ["9", "7"], ["12", "3"]].entries()) {
    await page.locator(`#tree-0-footprint-corner-${i}-off`).fill(off);
    await page.locator(`#tree-0-footprint-corner-${i}-from`).fill(from);
  }
  await sound(page);
  assert.match(await toml(), /footprint = \[\[6\.2, -6\], \[2\.2, -6\], \[0\.2, -9\], \[4\.2, -12\]\]/);
  await page.getByRole("button", { name: "Remove tree" }).tap();
  await sound(page);
  assert.equal((await toml()).trimEnd(), tallow.trimEnd());
  assert.deepEqual(page.complaints, []);
});

test("a forge, a reading of the meter and a planned lock are typed and understood", async () => {
  await fresh(page);
  await page.getByRole("button", { name: "Add a forge, a hearth" }).tap();
  const forge = group("forge");
  for (const [label, value] of [["Opening, wide", "0.5"], ["Opening, tall", "0.4"], ["Its middle above the floor", "0.9"], ["Meter, lux", "120"], ["metered at a distance of", "1.5"]])
    await forge.getByLabel(label).fill(value);
  for (const [legend, at] of [["Its opening", ["0.3", "3.9"]], ["It looks towards", ["2", "3.9"]]])
    for (const [i, label] of ["left on the plan", "below on the plan"].entries()) await forge.getByRole("group", { name: legend }).getByLabel(label).fill(at[i]);
  await sound(page);
  await page.getByRole("button", { name: "Add a reading" }).tap();
  const reading = group("reading 1");
  await reading.getByLabel("At the mark").selectOption("type case");
  await reading.getByLabel("Sky").selectOption("overcast");
  await reading.getByLabel("or EV at ISO 100").fill("7.4");
  await reading.getByLabel("Read at").fill("2026-02-10T23:40");
  await reading.locator(".wrong", { hasText: "below the horizon" }).waitFor();
  await reading.getByLabel("Read at").fill("2026-02-10T13:40");
  await sound(page);
  const lock = page.getByRole("region", { name: "Planned lock" });
  await lock.getByLabel("Window the lamp shines through").selectOption("press window");
  await lock.getByLabel("Minutes").fill("600");
  await lock.getByLabel("Not before").fill("930");
  await lock.getByLabel("Done by").fill("17:00");
  await lock.locator(".wrong", { hasText: "a lock of 600 minutes is longer than the working hours" }).waitFor();
  await lock.getByLabel("Minutes").fill("90");
  await sound(page);
  const said = await toml();
  assert.match(said, /\[lock\]\nwindow = "press window"\nminutes = 90\nhours = \["09:30", "17:00"\]\n/);
  assert.match(said, /\[\[meter\]\]\nmark = "type case"\nsky = "overcast"\nev = 7\.4\ntime = "2026-02-10T13:40"\n/);
  assert.deepEqual(page.complaints, []);
});

test("an outline that is no rectangle is shown by its corners, and one figure of it changed", async () => {
  const bent = tallow.replace(/(\[\[object\]\][\s\S]*?footprint = )\[.*\]\n/, "$1[[4.4, 1.0], [6.0, 1.0], [6.0, 2.4], [5.0, 2.0], [4.4, 2.0]]\n");
  const own = await openPage(browser, makePage("bent", { name: "bent.toml", text: bent }));
  await sound(own);
  // Before the street wall, whose left corner is at x = 7.2.
  assert.equal(await own.locator("#object-0-footprint-corner-2-off").inputValue(), "2.4");
  assert.equal(await own.locator("#object-0-footprint-corner-2-from").inputValue(), "1.2");
  await own.locator("#object-0-footprint-corner-2-off").fill("2.5");
  await sound(own);
  await show(own, "File");
  assert.equal(await text(own), bent.replace("[6.0, 2.4]", "[6, 2.5]").replace("[[4.4, 1.0], [6.0, 1.0]", "[[4.4, 1], [6, 1]").replace("[5.0, 2.0], [4.4, 2.0]", "[5, 2], [4.4, 2]"));
  assert.deepEqual(own.complaints, []);
  await own.context().close();
});

test("every figure that is none is told beside its own field, all of them at once", async () => {
  await fresh(page);
  for (const kind of ["tree", "forge, a hearth", "reading"]) await page.getByRole("button", { name: `Add a ${kind}` }).tap();
  await page.evaluate(() => { for (const part of document.querySelectorAll("#form details")) part.open = true; });
  const blank = await page.evaluate(() => {
    const skipped = new Set(["wall-0-length"]);  // the floor's walk has its own words
    const told = [];
    for (const input of document.querySelectorAll("#form .field.length input, #form .field.number input")) {
      if (skipped.has(input.id) || !input.id.startsWith("field-")) continue;
      input.value = "about nine";
      input.dispatchEvent(new Event("input", { bubbles: true }));
      told.push(input.id);
    }
    return told.length;
  });
  assert.ok(blank > 60, `${blank} fields`);
  await settled(/to mend/);
  const silent = await until(page, () => {
    const all = [...document.querySelectorAll("#form .field.length input, #form .field.number input")].filter((input) => input.id.startsWith("field-"));
    const silent = all.filter((input) => !input.getAttribute("aria-invalid")).map((input) => input.labels[0].textContent);
    return silent.length < all.length / 2 && JSON.stringify(silent);
  });
  assert.deepEqual(JSON.parse(silent), []);
  assert.deepEqual(page.complaints, []);
});

test("each part of the long form is two taps away", async () => {
  await fresh(page);
  await sound(page);
  await page.getByText("Go to", { exact: true }).tap();
  await page.getByRole("button", { name: "Which way it faces", exact: true }).tap();
  await page.locator("#bearing-title:focus").waitFor();
  const top = await page.locator("#bearing-title").evaluate((title) => title.getBoundingClientRect().top);
  assert.ok(Math.abs(top) < 60, `its title stands ${top} pixels down`);
});

test("where the browser allows no worker the page answers all the same", async () => {
  const own = await openPage(browser, makePage("no worker", "tallow-lane.toml"), { before: () => { window.Worker = class { constructor() { throw new Error("no worker"); } }; } });
  await answer(own, date);
  await own.locator("#answer-lines", { hasText: "clean key 12:59 to 14:18" }).waitFor();
  assert.deepEqual(own.complaints, []);
  await own.context().close();
});

/// The library's worker answers nothing more.
const breakLibrary = (of) => of.workers()[0].evaluate(() => { answer = () => { throw new WebAssembly.RuntimeError("unreachable"); }; });
const stopped = "keyhour stopped on a question (unreachable) and was started anew. What you typed is untouched.";

test("where the library stops, that is said, what was typed stays and the next question is answered", async () => {
  await fresh(page);
  await page.locator("#next", { hasText: "Measure next" }).waitFor();
  const name = page.getByLabel("Name of the place");
  await breakLibrary(page);
  await name.fill("Typed as it stopped");
  await page.getByRole("alert").filter({ hasText: stopped }).waitFor();
  assert.equal(await name.inputValue(), "Typed as it stopped");
  await name.fill("Typed after it");
  await sound(page);
  await page.locator("#understood", { hasText: "Typed after it" }).waitFor();
  assert.equal(await toml(), tallow.replace('"Tallow Lane Press"', '"Typed after it"'));
  // Whatever was answered since, it stays until it is read.
  await page.getByRole("button", { name: "Read", exact: true }).tap();
  await page.locator("#stopped").waitFor({ state: "hidden" });
  assert.deepEqual(page.complaints, []);
});

test("where the library stops while a plan is drawn, that is said too, and the plan of before stays", async () => {
  await fresh(page);
  await answer(page, date);
  await page.locator("#answer-lines", { hasText: /clean key \d/ }).waitFor();
  await page.getByRole("button", { name: "Move mark type case" }).waitFor();
  const minutes = async () => (await page.locator("#clock").textContent()).split(":").reduce((hours, minutes) => 60 * Number(hours) + Number(minutes));
  const was = await minutes();
  await breakLibrary(page);
  await page.getByRole("button", { name: "A minute later" }).tap();
  await page.getByRole("alert").filter({ hasText: stopped }).waitFor();
  assert.equal(await page.locator("#plan-drawing svg").count(), 1);
  await page.getByRole("button", { name: "Read", exact: true }).tap();
  await page.getByRole("button", { name: "A minute later" }).tap();
  await page.locator("#plan-reading", { hasText: await page.locator("#clock").textContent() }).waitFor();
  assert.equal(await minutes(), was + 2);
  assert.deepEqual(page.complaints, []);
});

test("files that a location names are in the page with it, are given later, or are said to be missing", async () => {
  const folder = path.join(process.env.KEYHOUR_PAGES, "named in");
  fs.mkdirSync(folder, { recursive: true });
  const skyline = "bearing_deg,altitude_deg\n0,3\n90,6\n180,20\n270,9\n";
  for (const beside of [folder, process.env.KEYHOUR_PAGES]) fs.writeFileSync(path.join(beside, "skyline.csv"), skyline);
  const named = tallow.replace(/^horizon = .*$/m, 'horizon = { file = "skyline.csv", north = "true" }');
  assert.notEqual(named, tallow);
  const own = await openPage(browser, makePage("named", { name: "named.toml", text: named }));
  await sound(own);
  await answer(own, date);
  const said = ask(named, "key", "--date", date).split("\n")[2].trim().split(":")[0];
  await own.locator("#answer-lines", { hasText: said }).waitFor();
  // Opened from elsewhere, the file alone.
  await show(own, "File");
  await own.locator("#open").setInputFiles({ name: "alone.toml", mimeType: "text/plain", buffer: Buffer.from(named) });
  await own.locator("#file-said", { hasText: "1 thing is to mend" }).waitFor();
  await own.locator("#beside-list", { hasText: "skyline.csv: not in this page" }).waitFor();
  await own.locator("#give").setInputFiles({ name: "skyline.csv", mimeType: "text/csv", buffer: Buffer.from(skyline.replace("180,20", "180,high")) });
  await show(own, "Recce");
  await own.locator("#horizon-title").locator("xpath=..").locator(".wrong", { hasText: /skyline\.csv, line 4: .*"high" is not a number/ }).waitFor();
  await show(own, "File");
  await own.locator("#give").setInputFiles({ name: "skyline.csv", mimeType: "text/csv", buffer: Buffer.from(skyline) });
  await own.locator("#file-said", { hasText: "skyline.csv is in this page now." }).waitFor();
  await show(own, "Recce");
  await sound(own);
  // It stays with the location.
  await own.reload();
  await ready(own);
  await sound(own);
  assert.deepEqual(own.complaints, []);
  await own.context().close();
});

test("a terrain that a phone can't hold is said to be left out, and the rest is answered", async () => {
  await fresh(page);
  await show(page, "File");
  const far = tallow.replace(/^horizon = .*$/m, 'horizon = { terrain = "tiles" }');
  await page.locator("#open").setInputFiles({ name: "far.toml", mimeType: "text/plain", buffer: Buffer.from(far) });
  await page.locator("#file-said", { hasText: "far.toml opened." }).waitFor();
  await page.locator("#left-out", { hasText: "Left out: the skyline of the terrain" }).waitFor();
  await answer(page, date);
  await page.locator("#answer-lines", { hasText: /clean key \d/ }).waitFor();
  await show(page, "File");
  assert.equal(await text(page), far);
  assert.deepEqual(page.complaints, []);
});

test("what no field shows is told by its line: a key that nobody knows, a text that is no TOML", async () => {
  await fresh(page);
  await show(page, "File");
  await page.locator("#text").fill(tallow.replace("reveal_m", "revael_m"));
  await show(page, "Recce");
  await settled(/to mend/);
  const line = tallow.split("\n").findIndex((words) => words.includes("reveal_m")) + 1;
  await page.getByText("What and where").tap();
  await page.locator("#problems", { hasText: `Line ${line}: ` }).waitFor();
  assert.match(await words(page, "#problems"), /"revael_m"|reveal_m/);
  await show(page, "File");
  await page.locator("#text").fill(tallow.replace('name = "press window"', 'name = "press window'));
  await show(page, "Recce");
  const broken = tallow.split("\n").findIndex((words) => words.includes('name = "press window"')) + 1;
  await page.locator("#form", { hasText: `Line ${broken} of tallow-lane.toml can't be read: a quote is opened and not closed` }).waitFor();
  assert.match(await words(page, "#state"), /mend/);
  await fresh(page);
  await sound(page);
});
