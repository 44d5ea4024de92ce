"use strict";
(() => {
  const find = (id) => document.getElementById(id);
  const holder = find("sheet-data");
  if (!holder) return;
  const data = JSON.parse(holder.textContent);
  const steps = data.steps;
  if (!steps.length) return;

  const slider = find("now-slider");
  const clock = find("now-clock");
  const svg = "http://www.w3.org/2000/svg";

  // Each drawing stands twice, for a desk and for a phone; only the one shown is kept up to date.
  const atDesk = window.matchMedia("(min-width: 40rem)");
  const shownOf = (pair) => pair[atDesk.matches ? 0 : 1];

  const ink = (attributes) => {
    const path = document.createElementNS(svg, "path");
    for (const [name, value] of Object.entries(attributes)) path.setAttribute(name, value);
    return path;
  };

  // The patches of the slider's time, over the plan; one path a patch, used again and again.
  const plans = data.plans.map((scale) => ({ scale, layer: find(scale.id + "-now"), paths: [] }));
  const pathAt = (plan, i) => {
    if (!plan.paths[i]) {
      plan.paths[i] = ink({ fill: "#000", "fill-opacity": "0.4", "fill-rule": "evenodd", stroke: "#000", "stroke-width": "0.7" });
      plan.layer.appendChild(plan.paths[i]);
    }
    return plan.paths[i];
  };

  // Rings are flat lists of plan millimetres: x, y, x, y.
  const outline = (rings, scale) => {
    const k = scale.mm_per_m / 1000;
    let d = "";
    for (const ring of rings) {
      for (let i = 0; i < ring.length; i += 2)
        d += (i ? "L" : "M") + (scale.left_mm + k * ring[i]).toFixed(2) + " " +
             (scale.top_mm - k * ring[i + 1]).toFixed(2);
      d += "Z";
    }
    return d;
  };

  const strips = data.strips.map((scale) => {
    const line = ink({ stroke: "#000", "stroke-width": "0.7" });
    const layer = find(scale.id + "-now");
    if (layer) layer.appendChild(line);
    return { scale, line };
  });

  // Two digits where the air leaves a level within a stop, else one.
  const digitsOf = ([low, , high]) => (high <= 2 * low ? 2 : 1);
  const level = (lx, digits) => {
    if (!(lx > 0)) return "0 lx";
    const unit = 10 ** (Math.floor(Math.log10(lx)) + 1 - digits);
    const value = Math.round(lx / unit) * unit;
    const shown = value >= 1000 ? value / 1000 : value;
    const text = shown < 1 ? Number(shown.toPrecision(digits)) : shown.toFixed(digits === 2 && shown < 10 ? 1 : 0);
    return text + (value >= 1000 ? " klx" : " lx");
  };
  const levels = (lx) => {
    const words = (one) => level(one, digitsOf(lx));
    return `${words(lx[1])} (${band(lx, words)})`;
  };

  // T stops a whole stop apart, from T0.5; N squared = level x time x ISO / constant (ISO 2720).
  const whole = ["0.5", "0.7", "1", "1.4", "2", "2.8", "4", "5.6", "8", "11", "16", "22", "32", "45", "64"];
  const camera = ["now-shutter", "now-fps", "now-iso"].map(find).filter((select) => select);
  let squaredPerLux = 0;
  const readCamera = () => {
    const [shutter, fps, iso] = camera.map((select) => Number(select.value));
    squaredPerLux = (shutter / 360 / fps) * iso / data.meter_constant;
  };
  const stop = (lx) => {
    const squared = lx * squaredPerLux;
    if (!(squared > 0)) return "below T0.5";
    const thirds = Math.round(3 * Math.log2(squared)) + 6;
    if (thirds < 0) return "below T0.5";
    if (thirds > 3 * (whole.length - 1)) return "above T64";
    return "T" + whole[Math.floor(thirds / 3)] + ["", " 1/3", " 2/3"][thirds % 3];
  };

  const band = ([low, , high], words) => words(low) === words(high) ? words(low) : `${words(low)} to ${words(high)}`;
  // Doubts to the half inch, rounded up: "4 1/2 in", "1 ft 2 in".
  const feet = (m) => {
    const halves = Math.max(1, Math.ceil(m / 0.0127)), ft = Math.floor(halves / 24), rest = halves % 24;
    const inches = [Math.floor(rest / 2) || "", rest % 2 ? "1/2" : "", "in"].filter(Boolean).join(" ");
    return [ft ? `${ft} ft` : "", rest ? inches : ""].filter(Boolean).join(" ");
  };
  const within = (m) => data.feet ? feet(m) : `${Math.ceil(100 * m)} cm`;
  const edge = (m) => m === null ? ", may not be there at all" : `, edge within ${within(m)}`;
  const area = (m2) => data.feet ? `${(m2 / 0.09290304).toFixed(1)} sq ft` : `${m2.toFixed(2)} m2`;

  // What is told of each step whatever the camera's setting.
  const told = steps.map((step) => ({
    sun: [`bearing ${step.bearing_deg.toFixed(1)} ${step.compass} true, ${step.altitude_deg.toFixed(1)} degrees high`],
    level: step.marks.map((m, i) =>
      `${data.marks[i]}: ${levels(m.level_lx)}, ` +
      (m.coverage > 0 ? `${Math.round(100 * m.coverage)} % in the sun through ${data.windows[m.window]}` : "no direct sun")),
    patches: step.patches.length
      ? step.patches.map((p) => `${data.surfaces[p.surface]} through ${data.windows[p.window]}: ${area(p.area_m2)}${edge(p.edge_within_m)}`)
      : ["no direct sun in the room"],
  }));

  // Paragraphs of which only the letters change: a text node that is written to costs least.
  const listIn = (id, most) => {
    const place = find(id);
    if (!place) return () => {};  // level and stop, where the room has no mark
    const texts = [];
    place.style.minHeight = `${1.45 * most}em`;  // so that what lies below stays where it is
    return (lines) => {
      while (texts.length > lines.length) texts.pop().parentNode.remove();
      while (texts.length < lines.length) {
        texts.push(document.createTextNode(""));
        place.appendChild(document.createElement("p")).appendChild(texts.at(-1));
      }
      lines.forEach((line, i) => { if (texts[i].data !== line) texts[i].data = line; });
    };
  };
  const change = find("now-change");
  change.appendChild(document.createTextNode(""));
  // Room for the longest, so that the slider stays where it is.
  const between = (next) => next ? `next: ${next.clock}, ${next.change}` : "no change of light after this";
  const changeAfter = steps.map(() => null);
  for (let n = steps.length - 2; n >= 0; n--)
    changeAfter[n] = steps[n + 1].change ? steps[n + 1] : changeAfter[n + 1];
  const tellChange = (n) => { change.firstChild.data = steps[n].change ?? between(changeAfter[n]); };
  const tellSun = listIn("now-sun", 1);
  const tellLevel = listIn("now-level", data.marks.length);
  const tellStop = listIn("now-stop", data.marks.length);
  const tellPatches = listIn("now-patches", Math.max(1, ...steps.map((step) => step.patches.length)));

  const drawPatches = (step) => {
    const plan = shownOf(plans);
    step.patches.forEach((p, i) => pathAt(plan, i).setAttribute("d", outline(p.rings_mm, plan.scale)));
    for (let i = step.patches.length; i < plan.paths.length; i++) plan.paths[i].setAttribute("d", "");
  };

  const drawHour = (step) => {
    const { scale, line } = shownOf(strips);
    const x = (scale.left_mm + scale.mm_per_h * step.hours).toFixed(2);
    line.setAttribute("d", `M${x} ${scale.top_mm}V${scale.bottom_mm}`);
  };

  const show = () => {
    const n = Number(slider.value), step = steps[n], words = told[n];
    clock.firstChild.data = step.clock;
    tellChange(n);
    slider.setAttribute("aria-valuetext", step.change ? `${step.clock}, ${step.change}` : step.clock);
    tellSun(words.sun);
    tellLevel(words.level);
    tellStop(step.marks.map((m, i) => `${data.marks[i]}: ${stop(m.level_lx[1])} (${band(m.level_lx, stop)})`));
    tellPatches(words.patches);
    drawPatches(step);
    drawHour(step);
  };

  const buttons = { before: find("now-before"), after: find("now-after") };
  const moveTo = (n) => {
    slider.value = String(n);
    show();
  };
  // To the change of light before or after; beyond the last of them to the day's end.
  const toChange = (way) => {
    let n = Number(slider.value) + way;
    while (n > 0 && n < steps.length - 1 && !steps[n].change) n += way;
    moveTo(Math.min(Math.max(n, 0), steps.length - 1));
  };
  buttons.before.addEventListener("click", () => toChange(-1));
  buttons.after.addEventListener("click", () => toChange(1));
  slider.addEventListener("keydown", (e) => {
    if (e.key !== "PageUp" && e.key !== "PageDown") return;
    e.preventDefault();
    toChange(e.key === "PageUp" ? 1 : -1);
  });
  slider.addEventListener("input", show);
  for (const select of camera) select.addEventListener("change", () => { readCamera(); show(); });
  atDesk.addEventListener("change", show);

  const hours = find("now-hours");
  hours.addEventListener("change", () => {
    for (const plan of data.plans) {
      const patches = find(plan.id + "-patches");
      if (patches) patches.setAttribute("opacity", hours.checked ? "1" : "0");
    }
  });

  clock.appendChild(document.createTextNode(""));
  readCamera();
  find("now").hidden = false;
  find("now-reading").hidden = false;
  show();
})();
