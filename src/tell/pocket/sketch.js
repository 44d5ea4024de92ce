// A plain outline of what is typed so far, for as long as the file can't be drawn whole.
// @param width_px  of the place that it fills: its letters have 16 of them
const sketch = (location, width_px) => {
  const units = "m";
  const floor = location.corners(["room", "floor"]);
  if (floor.length < 3 || floor.some((c) => c.length !== 2 || c.some(Number.isNaN))) return null;
  const xs = floor.map((c) => c[0]), ys = floor.map((c) => c[1]);
  const [left, right, low, high] = [Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)];
  const size = Math.max(right - left, high - low), scale = 100 / size, pad = 14;
  const at = ([x, y]) => [pad + (x - left) * scale, pad + (high - y) * scale];
  const width = (right - left) * scale + 2 * pad, height = (high - low) * scale + 2 * pad;
  const svg = ink("svg", { viewBox: `0 0 ${width.toFixed(2)} ${height.toFixed(2)}`, role: "img", "aria-label": "Outline of the floor as typed so far", "font-size": (16 * width / width_px).toFixed(2), "font-family": "Helvetica, Arial, sans-serif" });
  const line = (a, b, wide, colour = "#000") => {
    const [p, q] = [at(a), at(b)];
    svg.append(ink("line", { x1: p[0], y1: p[1], x2: q[0], y2: q[1], stroke: colour, "stroke-width": wide }));
  };
  const words = (p, text, u) => {
    const [x, y] = at(p);
    const turn = Math.atan2(-u[1], u[0]) * 180 / Math.PI;
    const upright = turn > 90 || turn <= -90 ? turn + 180 : turn;
    svg.append(ink("text", { x, y, transform: `rotate(${upright.toFixed(2)} ${x} ${y})`, "dominant-baseline": "central", "text-anchor": "middle", stroke: "#fff", "stroke-width": "1.4", "paint-order": "stroke" }, text));
  };
  svg.append(ink("polygon", { points: floor.map((c) => at(c).join(",")).join(" "), fill: "none", stroke: "#000", "stroke-width": "2", "stroke-linejoin": "miter" }));
  for (let i = 0; i < location.count("window"); i++) {
    const get = (key) => Length.read(location.value(["window", i, key]), units);
    const wall = wallFrame(location, location.value(["window", i, "wall"]));
    const [from, wide] = [get("left_m"), get("width_m")];
    if (!wall || !(from >= 0) || !(wide > 0)) continue;
    const point = (d) => framePoint(wall, d, 0);
    line(point(from), point(from + wide), 3, "#fff");
    line(point(from), point(from + wide), 0.7);
  }
  for (const name of location.walls()) {
    const wall = wallFrame(location, name);
    if (wall) words(framePoint(wall, wall.long / 2, 7 / scale), `${name} ${Length.told(wall.long, location.units())}`, wall.u);
  }
  for (const kind of ["mark", "camera"])
    for (let i = 0; i < location.count(kind); i++) {
      const place = location.metres([kind, i, "at"]);
      if (place.length !== 2 || place.some(Number.isNaN)) continue;
      const [x, y] = at(place);
      svg.append(kind === "mark" ? ink("circle", { cx: x, cy: y, r: 2.2, fill: "#000" })
                                 : ink("rect", { x: x - 2.2, y: y - 2.2, width: 4.4, height: 4.4, fill: "#fff", stroke: "#000", "stroke-width": "0.8" }));
    }
  return svg;
};

/// The walls walked so far, while the floor is open.
const sketchOfWalk = (walk, width_px) => {
  const at = walk?.passed() ?? [];
  if (at.length < 2) return null;
  const [xs, ys] = [0, 1].map((k) => at.map((c) => c[k]));
  const [left, high] = [Math.min(...xs), Math.max(...ys)];
  const across = Math.max(...xs) - left, tall = high - Math.min(...ys);
  const scale = 100 / Math.max(across, tall), pad = 16;
  const paper = ([x, y]) => [pad + (x - left) * scale, pad + (high - y) * scale];
  const width = Math.max(across * scale, 60) + 2 * pad, height = tall * scale + 2 * pad;
  const svg = ink("svg", { viewBox: `0 0 ${width.toFixed(2)} ${height.toFixed(2)}`, role: "img", "aria-label": "The walls walked so far",
    "font-size": (16 * width / width_px).toFixed(2), "font-family": "Helvetica, Arial, sans-serif" });
  svg.append(ink("polyline", { points: at.map((c) => paper(c).map((v) => v.toFixed(2)).join(",")).join(" "), fill: "none", stroke: "#000", "stroke-width": 2 }));
  at.slice(1).forEach((b, i) => {
    const [p, q] = [paper(at[i]), paper(b)];
    const long = Math.hypot(q[0] - p[0], q[1] - p[1]);
    // Outside: at the hand that the wall is at.
    const off = walk.hand * 8 / long;
    const x = (p[0] + q[0]) / 2 - off * (q[1] - p[1]), y = (p[1] + q[1]) / 2 + off * (q[0] - p[0]);
    const turn = Math.atan2(q[1] - p[1], q[0] - p[0]) * 180 / Math.PI;
    const upright = turn > 90.5 || turn <= -89.5 ? turn + 180 : turn;
    svg.append(ink("text", { x, y, transform: `rotate(${upright.toFixed(2)} ${x.toFixed(2)} ${y.toFixed(2)})`, "dominant-baseline": "central", "text-anchor": "middle" },
      `${walk.walls[i].name} ${Length.told(Math.hypot(b[0] - at[i][0], b[1] - at[i][1]), walk.units)}`));
  });
  return svg;
};
