"use strict";
// The pocket page as a person would use it: from a file, with no network, by touch, by keys, with a
// screen reader, on paper; and what it says is what the program says.

const assert = require("node:assert/strict");
const fs = require("node:fs");
const http = require("node:http");
const path = require("node:path");
const { after, before, test } = require("node:test");
const axe = require("axe-core");
const { answer, ask, desk, fresh, launch, locations, makePage, openPage, pages, patience_ms, phone, ready, run, show, sound, text, touch, until, words } = require("./pocket_page.js");
const { byKeys, byTouch, feet, typeRecce } = require("./recce_typing.js");

const tallow = fs.readFileSync(path.join(locations, "tallow-lane.toml"), "utf8");
const date = "2026-02-17";
let browser, tallowPage, emptyPage, onDesk, onPhone;

// Opening a page compiles the library. One on a desk and one on a phone serve all tests that need no page of their own.
before(async () => {
  browser = await launch();
  tallowPage = makePage("tallow", "tallow-lane.toml");
  emptyPage = makePage("empty");
  onDesk = await openPage(browser, tallowPage);
  onPhone = await openPage(browser, tallowPage, touch);
});
after(() => browser.close());

const saved = async (page, button) => {
  const [download] = await Promise.all([page.waitForEvent("download"), page.getByRole("button", { name: button }).click()]);
  return { name: download.suggestedFilename(), text: fs.readFileSync(await download.path(), "utf8") };
};
/// The minutes of the day's best key by the command line.
const keyOf = (toml, on) => /clean key (\d\d:\d\d to \d\d:\d\d)/.exec(ask(toml, "key", "--date", on))[1];

test("a whole recce typed by touch on a phone is sound, answered as the program answers it, and saved", async () => {
  const page = await openPage(browser, emptyPage, touch);
  await typeRecce(page, byTouch(page));
  await sound(page);
  assert.equal(await page.locator(".closing").innerText(), "The floor closes.");
  await page.locator("#next", { hasText: /^Measure next: bearing/ }).waitFor();
  assert.ok((await page.locator("#plan-view svg text").allTextContents()).includes("mark"), "the plan shows the mark");
  await answer(page, "2026-02-10");
  await page.locator("#answer-lines", { hasText: /clean key \d/ }).waitFor();
  const said = await words(page);
  await show(page, "File");
  const { name, text: toml } = await saved(page, "The location, for keyhour");
  assert.equal(name, "withy-lane-baskets.toml");
  assert.match(toml, /^# A location for keyhour, typed on the recce\.\nformat = 1\n/);
  assert.ok(said.includes(`clean key ${keyOf(toml, "2026-02-10")}`), said);
  assert.match(toml, /width_m = 1\.4\n/);
  assert.deepEqual(page.complaints, []);
  await page.context().close();
});

test("a recce typed by keys alone, in feet as taped, keeps what was typed; reloaded half-way nothing is lost", async () => {
  const page = await openPage(browser, emptyPage);
  // Two walls of four: no floor yet, that the file could hold.
  await page.getByLabel("Name of the place").fill("Half-way");
  for (const i of [0, 1]) await page.locator(`#wall-${i}-length`).fill(`${6 + i}.25`);
  // The plan grows with the tape.
  assert.deepEqual(await page.locator("#plan-drawing svg text").allTextContents(), ["wall 1 6.25 m", "wall 2 7.25 m"]);
  await page.reload();
  await ready(page);
  assert.equal(await page.getByLabel("Name of the place").inputValue(), "Half-way");
  assert.deepEqual(await Promise.all([0, 1, 2].map((i) => page.locator(`#wall-${i}-length`).inputValue())), ["6.25", "7.25", ""]);
  await typeRecce(page, byKeys(page), { tape: feet, units: "feet and inches" });
  await sound(page);
  await page.reload();
  await ready(page);
  await sound(page);
  assert.equal(await page.locator("#wall-1-length").inputValue(), "15' 9\"");
  await show(page, "File");
  const toml = await text(page);
  assert.match(toml, /width_m = "4' 7\\""\n/);
  assert.match(toml, /units = "ft"/);
  assert.match(toml, /at = \["10' 2\\"", "5' 7\\""\]/);
  await answer(page, "2026-02-10");
  await page.locator("#answer-lines", { hasText: /clean key \d/ }).waitFor();
  assert.ok((await words(page)).includes(`clean key ${keyOf(toml, "2026-02-10")}`));
  assert.deepEqual(page.complaints, []);
  await page.context().close();
});

test("what is wrong stands beside its field, a plain number in feet is asked about, and the rest stays", async () => {
  const page = await fresh(onDesk);
  await sound(page);
  const sill = page.getByRole("group", { name: "case window" }).getByLabel("Sill");
  await sill.fill("3.2");
  const wrong = sill.locator("xpath=..").locator(".wrong");
  await wrong.filter({ hasText: /is this feet\?/ }).waitFor();
  assert.equal(await sill.getAttribute("aria-invalid"), "true");
  assert.match(await page.locator("#state").innerText(), /^1 to mend/);
  assert.match(await page.locator("#problems").textContent(), /Line \d+: /);
  await sill.fill("0.85");
  await sound(page);
  await wrong.waitFor({ state: "hidden" });
  await page.locator("#wall-0-length").fill("8.2");
  await page.locator(".closing", { hasText: "does not close: 1 m are left over" }).waitFor();
  await page.locator("#wall-0-length").fill("7.2");
  await page.getByLabel("feet and inches").check();
  await page.getByRole("group", { name: "type case" }).getByLabel("Height").fill("4");
  await page.locator(".wrong", { hasText: "it has no unit" }).first().waitFor();
  assert.deepEqual(page.complaints, []);
});

test("the page opens offline, asks nobody, and its policy lets nothing in", async () => {
  const page = await fresh(onDesk);
  const policy = await page.locator("meta[http-equiv=Content-Security-Policy]").getAttribute("content");
  assert.match(policy, /^default-src 'none'; script-src 'sha256-[^']+' 'wasm-unsafe-eval'; worker-src blob:; style-src 'sha256-[^']+'/);
  assert.ok(!policy.includes("unsafe-inline") && !/https?:/.test(policy));
  const stopped = await page.evaluate(() => new Promise((resolve) => {
    document.addEventListener("securitypolicyviolation", (e) => resolve(e.effectiveDirective));
    const image = document.createElement("img");
    image.src = "https://example.invalid/a.png";
    document.body.append(image);
  }));
  assert.equal(stopped, "img-src");
});

test("from a file a position that is not given is said; from a plain web server it is taken", async () => {
  const page = await openPage(browser, emptyPage, touch);
  await page.getByRole("button", { name: "Take this device's position" }).tap();
  await page.getByText(/Type the position instead/).waitFor();
  await page.context().close();
  const server = http.createServer((request, response) => response.setHeader("content-type", "text/html").end(fs.readFileSync(emptyPage))).listen(0, "127.0.0.1");
  await new Promise((done) => server.once("listening", done));
  const context = await browser.newContext({ geolocation: { latitude: -42.88211, longitude: 147.32719, accuracy: 8 }, permissions: ["geolocation"] });
  context.setDefaultTimeout(patience_ms);
  const served = await context.newPage();
  await served.goto(`http://127.0.0.1:${server.address().port}/`);
  await ready(served);
  await served.getByRole("button", { name: "Take this device's position" }).click();
  await served.getByText("Taken, within 8 m").waitFor();
  assert.equal(await served.getByRole("textbox", { name: /^Position/ }).inputValue(), "42.88211S 147.32719E");
  await context.close();
  server.closeAllConnections();
  server.close();
});

test("a mark moved by finger, keys or figures is held beside what was, and put back or kept", async () => {
  const page = await fresh(onDesk);
  await answer(page, date);
  const handle = page.getByRole("button", { name: "Move mark type case" });
  await handle.waitFor();
  const box = await handle.boundingBox();
  assert.ok(box.width >= 48 && box.height >= 48, `a handle of ${box.width} by ${box.height}`);
  const [x, y] = [box.x + box.width / 2, box.y + box.height / 2];
  await page.mouse.move(x, y);
  await page.mouse.down();
  await page.mouse.move(x + 15, y, { steps: 5 });
  await page.mouse.up();
  const worth = page.locator("#worth");
  await worth.filter({ hasText: /^Key \d\d:\d\d to .*, was 12:59 to 14:18 \(1 h 19 min\): \d+ min (longer|shorter)\.$/ }).waitFor();
  // The last of the drag may still be on its way: then place and minutes are read again.
  for (const end = Date.now() + patience_ms; ; ) {
    const [tried, told] = await page.evaluate(() => ["tried", "worth"].map((id) => document.getElementById(id).textContent));
    const moved = /type case at ([\d.]+) m, ([\d.]+) m/.exec(tried);
    const minutes = keyOf(tallow.replace("at = [2.3, 1.8]", `at = [${moved[1]}, ${moved[2]}]`), date);
    if (told.includes(`Key ${minutes}`)) break;
    assert.ok(Date.now() < end, `the page tells ${told}, the program ${minutes}`);
  }
  await page.getByRole("button", { name: "Put it back" }).click();
  await page.locator("#answer-lines", { hasText: "clean key 12:59 to 14:18" }).waitFor();
  await handle.focus();
  await page.keyboard.press("ArrowRight");
  await page.locator("#tried", { hasText: "type case at 2.35 m, 1.8 m" }).waitFor();
  await page.getByRole("button", { name: "Move camera A" }).focus();
  await page.keyboard.press("ArrowUp");
  await page.locator("#tried", { hasText: "type case at 2.35 m, 1.8 m; A at 0.7 m, 0.65 m" }).waitFor();
  await page.getByRole("button", { name: "Keep it in the file" }).click();
  await show(page, "File");
  assert.equal(await text(page), tallow.replace("at = [2.3, 1.8]", "at = [2.35, 1.8]").replace("at = [0.7, 0.6]", "at = [0.7, 0.65]"));
  assert.deepEqual(page.complaints, []);
});

test("a finger on a phone moves a mark and not the page, and the plan stays under it while it is held", async () => {
  const page = await fresh(onPhone);
  await answer(page, date);
  await page.locator("#answer-lines", { hasText: "clean key 12:59 to 14:18" }).waitFor();
  const handle = page.getByRole("button", { name: "Move mark type case" });
  await handle.waitFor();
  await handle.evaluate((g) => g.scrollIntoView({ block: "center" }));
  const box = await handle.boundingBox();
  const [x, y] = [box.x + box.width / 2, box.y + box.height / 2];
  const top = () => page.evaluate(() => document.querySelector("#plan-drawing svg").getBoundingClientRect().top);
  const session = await page.context().newCDPSession(page);
  const finger = (type, ...at) => session.send("Input.dispatchTouchEvent", { type, touchPoints: at.map(([dx, dy]) => ({ x: x + dx, y: y + dy })) });
  const was = await top();
  await finger("touchStart", [0, 0]);
  // Asked for while it is held: the minute's whole plan, which would take the handle from under the finger.
  await page.evaluate(() => document.getElementById("later").click());
  // Further than a browser waits before it scrolls.
  for (let i = 1; i <= 10; i++) await finger("touchMove", [2 * i, -i]);
  await page.locator("#worth-here", { hasText: / was 12:59 to 14:18/ }).waitFor();
  await page.waitForTimeout(500);
  assert.equal(await page.locator(".handle.held").count(), 1);
  assert.ok(Math.abs(await top() - was) < 3, `the plan stood at ${was} and stands at ${await top()}`);
  await finger("touchEnd");
  await page.locator(".handle.held").waitFor({ state: "detached" });
  // 20 pixels of a plan some 250 pixels wide between walls 7.2 m apart.
  const [, across] = /^Tried: type case at ([\d.]+) m/.exec(await page.locator("#tried").textContent());
  assert.ok(across > 2.6 && across < 3.1, `it lies at ${across}`);
  await page.getByRole("button", { name: "Put it back" }).tap();
  await page.getByRole("button", { name: "A minute earlier" }).tap();
  assert.deepEqual(page.complaints, []);
});

/// A terminal's lines as a page has them: flowing, with boxes to tick in place of flags.
const flowing = (lines) => lines.replace(/^more: --show.*\n( .*\n)*/gm, "").replace(/--show (?=\w)/g, "more: ").replace(/: --all\b/g, "; more: all")
  .replace(/--all\b/g, "more: all").replace(/\s+/g, " ").trim();

/// The minute in the middle of the key, which the page's plan shows until another is chosen.
const keyMiddle = (date) => {
  const [{ start_utc: start, end_utc: end, start_local: local }] = JSON.parse(ask(tallow, "key", "--date", date, "--json")).intervals.filter((i) => i.start_utc);
  assert.match(local, /\+00:00$/);
  const middle = Math.floor((Math.ceil(Date.parse(start) / 60000) + Math.floor(Date.parse(end) / 60000)) / 2);
  return new Date(middle * 60000).toISOString().slice(11, 16);
};

test("the plan opens in the middle of the key, follows the date, and stays where it is put", async () => {
  const page = await fresh(onPhone);
  const clock = () => page.locator("#clock").textContent();
  for (const day of [date, "2026-02-20"]) {
    await answer(page, day, "Key");
    await until(page, (wanted) => document.querySelector("#clock").textContent === wanted, keyMiddle(day)).catch(async () => assert.equal(await clock(), keyMiddle(day)));
  }
  assert.notEqual(keyMiddle(date), keyMiddle("2026-02-20"));
  await page.getByRole("button", { name: "A minute later" }).tap();
  const chosen = await clock();
  await answer(page, date, "Key");
  await page.reload();
  await page.locator("#plan-drawing svg").waitFor();
  assert.equal(await clock(), chosen);
  assert.deepEqual(page.complaints, []);
});

test("every question answers in the program's words, all of them", async () => {
  const page = await fresh(onPhone);
  for (const [question, command, ...more] of [["Key", "key"], ["Lamp key", "key", "--by", "lamp"], ["Lock", "lock", "--minutes", "120"], ["Lamp", "lamp", "--like", keyMiddle(date)],
    ["Outside", "exterior"], ["Day", "day"]]) {
    await answer(page, date, question);
    const wanted = flowing(ask(tallow, command, "--date", date, ...more));
    await until(page, (all) => (document.querySelector("#answer-lines")?.innerText ?? "").replaceAll("\u00a0", " ").replace(/\s+/g, " ").trim() === all, wanted)
      .catch(async () => assert.equal(await words(page), wanted, question));
  }
  await page.locator("#strips svg#strip").waitFor();
  await answer(page, date, "Year");
  await page.locator("#strips svg#year").waitFor();
  assert.equal((await words(page)).trim(), flowing(ask(tallow, "key", "--from", "2026-01-01", "--to", "2026-12-31")));
  assert.equal(await page.evaluate(() => document.documentElement.scrollWidth), phone.width);
  assert.deepEqual(page.complaints, []);
});

test("a shadow timed by the clock gives the bearing, with two lengths", async () => {
  const page = await fresh(onPhone);
  await sound(page);
  await page.getByText("From the sun: a timed shadow").tap();
  const part = page.locator(".sighting");
  await part.getByRole("button", { name: "Take the clock now" }).tap();
  assert.match(await page.locator("#sighting-time").inputValue(), /^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\dZ$/);
  // The observation of locations/tallow-lane-recce: 10 cm aside on 1.60 m.
  await page.locator("#sighting-time").fill("2026-02-10T13:40");
  await part.getByLabel("Into the room").fill("1.60");
  await part.getByLabel("Sideways along").fill("0.10");
  await part.getByLabel("Sideways which way").selectOption("left");
  await part.getByRole("button", { name: "Add this sighting" }).tap();
  const put = part.getByRole("button", { name: /^Put 19\d(\.\d)? true, give or take / });
  await put.waitFor();
  assert.match(await words(page, ".answer-lines"), /street wall faces 19\d(\.\d)? true/);
  // A page has no flags to name.
  assert.doesNotMatch(await words(page, ".answer-lines"), /--show|shifts/);
  await put.tap();
  await sound(page);
  await show(page, "File");
  assert.match(await text(page), /bearing = \{ wall = "street", faces = 19\d(\.\d)?, north = "true", within_deg = [\d.]+ \}/);
  assert.deepEqual(page.complaints, []);
});

test("a corner of a patch gives the bearing, by where it lies on the floor", async () => {
  const page = await fresh(onPhone);
  await sound(page);
  await page.getByText("From the sun: a timed shadow").tap();
  const part = page.locator(".sighting");
  await part.getByLabel("What falls on the floor").selectOption("corner of a patch on the floor");
  await part.getByLabel("Window", { exact: true }).selectOption("case window");
  await part.getByLabel("Corner of the opening").selectOption("sill left");
  // By the triangle of height and shadow: the sill's inner edge stands 0.85 m high; the street wall faces 196, the
  // sun stands right of that, so its light falls to the left of the near jamb.
  const { instants } = JSON.parse(ask(tallow, "patch", "--date", date, "--time", "14:10", "--json"));
  const { azimuth_deg, apparent_altitude_deg } = instants[0];
  const radians = Math.PI / 180;
  const far = 0.85 / Math.tan(apparent_altitude_deg * radians);
  const left = Number(/name = "case window"[^[]*left_m = ([\d.]+)/.exec(tallow)[1]);
  const aside = (azimuth_deg - 196) * radians;
  assert.ok(aside > 0);
  await part.getByLabel("Into the room").fill((far * Math.cos(aside)).toFixed(2));
  await part.getByLabel("Along the wall").fill((left - far * Math.sin(aside)).toFixed(2));
  await page.locator("#sighting-time").fill(`${date}T14:10`);
  await part.getByRole("button", { name: "Add this sighting" }).tap();
  await part.getByRole("button", { name: /^Put 19[56](\.\d)? true, give or take / }).waitFor();
  assert.deepEqual(page.complaints, []);
});

test("a foreign or broken file leaves what is here untouched, a sound one opens with its comments", async () => {
  const page = await fresh(onDesk);
  await show(page, "File");
  const give = (name, content) => page.locator("#open").setInputFiles({ name, mimeType: "text/plain", buffer: Buffer.from(content) });
  for (const [name, content, why] of [["a.toml", Buffer.from([0xff, 0xfe, 0x00]), /no text in UTF-8/], ["b.toml", "format = 1\n[site\n", /line 2/],
    ["notes.txt", "size = 3\n", /no location file/], ["c.toml", "x\0y", /line 1|no text/], ["d.toml", Buffer.alloc(1100000, 32), /a location has a few/]]) {
    await give(name, content);
    await page.locator("#file-said", { hasText: `${name} was not opened` }).waitFor();
    assert.match(await page.locator("#file-said").innerText(), why);
    assert.equal(await text(page), tallow);
  }
  const other = fs.readFileSync(path.join(locations, "flax-road.toml"), "utf8");
  await give("flax-road.toml", other);
  await page.locator("#file-said", { hasText: "flax-road.toml opened." }).waitFor();
  assert.equal(await text(page), other);
  assert.equal(await page.locator("h1").innerText(), "Flax Road Hatters");
  await page.locator("#file-list").getByRole("button", { name: "tallow-lane.toml", exact: true }).click();
  assert.equal(await text(page), tallow);
  const calendar = await saved(page, "The date's calendar");
  // What the program writes, but for the moment of writing.
  const folder = path.join(pages, "calendar");
  run("sheet", path.join(locations, "tallow-lane.toml"), "--date", calendar.name.slice(-14, -4), "--only", "calendar", "--out", folder, "--force");
  const [written] = fs.readdirSync(folder);
  const still = (ics) => ics.replace(/^(DTSTAMP|UID):.*$/gm, "$1");
  assert.equal(still(calendar.text), still(fs.readFileSync(path.join(folder, written), "utf8")));
  const sheet = await saved(page, "The date's light sheet");
  assert.match(sheet.text, /^<!DOCTYPE html>/);
  assert.deepEqual(page.complaints, []);
});

test("what is kept survives, is erased by one button, and a full storage is said", async () => {
  const page = await openPage(browser, tallowPage);
  const name = page.getByLabel("Name of the place");
  await name.fill("Tallow Lane, typed");
  await until(page, () => JSON.stringify(localStorage).includes("Tallow Lane, typed"));
  await page.reload();
  await ready(page);
  assert.equal(await name.inputValue(), "Tallow Lane, typed");
  await page.evaluate(() => {
    for (let n = 1 << 20; n > 0; n >>= 1) try { for (let i = 0; i < 20; i++) localStorage.setItem(`other ${n} ${i}`, "x".repeat(n)); } catch { /* full */ }
  });
  await name.fill("Tallow Lane, typed while it was full");
  await page.locator("#trouble", { hasText: "storage is full" }).waitFor();
  await show(page, "File");
  assert.match(await text(page), /typed while it was full/);
  await page.evaluate(() => { for (const key of Object.keys(localStorage)) if (key.startsWith("other")) localStorage.removeItem(key); });
  await page.getByRole("button", { name: "Erase everything" }).click();
  await page.locator("#file-said", { hasText: "Erased" }).waitFor();
  assert.equal(await text(page), tallow);
  assert.ok(!(await page.evaluate(() => JSON.stringify(localStorage))).includes("typed"));
  await page.context().close();
});

test("where the browser keeps nothing for a page, that is said, and the file can be saved", async () => {
  const page = await openPage(browser, tallowPage, { before: () => Object.defineProperty(window, "localStorage", { get() { throw new DOMException("forbidden", "SecurityError"); } }) });
  await page.getByRole("alert").filter({ hasText: "This browser keeps nothing for a page opened like this." }).waitFor();
  await page.getByLabel("Name of the place").fill("Kept nowhere");
  await show(page, "File");
  assert.equal((await saved(page, "The location, for keyhour")).text, tallow.replace("Tallow Lane Press", "Kept nowhere"));
  assert.match(await page.locator("#kept").innerText(), /keeps nothing/);
  assert.deepEqual(page.complaints, []);
  await page.context().close();
});

test("hostile names do nothing, and long ones push nothing aside", async () => {
  const trap = "<img src=x onerror=alert(1)>";
  const closing = "</script><script>alert(2)</script>";
  const toml = tallow.replace('name = "Tallow Lane Press"', `name = "${trap}"`).replace(/"case window"/g, `"${closing}"`)
    .replace(/"type case"/g, `"\\" onmouseover=alert(3) ${"W".repeat(90)}"`);
  const page = await openPage(browser, makePage("trap", { name: "trap.toml", text: toml }), touch);
  await sound(page);
  for (const view of ["Recce", "Answer", "File"]) {
    await show(page, view);
    assert.equal(await page.evaluate(() => document.documentElement.scrollWidth), phone.width, view);
  }
  await answer(page, date);
  await page.locator("#answer-lines", { hasText: closing }).waitFor();
  assert.equal(await page.locator("h1").innerText(), trap);
  assert.equal(await page.locator("img, [onmouseover]").count(), 0);
  assert.deepEqual(page.complaints, []);
  await page.context().close();
});

test("twelve windows, a southern room and the day the clocks change are answered as the program answers them", async () => {
  const windows = Array.from({ length: 12 }, (_, i) => `[[window]]\nname = "light ${i + 1}"\nwall = "${["street", "back"][i % 2]}"\nleft_m = ${0.3 + 1.1 * Math.floor(i / 2)}\n` +
    "width_m = 0.9\nsill_m = 0.85\nheight_m = 1.6\nreveal_m = 0.28\n").join("\n");
  const many = tallow.split(/\n(?=\[\[)/).filter((part) => !part.startsWith("[[window]]")).join("\n") + `\n${windows}`;
  const south = tallow.replace('"52.9536N 1.1505W"', '"42.88S 147.33E"').replace("Europe/London", "Australia/Hobart").replace("faces = 196", "faces = 350");
  const page = await openPage(browser, makePage("rooms", { name: "many.toml", text: many }, { name: "south.toml", text: south }, "tallow-lane.toml"));
  for (const [name, toml, on] of [["many.toml", many, date], ["south.toml", south, "2026-06-10"], ["tallow-lane.toml", tallow, "2026-03-29"], ["south.toml", south, "2026-04-05"]]) {
    await show(page, "File");
    await page.locator("#file-list").getByRole("button", { name, exact: true }).click();
    if (name === "many.toml") { await show(page, "Recce"); await sound(page); assert.equal(await page.getByRole("group", { name: /^light \d+$/ }).count(), 12); }
    await answer(page, on);
    const wanted = ask(toml, "key", "--date", on).split("\n").slice(1, 3).map((line) => line.trim().split(":")[0]);
    for (const line of wanted)
      await until(page, (l) => (document.querySelector("#answer-lines")?.innerText ?? "").replaceAll("\u00a0", " ").replace(/\s+/g, " ").includes(l), line)
        .catch(async () => assert.fail(`${name} ${on}: ${line} is not in ${await words(page)}`));
  }
  assert.deepEqual(page.complaints, []);
  await page.context().close();
});

test("a screen reader finds every field by its label, and axe finds nothing, by day and by night", async () => {
  const page = await fresh(onPhone);
  await sound(page);
  const tree = await page.locator("#form").ariaSnapshot();
  for (const line of ['group "case window"', 'textbox "Sill ± 1 cm": "0.85"', 'combobox "Cover"', 'region "Which way it faces"', 'textbox "Faces, degrees', 'button "Remove case window"'])
    assert.ok(tree.includes(line), `${line} is not in the tree`);
  assert.ok(!/(textbox|combobox)(:|$)/m.test(tree.replace(/(textbox|combobox) "/g, "")), "a field without a name");
  await page.addScriptTag({ content: axe.source }).catch(() => page.evaluate(axe.source));
  for (const view of ["Recce", "Answer", "File"]) {
    await show(page, view);
    if (view === "Answer") await page.locator("#answer-lines .lines").waitFor();
    const { violations } = await page.evaluate(() => window.axe.run(document, { runOnly: ["wcag2a", "wcag2aa", "wcag2aaa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"] }));
    assert.deepEqual(violations.map((v) => [v.id, v.nodes.map((n) => n.html.slice(0, 120))]), [], view);
    const small = await page.evaluate(() => {
      const shown = (e) => e.checkVisibility() && e.getBoundingClientRect().width > 1;
      const targets = [...document.querySelectorAll("button, input, select, summary, nav a, .button, textarea")].filter(shown)
        .map((e) => (["checkbox", "radio"].includes(e.type) ? e.closest("label") : e)).filter((e) => e.getBoundingClientRect().height < 47.9);
      const own = (e) => [...e.childNodes].some((n) => n.nodeType === 3 && n.data.trim());
      const letters = [...document.querySelectorAll("body *")].filter((e) => shown(e) && own(e) && !e.closest("svg") && parseFloat(getComputedStyle(e).fontSize) < 16);
      const drawn = [...document.querySelectorAll("svg text")].filter((e) => e.checkVisibility() && parseFloat(getComputedStyle(e).fontSize) * e.ownerSVGElement.getScreenCTM().a < 15.9);
      return [...targets, ...letters, ...drawn].map((e) => e.outerHTML.slice(0, 100));
    });
    assert.deepEqual(small, [], view);
    const twice = await page.evaluate(() => [...document.querySelectorAll("[id]")].map((e) => e.id).filter((id, i, all) => all.indexOf(id) !== i));
    assert.deepEqual(twice, [], view);
  }
  await page.getByRole("button", { name: "Night" }).tap();
  assert.equal(await page.evaluate(() => getComputedStyle(document.documentElement).filter), "invert(1)");
});

test("an answer prints on one sheet", async () => {
  const page = await fresh(onDesk);
  await answer(page, date);
  await page.locator("#answer-lines", { hasText: /clean key \d/ }).waitFor();
  await page.locator("#plan-view svg").waitFor();
  for (const format of ["A4", "Letter"]) {
    const pdf = await page.pdf({ format, path: path.join(pages, `pocket-${format}.pdf`) });
    assert.equal(pdf.toString("latin1").match(/\/Type\s*\/Page\b(?!s)/g).length, 1, format);
  }
});
