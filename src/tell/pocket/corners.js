// An outline that is no rectangle, corner by corner round it, each as it is taped: how far off a wall,
// and from where along it.
class Corners extends Beside {
  /// side: 1 outside the wall, -1 inside
  constructor(desk, path, side) {
    super(desk, path, { label: "its place" });
    this.side = side;
    this.typed = desk.draft(path) ?? Corners.taped(desk, desk.location.value(path), side);
    const { location } = desk;
    const id = path.join("-");
    const wall = make("select", { id: `${id}-wall`, onchange: () => { this.typed.wall = wall.value; this.#write(); desk.settled(); } },
      location.walls().map((name) => make("option", { value: name }, name)));
    wall.value = this.typed.wall;
    this.rows = make("ol", { class: "walls" });
    const change = (work) => () => { work(this.typed.corners); this.#draw(); this.#write(); desk.settled(); };
    this.element = make("fieldset", {},
      make("legend", {}, side > 0 ? "Its corners in turn, looking out at a wall" : "Its corners in turn, facing a wall"),
      make("div", { class: "row" }, make("div", { class: "field choice" }, make("label", { for: wall.id }, "Wall"), wall)), this.rows,
      make("div", { class: "buttons" },
        make("button", { type: "button", onclick: change((corners) => corners.push({ off: "", from: "" })) }, "One more corner"),
        make("button", { type: "button", onclick: change((corners) => { if (corners.length > 3) corners.pop(); }) }, "One corner less")), this.wrong);
    this.#draw();
  }

  /// Of what stands there now; four blank corners where nothing does.
  static begin(desk, path, side) {
    const raw = desk.location.value(path);
    desk.keepDraft(path, raw === undefined ? Corners.blank(desk) : Corners.taped(desk, raw, side));
    desk.draw();
    find(`${path.join("-")}-corner-0-off`)?.focus();
  }
  static blank(desk) {
    return { wall: desk.location.walls()[0] ?? "", corners: Array.from({ length: 4 }, () => ({ off: "", from: "" })) };
  }

  /// Corners of the plan as they are taped from the wall that all of them lie before, the nearest one.
  static taped(desk, raw, side) {
    const corners = (Array.isArray(raw) ? raw : []).map((c) => [].concat(c).map((v) => Length.read(v, "m")));
    if (corners.length < 3 || corners.some((c) => c.length !== 2 || c.some(Number.isNaN))) return Corners.blank(desk);
    let best = null;
    for (const name of desk.location.walls()) {
      const wall = wallFrame(desk.location, name);
      if (!wall) continue;
      const local = corners.map(([x, y]) => {
        const d = [x - wall.corner[0], y - wall.corner[1]];
        return [side * (d[0] * wall.out[0] + d[1] * wall.out[1]), d[0] * wall.u[0] + d[1] * wall.u[1]];
      });
      const least = Math.min(...local.map(([off]) => off));
      const rank = least < -0.001 ? 1e6 - least : least;
      if (!best || rank < best.rank) best = { rank, name, local };
    }
    if (!best) return Corners.blank(desk);
    const words = (m) => Length.typed(Math.abs(m) < 0.0005 ? 0 : m, desk.location.units());
    return { wall: best.name, corners: best.local.map(([off, from]) => ({ off: words(off), from: words(from) })) };
  }

  #draw() {
    const { desk, path } = this;
    const feet = desk.location.units() === "ft";
    const box = (corner, i, key, label) => {
      const input = make("input", { id: `${path.join("-")}-corner-${i}-${key}`, type: "text", inputmode: feet ? null : "decimal", autocomplete: "off",
        value: corner[key], placeholder: feet ? "12' 6\"" : "m", oninput: () => { corner[key] = input.value; this.#write(); }, onchange: () => desk.settled() });
      return make("div", { class: "field length" }, make("label", { for: input.id }, label), input);
    };
    put(this.rows, this.typed.corners.map((corner, i) => make("li", {}, make("div", { class: "row" },
      box(corner, i, "off", `Corner ${i + 1}: off the wall${this.side > 0 ? "'s inner face" : ""}`), box(corner, i, "from", "from the wall's left corner")))));
    this.input = this.rows.querySelector("input");
  }

  #write() {
    const { desk, path, typed } = this;
    const units = desk.location.units();
    const wall = wallFrame(desk.location, typed.wall);
    desk.keepDraft(path, typed);
    const taped = typed.corners.filter((corner) => corner.off.trim() || corner.from.trim())
      .map((corner) => [Length.read(corner.from, units), Length.read(corner.off, units)]);
    if (!wall || taped.length < 3 || taped.flat().some(Number.isNaN)) return;
    const corners = taped.map(([from, off]) => framePoint(wall, from, this.side * off).map((m) => Length.metre(m)));
    desk.edit(path, `[${corners.map((c) => `[${c.join(", ")}]`).join(", ")}]`);
  }
}

/// The outline of what blocks light: square before a wall, or of any shape.
/// @param label  of a button that begins one, where there is none and need not be one
const outlineOf = (desk, path, side, label) => {
  const { location } = desk;
  const raw = location.value(path), draft = desk.draft(path);
  if (raw !== undefined && !location.walls().some((name) => wallFrame(location, name)))
    return new Field(desk, path, { label: "Its corners on the plan", kind: "list", size: "long" }).element;
  if (label && raw === undefined && !draft)
    return make("button", { type: "button", class: "beside", onclick: () => Corners.begin(desk, path, side) }, label);
  const any = draft ? draft.corners : raw !== undefined && !Rectangle.taped(desk, raw, side);
  return (any ? new Corners(desk, path, side) : new Rectangle(desk, path, side)).element;
};
