"use strict";
// What a step of the slider costs the page's own thread, from the event to the painted frame: script,
// style, layout, paint and the hand-over to the compositor. Waiting for the screen is no work.

/// Moves the slider from its first step to its last, each step a frame of its own.
const sweeps = {
  mouse: async (page, steps) => {
    const box = await page.locator("#now-slider").boundingBox();
    const y = box.y + box.height / 2, from = box.x + 8, wide = box.width - 16;
    await page.mouse.move(from, y);
    await page.mouse.down();
    for (let i = 1; i <= steps; i++) await page.mouse.move(from + (wide * i) / steps, y);
    await page.mouse.up();
  },
  keys: async (page, steps) => {
    await page.keyboard.press("Home");
    for (let i = 0; i < steps; i++) await page.keyboard.press("ArrowRight");
  },
};

const inside = (event, task) => event.ts >= task.ts && event.ts < task.ts + task.dur;

/// [{ cpu_ms, wall_ms }, ...], a step each. Processor time is what another program can't lengthen.
const workOf = (events) => {
  const main = new Set(events.filter((e) => e.name === "thread_name" && e.args.name === "CrRendererMain")
    .map((e) => `${e.pid} ${e.tid}`));
  const complete = events.filter((e) => e.ph === "X" && main.has(`${e.pid} ${e.tid}`)).sort((a, b) => a.ts - b.ts);
  const inputs = complete.filter((e) => e.name === "EventDispatch" && e.args.data.type === "input");
  if (!inputs.length) return [];
  const own = complete.filter((e) => e.pid === inputs[0].pid && e.tid === inputs[0].tid);
  const tasks = own.filter((e) => e.name.endsWith("RunTask"));
  // The tests' own messages to the page are none of its work.
  const asked = own.filter((e) => e.name === "Receive mojo message" && JSON.stringify(e.args).includes("DevTools"));
  const foreign = new Set(asked.map((message) => tasks.find((task) => inside(message, task))));
  const starts = inputs.map((input) => tasks.findIndex((task) => inside(input, task)));
  return starts.map((start, i) => {
    const step = tasks.slice(start, starts[i + 1]).filter((task) => !foreign.has(task));
    const sum = (what) => step.reduce((total, task) => total + (task[what] ?? task.dur) / 1000, 0);
    return { cpu_ms: sum("tdur"), wall_ms: sum("dur") };
  });
};

const quantile = (sorted, share) => sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))];

/// One sweep's median, 95th percentile and slowest step.
const measureSweep = async (browser, page, way) => {
  const steps = await page.evaluate(() => Number(document.getElementById("now-slider").max));
  await browser.startTracing(page, { categories: ["toplevel", "devtools.timeline"] });
  await sweeps[way](page, steps);
  const work = workOf(JSON.parse((await browser.stopTracing()).toString()).traceEvents);
  const told = (what) => {
    const sorted = work.map((step) => step[what]).sort((a, b) => a - b);
    return { median: quantile(sorted, 0.5), p95: quantile(sorted, 0.95), slowest: sorted.at(-1) };
  };
  return { steps: work.length, cpu_ms: told("cpu_ms"), wall_ms: told("wall_ms") };
};

const inWords = ({ median, p95, slowest }) =>
  `median ${median.toFixed(1)}, 95 % below ${p95.toFixed(1)}, slowest ${slowest.toFixed(1)} ms`;

module.exports = { inWords, measureSweep };
