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
