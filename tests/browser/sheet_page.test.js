"use strict";
// The light sheet's page as a person would use it: offline, by mouse, touch and keyboard, on a desk,
// on a phone and on paper.

const assert = require("node:assert/strict");
const fs = require("node:fs");
const path = require("node:path");
const { after, before, test } = require("node:test");
const axe = require("axe-core");
const { desk, launch, locations, makeSheet, open, pages, patchAt, phone, run } = require("./sheet_page.js");

const location = "tallow-lane.toml";
const date = "2026-02-14";
let browser, folder;

before(async () => {
  browser = await launch();
  folder = makeSheet("tallow-lane", location, date);
});
after(() => browser.close());

const pagesOf = (pdf) => pdf.toString("latin1").match(/\/Type\s*\/Page\b(?!s)/g).length;
const clock = (page) => page.locator("#now-clock").textContent();
const figures = async (page) => ({
  clock: await clock(page),
  sun: await page.locator("#now-sun").textContent(),
  patches: await page.locator("#now-patches p").allTextContents(),
  level: await page.locator("#now-level").textContent(),
});

/// The same figures as the page words them, from patch --json.
const expected = (at) => {
  const now = patchAt(location, date, at).instants[0];
  const lit = now.marks[0].coverage;
  return {
    bearing: now.azimuth_deg.toFixed(1),
    altitude: now.apparent_altitude_deg.toFixed(1),
    patches: now.patches.map((p) => `${p.surface} through ${p.window}: ${p.area_m2.toFixed(2)} m2`),
    lit: Object.entries(lit).map(([window, share]) => `${Math.round(100 * share)} % in the sun through ${window}`),
  };
};

const compare = async (page) => {
  const shown = await figures(page);
  const wanted = expected(shown.clock);
  assert.match(shown.sun, new RegExp(`^bearing ${wanted.bearing} [A-Z]+, ${wanted.altitude} degrees high$`));
  assert.deepEqual(shown.patches, wanted.patches.length ? wanted.patches : ["no direct sun in the room"]);
  if (wanted.lit.length === 1) assert.ok(shown.level.includes(wanted.lit[0]), `${shown.level}: ${wanted.lit}`);
};

test("the page opens without a network, a request or a complaint", async () => {
  const page = await open(browser, folder);
  assert.match(await page.title(), /Tallow Lane Press/);
  assert.match(await page.locator("#answer").textContent(), /^Key at type case through case window, 13:00 to 14:20/);
  assert.deepEqual(page.complaints, []);
  await page.context().close();
});

test("its policy lets nothing in but its own style and script", async () => {
  const page = await open(browser, folder);
  const policy = await page.locator("meta[http-equiv=Content-Security-Policy]").getAttribute("content");
  assert.match(policy, /^default-src 'none'; script-src 'sha256-[^']+'; style-src 'sha256-[^']+'/);
  assert.ok(!policy.includes("unsafe"));
  const stopped = await page.evaluate(() => new Promise((resolve) => {
    document.addEventListener("securitypolicyviolation", (e) => resolve(e.effectiveDirective));
    const image = document.createElement("img");
    image.src = "https://example.invalid/a.png";
    document.body.append(image);
  }));
  assert.equal(stopped, "img-src");
  await page.context().close();
});

test("the keyboard moves the slider, and every figure is that of patch --json at the minute", async () => {
  const page = await open(browser, folder);
  await page.locator("#now-slider").focus();
  const start = await clock(page);
  await page.keyboard.press("ArrowRight");
  assert.notEqual(await clock(page), start);
  await compare(page);
  for (const key of ["Home", "End"]) {
    await page.keyboard.press(key);
    await compare(page);
  }
  await page.keyboard.press("Home");
  for (let i = 0; i < 20; i++) await page.keyboard.press("ArrowRight");
  await compare(page);
  assert.equal(await page.locator("#now-slider").getAttribute("aria-valuetext"), await clock(page));
  assert.deepEqual(page.complaints, []);
  await page.context().close();
});

test("the mouse moves the slider", async () => {
  const page = await open(browser, folder);
  await page.locator("#now-slider").scrollIntoViewIfNeeded();
  const box = await page.locator("#now-slider").boundingBox();
  await page.mouse.click(box.x + 0.25 * box.width, box.y + box.height / 2);
  const early = await clock(page);
  await compare(page);
  await page.mouse.down();
  await page.mouse.move(box.x + 0.6 * box.width, box.y + box.height / 2, { steps: 5 });
  await page.mouse.up();
  assert.ok((await clock(page)) > early);
  await compare(page);
  await page.context().close();
});

test("a finger moves the slider and presses the buttons of a phone", async () => {
  const page = await open(browser, folder, { viewport: phone, hasTouch: true, isMobile: true });
  await page.locator("#now-slider").scrollIntoViewIfNeeded();
  const box = await page.locator("#now-slider").boundingBox();
  await page.touchscreen.tap(box.x + 0.3 * box.width, box.y + box.height / 2);
  const there = await clock(page);
  await compare(page);
  await page.locator("#now-later").tap();
  assert.notEqual(await clock(page), there);
  await compare(page);
  assert.ok(box.height >= 44 && (await page.locator("#now-later").boundingBox()).height >= 44);
  assert.deepEqual(page.complaints, []);
  await page.context().close();
});

test("the outline over the plan is that of patch --json, in the drawing's scale", async () => {
  const page = await open(browser, folder);
  await page.locator("#now-slider").focus();
  const { shown, scale } = await page.evaluate(() => {
    const data = JSON.parse(document.getElementById("sheet-data").textContent);
    const paths = document.querySelectorAll("#plan-wide-now path");
    return { shown: [...paths].map((p) => p.getAttribute("d")), scale: data.plans[0] };
  });
  const now = patchAt(location, date, await clock(page)).instants[0];
  now.patches.forEach((patch, i) => {
    if (patch.surface !== "floor") return;
    const drawn = [...shown[i].matchAll(/[ML](-?[\d.]+) (-?[\d.]+)/g)].map((m) => [Number(m[1]), Number(m[2])]);
    const wanted = patch.outlines.flat().map(([x, y]) => [scale.left_mm + scale.mm_per_m * x, scale.top_mm - scale.mm_per_m * y]);
    assert.equal(drawn.length, wanted.length);
    // Half a millimetre of plan is a hundredth of a millimetre of paper; so is the last digit.
    drawn.forEach((p, k) => assert.ok(Math.hypot(p[0] - wanted[k][0], p[1] - wanted[k][1]) < 0.03));
  });
  await page.context().close();
});

test("a step of the slider is in the picture within 16 ms", async () => {
  const page = await open(browser, folder, { viewport: phone });
  const times = await page.evaluate(() => {
    const slider = document.getElementById("now-slider");
    const out = [];
    for (let i = 0; i <= Number(slider.max); i++) {
      const start = performance.now();
      slider.value = String(i);
      slider.dispatchEvent(new Event("input"));
      document.getElementById("plan-narrow").getBoundingClientRect();
      document.getElementById("plan-narrow-now").getBBox();
      out.push(performance.now() - start);
    }
    return out.sort((a, b) => a - b);
  });
  const median = times[Math.floor(times.length / 2)];
  console.log(`a step takes ${median.toFixed(2)} ms, the slowest ${times.at(-1).toFixed(2)} ms`);
  assert.ok(median < 16, `${median} ms`);
  await page.context().close();
});

test("the page plays the day, and not where motion is to be reduced", async () => {
  const page = await open(browser, folder);
  const start = await clock(page);
  await page.locator("#now-play").click();
  assert.equal(await page.locator("#now-play").textContent(), "Stop");
  for (let i = 0; i < 50 && (await clock(page)) === start; i++) await page.waitForTimeout(100);
  assert.notEqual(await clock(page), start);
  await page.locator("#now-play").click();
  assert.equal(await page.locator("#now-play").textContent(), "Play");
  await page.context().close();

  const still = await open(browser, folder, { reducedMotion: "reduce" });
  assert.ok(await still.locator("#now-play").isHidden());
  const there = await clock(still);
  await still.locator("#now-later").click();
  assert.notEqual(await clock(still), there);
  await still.context().close();
});

test("the stop follows the camera's setting, and equals the table's at the hour", async () => {
  const page = await open(browser, folder);
  await page.locator("#now-slider").focus();
  await page.keyboard.press("Home");
  while (!(await clock(page)).endsWith(":00")) await page.keyboard.press("ArrowRight");
  const hour = await clock(page);
  const row = page.locator("section[aria-labelledby=hours] tbody tr", { has: page.getByRole("rowheader", { name: hour }) });
  const inTable = await row.locator("td").last().textContent();
  const stop = () => page.locator("#now-stop").textContent();
  assert.equal((await stop()).split(": ")[1], inTable);
  const names = ["0.5", "0.7", "1", "1.4", "2", "2.8", "4", "5.6", "8", "11", "16", "22", "32", "45", "64"];
  const whole = (text) => names.indexOf(/T([\d.]+)/.exec(text)[1]);
  const was = whole(await stop());
  await page.locator("#now-iso").selectOption("200");  // two stops less than 800
  assert.equal(whole(await stop()), was - 2);
  await page.context().close();
});

test("without its script the page shows the patches of the hours and every table", async () => {
  const page = await open(browser, folder, { javaScriptEnabled: false });
  assert.ok(await page.locator("#now").isHidden());
  assert.ok((await page.locator("#plan-wide-patches path").count()) > 3);
  for (const id of ["keys", "covers", "hours", "cautions", "recce"])
    assert.ok(await page.locator(`section[aria-labelledby=${id}]`).isVisible(), id);
  await page.context().close();
});

test("a phone of 360 pixels has one column and nothing to push aside, a desk two", async () => {
  const small = await open(browser, folder, { viewport: phone });
  assert.equal(await small.evaluate(() => document.documentElement.scrollWidth), 360);
  const left = async (page, id) => (await page.locator(`#${id}`).boundingBox()).x;
  assert.equal(await left(small, "strip"), await left(small, "keys"));
  await small.context().close();
  const large = await open(browser, folder, { viewport: desk });
  assert.ok((await left(large, "keys")) > (await left(large, "strip")) + 300);
  await large.context().close();
});

for (const [name, viewport] of [["phone", phone], ["desk", desk]])
  test(`axe-core finds nothing against WCAG 2.2 AA on a ${name}`, async () => {
    const page = await open(browser, folder, { viewport });
    await page.evaluate(axe.source);
    const found = await page.evaluate(() => window.axe.run(document, {
      runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"],
    }));
    assert.ok(found.passes.length > 20);
    assert.deepEqual(found.violations.map((v) => `${v.id}: ${v.nodes.map((n) => n.target).join(" ")}`), []);
    await page.context().close();
  });

test("a day prints to one page of A4 and of Letter", async () => {
  const sheets = [
    folder,
    makeSheet("kiln-road", "kiln-road.toml", "2026-06-21", "--only", "page"),
    makeSheet("kiln-road-december", "kiln-road.toml", "2026-12-21", "--only", "page"),
    makeSheet("sundet", "sundet.toml", "2026-05-10", "--only", "page"),
  ];
  for (const sheet of sheets) {
    const page = await open(browser, sheet);
    for (const format of ["A4", "Letter"]) {
      const pdf = await page.pdf({ format, path: path.join(sheet, `${format}.pdf`) });
      assert.equal(pagesOf(pdf), 1, `${path.basename(sheet)} on ${format}`);
    }
    await page.context().close();
  }
});

test("--pdf prints the page, and replaces its own PDF alone", () => {
  const sheet = makeSheet("printed", location, date, "--only", "page", "--pdf");
  const file = path.join(sheet, "sheet.pdf");
  assert.equal(pagesOf(fs.readFileSync(file)), 1);
  run("sheet", path.join(locations, location), "--date", date, "--out", sheet, "--only", "page", "--pdf");
  fs.writeFileSync(file, "%PDF-1.4 somebody else's");
  assert.throws(() => run("sheet", path.join(locations, location), "--date", date, "--out", sheet, "--only", "page", "--pdf"), /--force/);
});

test("names of 90 letters without a blank push nothing aside on a phone", async () => {
  const long = "W".repeat(90);
  const toml = fs.readFileSync(path.join(locations, "kiln-road.toml"), "utf8")
    .replace("Kiln Road Pottery", long)
    .replace(/"(bench window|glazing bench|yard gate|cloth in the bench and lane windows)"/g, `"${long}$1"`);
  fs.mkdirSync(pages, { recursive: true });
  const file = path.join(pages, "long.toml");
  fs.writeFileSync(file, toml);
  const page = await open(browser, makeSheet("long", file, "2026-06-21", "--only", "page"), { viewport: phone });
  assert.equal(await page.evaluate(() => document.documentElement.scrollWidth), 360);
  await page.context().close();
});

test("a location named like a trap does nothing", async () => {
  const trap = `<img src=x onerror=alert(1)>`;
  const closing = `</script><script>alert(2)</script>`;
  const toml = fs.readFileSync(path.join(locations, location), "utf8")
    .replace('name = "Tallow Lane Press"', `name = "${trap}"`)
    .replace(/"case window"/g, `"${closing}"`)
    .replace(/"type case"/g, `"\\" onmouseover=alert(3) x='"`);
  assert.ok(toml.includes(trap) && toml.includes(closing));
  fs.mkdirSync(pages, { recursive: true });
  const file = path.join(pages, "trap.toml");
  fs.writeFileSync(file, toml);
  const page = await open(browser, makeSheet("trap", file, date));
  assert.equal(await page.locator("h1").textContent(), trap);
  assert.equal(await page.locator("img").count(), 0);
  assert.equal(await page.locator("script").count(), 2);
  assert.equal(await page.locator("[onmouseover]").count(), 0);
  assert.ok((await page.locator("#now-patches").textContent()).includes(closing));
  assert.deepEqual(page.complaints, []);
  await page.context().close();
});
