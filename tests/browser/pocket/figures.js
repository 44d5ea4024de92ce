"use strict";
// How fast the page answers and how much memory it takes, as a person meets it: from a file, by mouse. Run by
//   tests/browser/run.sh PROGRAM LOCATIONS FOLDER figures
// on a desk that does nothing else. Times are those of the page's own clock; the browser's slow-down holds the
// page's thread alone, so a second row has the library there too, as where a browser allows no worker.

const fs = require("node:fs");
const { answer, launch, makePage, openPage, show, until } = require("./pocket_page.js");

const date = "2026-02-17";
const limits = { "first answer": 1500, "year, minutes": 1000, "year, with its light": 1000, "mark moved, patches": 50, "mark moved, minutes": 50 };
const middle = (list) => [...list].sort((a, b) => a - b)[Math.floor(list.length / 2)];

/// In the page: when a place last changed, and since when the page stands.
const watch = () => {
  window.changed = {};
  new MutationObserver((list) => {
    for (const { target } of list) {
      const place = (target.nodeType === 1 ? target : target.parentElement)?.closest("#answer-lines, #plan-reading, #tried");
      if (place) {
        window.changed[place.id] = performance.now();
        if (place.id === "answer-lines" && place.querySelector(".lines")) window.firstAnswer ??= performance.now();
      }
    }
  }).observe(document, { childList: true, subtree: true, characterData: true });
};
const noWorker = () => { window.Worker = class { constructor() { throw new Error("no worker"); } }; };

/// From a pointer's move to what it changed, ms: [patches, minutes].
const drag = async (page) => {
  const handle = page.getByRole("button", { name: "Move mark type case" });
  await page.waitForTimeout(1000);
  // A plan drawn anew has handles of its own.
  const box = await until(page, () => {
    const there = document.querySelector("#plan-drawing .handle[aria-label^='Move mark type case']")?.getBoundingClientRect();
    return there && { x: there.x, y: there.y, width: there.width, height: there.height };
  });
  const [x, y] = [box.x + box.width / 2, box.y + box.height / 2];
  await page.evaluate(() => addEventListener("pointermove", (event) => { window.moved = event.timeStamp; window.changed = {}; }, true));
  await page.mouse.move(x, y);
  await page.mouse.down();
  const times = [[], []];
  for (let i = 1; i <= 16; i++) {
    await page.mouse.move(x + 2 * i, y);
    const [patches, minutes] = await until(page, () => {
      const { "plan-reading": patches, tried } = window.changed;
      return patches && tried && [patches - window.moved, tried - window.moved];
    }).catch(() => [NaN, NaN]);
    if (i > 2) { times[0].push(patches); times[1].push(minutes); }
  }
  await page.mouse.up();
  return times.map(middle);
};

/// What the page's process holds for itself, MB (Linux: what no other process shares): its browser's own code and all.
const processMemory = async (browser) => {
  const session = await browser.newBrowserCDPSession();
  const { processInfo } = await session.send("SystemInfo.getProcessInfo");
  const own = processInfo.filter(({ type }) => type === "renderer").map(({ id }) => {
    const text = fs.readFileSync(`/proc/${id}/smaps_rollup`, "utf8");
    return [...text.matchAll(/^Private_(?:Clean|Dirty): +(\d+)/gm)].reduce((sum, [, kb]) => sum + Number(kb) / 1024, 0);
  });
  return Math.max(...own);
};

/// Opened once and used: an answer, a drag, a year, the recce. Where the library is in the page, script and WebAssembly
/// are one heap, which is told too.
const memory = async (file, { worker = true }) => {
  const browser = await launch();
  const page = await openPage(browser, file, { before: worker ? watch : `(${watch})();(${noWorker})();` });
  await answer(page, date);
  await page.locator("#answer-lines .lines").waitFor();
  await drag(page);
  await page.getByRole("button", { name: "Put it back" }).click();
  await answer(page, date, "Year");
  await page.locator("#answer-lines", { hasText: "2026-12-21" }).waitFor();
  await show(page, "Recce");
  await page.locator("#next", { hasText: "Measure next" }).waitFor();
  const session = await page.context().newCDPSession(page);
  const { usedSize, backingStorageSize } = await session.send("Runtime.getHeapUsage");
  const told = worker ? "" : `, of it script and WebAssembly ${((usedSize + backingStorageSize) / 1e6).toFixed(0)} MB`;
  console.log(`memory of the page's process, ${worker ? "with" : "without"} a worker: ${(await processMemory(browser)).toFixed(0)} MB of 128${told}`);
  await browser.close();
};

const measure = async (name, file, { slow = 1, worker = true }) => {
  const browser = await launch();
  const page = await openPage(browser, file, { before: worker ? watch : `(${watch})();(${noWorker})();` });
  const session = await page.context().newCDPSession(page);
  await session.send("Emulation.setCPUThrottlingRate", { rate: slow });
  await answer(page, date);
  await page.locator("#answer-lines .lines").waitFor();
  // Opened where it was left: on the answer.
  const first = [];
  for (let i = 0; i < 3; i++) {
    await page.reload();
    first.push(await until(page, () => window.firstAnswer));
  }
  const [patches, minutes] = await drag(page);
  await page.getByRole("button", { name: "Put it back" }).click();
  // Another year each time: nothing is at hand from the one before.
  const years = [];
  for (const year of [2027, 2028, 2029]) {
    await answer(page, `${year}-02-17`);
    await page.locator("#answer-lines .lines", { hasText: `17 February ${year}` }).waitFor();
    years.push(await page.evaluate((last) => new Promise((done) => {
      const began = performance.now();
      let minutes = 0;
      new MutationObserver((_, watching) => {
        if (document.getElementById("answer-lines").textContent.includes(last)) minutes ||= performance.now() - began;
        if (minutes && document.querySelector("#strips svg#year")) { watching.disconnect(); done([minutes, performance.now() - began]); }
      }).observe(document.getElementById("main"), { childList: true, subtree: true });
      [...document.querySelectorAll("#questions button")].find((button) => button.textContent === "Year").click();
    }), `${year}-12-2`));
  }
  const [minutesOfYear, allOfYear] = [0, 1].map((k) => middle(years.map((both) => both[k])));
  const found = { "first answer": middle(first), "mark moved, patches": patches, "mark moved, minutes": minutes, "year, minutes": minutesOfYear, "year, with its light": allOfYear };
  console.log(name);
  for (const [what, ms] of Object.entries(found)) console.log(`  ${what.padEnd(22)} ${ms.toFixed(0).padStart(6)} ms of ${limits[what]}${slow === 1 && !(ms <= limits[what]) ? "  NOT MET" : ""}`);
  await browser.close();
};

(async () => {
  const file = makePage("figures", "tallow-lane.toml");
  console.log(`page ${(fs.statSync(file).size / 1e6).toFixed(2)} MB of 2.5`);
  await measure("a desk", file, {});
  await measure("the page's thread slowed fourfold", file, { slow: 4 });
  await measure("no worker: all slowed fourfold", file, { slow: 4, worker: false });
  await memory(file, {});
  await memory(file, { worker: false });
})();
