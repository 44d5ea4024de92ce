"use strict";
// What the page's own library answers, in its worker, is what the command line answers: random rooms and dates.

const assert = require("node:assert/strict");
const { after, before, test } = require("node:test");
const { ask, launch, makePage, openAsking } = require("./pocket_page.js");
const { dice, randomRoom } = require("./random_rooms.js");

let browser;
before(async () => { browser = await launch(); });
after(() => browser.close());

const instant = /^\d{4}-\d\d-\d\dT[\d:.]+(Z|[+-]\d\d:\d\d)$/;
let instants = 0;

/// Where two documents differ: a time by more than half a second, a figure by a thousandth (other last digits of
/// another C library's sine), all else at all.
const differences = (a, b, at = "") => {
  if (typeof a === "string" && typeof b === "string" && instant.test(a) && instant.test(b)) {
    instants += 1;
    return Math.abs(Date.parse(a) - Date.parse(b)) <= 500 ? [] : [`${at}: ${a} and ${b}`];
  }
  if (typeof a === "number" && typeof b === "number") return Math.abs(a - b) <= 1e-3 * Math.max(1, Math.abs(a)) ? [] : [`${at}: ${a} and ${b}`];
  if (a === null || b === null || typeof a !== "object" || typeof b !== "object") return a === b ? [] : [`${at}: ${a} and ${b}`];
  return [...new Set([...Object.keys(a), ...Object.keys(b)])].flatMap((key) => differences(a[key], b[key], `${at}.${key}`));
};

test("200 random rooms and dates have the same minutes in the page as on the command line, to the second", async () => {
  const page = await openAsking(browser, makePage("rooms of all kinds"));
  const roll = dice(20260217);
  const faults = [];
  let keys = 0;
  for (let i = 0; i < 200; i++) {
    const { toml, date } = randomRoom(roll);
    // Every tenth with levels and doubts, which take longer than all the rest; half of them by wide settings, for more keys.
    const plain = i % 10 ? ["no-light", "no-doubt"] : [];
    const wide = i % 2 ? { coverage: "50", "key-angle": "0,180", altitude: "3,80" } : {};
    const reply = await page.inquire({ ask: "key", location: toml, name: "asked.toml", date, want: ["document"], ...wide, ...Object.fromEntries(plain.map((flag) => [flag, true])) });
    assert.ok(reply.ok, `room ${i}: ${JSON.stringify(reply.problems)}\n${toml}`);
    const wanted = JSON.parse(ask(toml, "key", "--date", date, "--json", ...plain.map((flag) => `--${flag}`), ...Object.entries(wide).flatMap(([name, value]) => [`--${name}`, value])));
    const found = { ...reply.document, location: wanted.location };
    keys += wanted.intervals.length;
    faults.push(...differences(found, wanted, `room ${i}, ${date}`));
  }
  assert.deepEqual(faults, []);
  assert.ok(keys >= 50 && instants >= 600, `${keys} keys, ${instants} times compared`);
  assert.deepEqual(page.complaints, []);
});
