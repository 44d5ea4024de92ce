"use strict";
(() => {
  const find = (id) => document.getElementById(id);
  const holder = find("sheet-data");
  if (!holder) return;
  const data = JSON.parse(holder.textContent);
  const steps = data.steps;
  if (!steps.length) return;

  const slider = find("now-slider");
  const play = find("now-play");
  const svg = "http://www.w3.org/2000/svg";

  // The patches of the slider's time, over the plan; one path a patch, used again and again.
  const plans = data.plans.map((scale) => ({ scale, layer: find(scale.id + "-now"), paths: [] }));
  const pathAt = (plan, i) => {
    if (!plan.paths[i]) {
      const path = document.createElementNS(svg, "path");
      path.setAttribute("fill", "#000");
      path.setAttribute("fill-opacity", "0.4");
      path.setAttribute("fill-rule", "evenodd");
      path.setAttribute("stroke", "#000");
      path.setAttribute("stroke-width", "0.7");
      plan.layer.appendChild(path);
      plan.paths[i] = path;
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

  const hourLines = data.strips.map((strip) => {
    const line = document.createElementNS(svg, "path");
    line.setAttribute("stroke", "#000");
    line.setAttribute("stroke-width", "0.7");
    const layer = find(strip.id + "-now");
    if (layer) layer.appendChild(line);
    return line;
  });

  const level = (lx) => {
    if (!(lx > 0)) return "0 lx";
    const unit = 10 ** (Math.floor(Math.log10(lx)) - 1);
    const value = Math.round(lx / unit) * unit;
    const shown = value >= 1000 ? value / 1000 : value;
    return shown.toFixed(shown < 10 ? 1 : 0) + (value >= 1000 ? " klx" : " lx");
  };

  // T stops a whole stop apart, from T0.5; N squared = level x time x ISO / constant (ISO 2720).
  const whole = ["0.5", "0.7", "1", "1.4", "2", "2.8", "4", "5.6", "8", "11", "16", "22", "32", "45", "64"];
  const stop = (lx) => {
    const time = Number(find("now-shutter").value) / 360 / Number(find("now-fps").value);
    const squared = lx * time * Number(find("now-iso").value) / data.meter_constant;
    if (!(squared > 0)) return "below T0.5";
    const thirds = Math.round(3 * Math.log2(squared)) + 6;
    if (thirds < 0) return "below T0.5";
    if (thirds > 3 * (whole.length - 1)) return "above T64";
    return "T" + whole[Math.floor(thirds / 3)] + ["", " 1/3", " 2/3"][thirds % 3];
  };

  const lines = (id, texts) => {
    const place = find(id);
    while (place.children.length > texts.length) place.lastElementChild.remove();
    while (place.children.length < texts.length) place.appendChild(document.createElement("p"));
    texts.forEach((text, i) => { if (place.children[i].textContent !== text) place.children[i].textContent = text; });
  };

  const show = () => {
    const step = steps[Number(slider.value)];
    find("now-clock").textContent = step.clock;
    slider.setAttribute("aria-valuetext", step.clock);
    lines("now-sun", [`bearing ${step.bearing_deg.toFixed(1)} ${step.compass}, ${step.altitude_deg.toFixed(1)} degrees high`]);
    lines("now-level", step.marks.map((m, i) =>
      `${data.marks[i]}: ${level(m.level_lx[1])} (${level(m.level_lx[0])} to ${level(m.level_lx[2])}), ` +
      (m.coverage > 0 ? `${Math.round(100 * m.coverage)} % in the sun through ${data.windows[m.window]}` : "no direct sun")));
    lines("now-stop", step.marks.map((m, i) => `${data.marks[i]}: ${stop(m.level_lx[1])}`));
    lines("now-patches", step.patches.length
      ? step.patches.map((p) => `${data.surfaces[p.surface]} through ${data.windows[p.window]}: ${p.area_m2.toFixed(2)} m2`)
      : ["no direct sun in the room"]);
    for (const plan of plans) {
      step.patches.forEach((p, i) => { pathAt(plan, i).setAttribute("d", outline(p.rings_mm, plan.scale)); });
      for (let i = step.patches.length; i < plan.paths.length; i++) plan.paths[i].setAttribute("d", "");
    }
    data.strips.forEach((strip, i) => {
      const x = (strip.left_mm + strip.mm_per_h * step.hours).toFixed(2);
      hourLines[i].setAttribute("d", `M${x} ${strip.top_mm}V${strip.bottom_mm}`);
    });
  };

  const move = (by) => {
    const to = Math.min(Math.max(Number(slider.value) + by, 0), steps.length - 1);
    slider.value = String(to);
    show();
    return to < steps.length - 1;
  };

  let timer = 0;
  const stopPlaying = () => {
    clearInterval(timer);
    timer = 0;
    play.textContent = "Play";
  };
  const still = window.matchMedia("(prefers-reduced-motion: reduce)");
  const heedMotion = () => {
    if (still.matches) stopPlaying();
    play.hidden = still.matches;
  };
  play.addEventListener("click", () => {
    if (timer) return stopPlaying();
    if (Number(slider.value) === steps.length - 1) slider.value = "0";
    play.textContent = "Stop";
    timer = setInterval(() => { if (!move(1)) stopPlaying(); }, 250);
    show();
  });
  still.addEventListener("change", heedMotion);
  heedMotion();

  slider.addEventListener("input", () => { if (timer) stopPlaying(); show(); });
  find("now-earlier").addEventListener("click", () => move(-1));
  find("now-later").addEventListener("click", () => move(1));
  for (const id of ["now-iso", "now-fps", "now-shutter"]) find(id).addEventListener("change", show);

  const hours = find("now-hours");
  hours.addEventListener("change", () => {
    for (const plan of data.plans) {
      const patches = find(plan.id + "-patches");
      if (patches) patches.setAttribute("opacity", hours.checked ? "1" : "0");
    }
  });

  find("now").hidden = false;
  find("now-reading").hidden = false;
  show();
})();
