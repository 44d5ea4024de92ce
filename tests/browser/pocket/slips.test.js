"use strict";
// Every slip that the file reader's own test knows, in the pocket page: its words stand beside the figure that is
// wrong; what no field shows is told by its line.

const assert = require("node:assert/strict");
const { after, before, test } = require("node:test");
const { launch, makePage, openPage, show, until } = require("./pocket_page.js");
const { slips } = require("./slips.js");

let browser;
before(async () => { browser = await launch(); });
after(() => browser.close());

/// Where the form has nothing to stand beside: the file as a whole, its tables, what is no TOML.
const of_the_whole = /^format = |^unknown table|stands in no room|^unknown key (?!.*did you mean)|in the file|stands for|stands a second time|not TOML|outside quotes|opened and not closed|control character/;

/// In the page: the text as it is typed under File, and what the form tells of it then.
const tell = (toml) => {
  document.getElementById("problems").textContent = "";
  const text = document.getElementById("text");
  text.value = toml;
  text.dispatchEvent(new Event("change"));
};
const told = () => {
  const list = document.getElementById("problems").textContent;
  if (!list) return null;
  const shown = (e) => e.checkVisibility();
  const beside = [...document.querySelectorAll("#form .wrong")].filter((wrong) => shown(wrong) && wrong.textContent).map((wrong) => {
    const place = wrong.closest(".field") ?? wrong.closest("fieldset:not(.thing), li") ?? wrong.closest("section") ?? wrong;
    return { text: wrong.textContent, values: [...place.querySelectorAll("input, select")].map((input) => input.value), said: place.textContent,
      of: wrong.closest(".thing")?.querySelector("legend").textContent ?? "" };
  });
  const needed = [...document.querySelectorAll("#form .needed")].map((place) => [...place.querySelectorAll("input, select")].some((input) => !input.value.trim()));
  return { list, beside, needed };
};

const faultsOf = ({ from, toml, complaints }, { list, beside, needed }) => complaints.flatMap(({ line, text }) => {
  const fault = (why) => [`${JSON.stringify(from)}: ${text}: ${why}`];
  const missing = /^"(\w+)" is missing/.test(text) || / is empty;/.test(text);
  if (missing && needed.length) return needed.every(Boolean) ? [] : fault("a field that is filled is called for");
  if (!list.includes(`Line ${line}: ${text}`)) return fault(`not told by its line: ${list}`);
  if (of_the_whole.test(text)) return [];
  const here = beside.find((place) => place.text.includes(text));
  if (!here) return fault("beside nothing");
  const name = /^\w+ = .* in (?:\w+ of )?\[\[\w+\]\] "([^"]+)"/.exec(text)?.[1] ?? here.of;
  if (here.of && here.of !== name) return fault(`beside ${here.of}`);
  // The figure itself, or a blank one, or a list that has no input of its own.
  const bare = (words) => words.replace(/[[\],]/g, "");
  const row = bare(toml.split("\n")[line - 1]);
  return here.values.length === 0 || here.values.some((value) => value === "" || row.includes(bare(value)) || /^[\d.]+$/.test(value)) ? [] : fault(`beside ${here.values}`);
});

test("each slip that the reader knows is told beside its own figure, or by its line", async () => {
  assert.equal(slips.length, 171);
  // Unsound from the start, so that what is typed so far is sketched, whatever it is.
  const page = await openPage(browser, makePage("slips"));
  const faults = [];
  for (const slip of slips) {
    await page.evaluate(tell, slip.toml);
    faults.push(...faultsOf(slip, await until(page, told)));
  }
  assert.deepEqual(faults, []);
  assert.deepEqual(page.complaints, []);
});
