// What stands square before a wall, inside or out, as it is taped: how far off the wall, from where
// along it, how wide and how deep.
class Rectangle extends Beside {
  /// side: 1 outside the wall, -1 inside
  constructor(desk, path, side) {
    super(desk, path, { label: "its place" });
    this.side = side;
    const raw = desk.location.value(path);
    this.typed = desk.draft(path) ?? Rectangle.taped(desk, raw, side) ?? { wall: desk.location.walls()[0] ?? "" };
    const inputs = [];
    const box = (key, label) => {
      const id = `${path.join("-")}-${key}`;
      const input = make("input", { id, type: "text", inputmode: desk.location.units() === "ft" ? null : "decimal", autocomplete: "off",
        value: this.typed[key] ?? "", placeholder: desk.location.units() === "ft" ? "12' 6\"" : "m",
        oninput: () => { this.typed[key] = input.value; this.#write(); }, onchange: () => desk.settled() });
      inputs.push(input);
      return make("div", { class: "field length" }, make("label", { for: id }, label), input);
    };
    const wall = make("select", { id: `${path.join("-")}-wall`, onchange: () => { this.typed.wall = wall.value; this.#write(); desk.settled(); } },
      desk.location.walls().map((name) => make("option", { value: name }, name)));
    wall.value = this.typed.wall;
    this.input = inputs[0] ?? wall;
    this.element = make("fieldset", { class: "row" },
      make("legend", {}, side > 0 ? "Its place, looking out at a wall" : "Its place, facing a wall"),
      make("div", { class: "field choice" }, make("label", { for: wall.id }, "Wall"), wall),
      box("off", side > 0 ? "Off the wall's inner face" : "Off the wall"),
      box("from", "Its left end, from the wall's left corner"),
      box("wide", "Wide, along the wall"), box("deep", "Deep"), this.wrong,
      make("button", { type: "button", class: "beside", onclick: () => Corners.begin(desk, path, side) }, "Corner by corner"));
    this.input = this.element.querySelector("input");
  }

  /// The five figures of a rectangle that stands square before a wall; null for any other.
  static taped(desk, raw, side) {
    if (!Array.isArray(raw) || raw.length !== 4) return null;
    const corners = raw.map((c) => [].concat(c).map((v) => Length.read(v, "m")));
    if (corners.some((c) => c.length !== 2 || c.some(Number.isNaN))) return null;
    let best = null;
    for (const name of desk.location.walls()) {
      const wall = wallFrame(desk.location, name);
      if (!wall) continue;
      const local = corners.map(([x, y]) => {
        const d = [x - wall.corner[0], y - wall.corner[1]];
        return [d[0] * wall.u[0] + d[1] * wall.u[1], side * (d[0] * wall.out[0] + d[1] * wall.out[1])];
      });
      const [rights, outs] = [0, 1].map((k) => local.map((c) => c[k]));
      const [from, to, off, far] = [Math.min(...rights), Math.max(...rights), Math.min(...outs), Math.max(...outs)];
      const near = (a, b) => Math.abs(a - b) < 0.001;
      if (off < -0.001 || !local.every(([r, o]) => (near(r, from) || near(r, to)) && (near(o, off) || near(o, far)))) continue;
      if (!best || off < best.off) best = { off, from, to, far, name };
    }
    if (!best) return null;
    const words = (m) => Length.typed(Math.abs(m) < 0.0005 ? 0 : m, desk.location.units());
    return { wall: best.name, off: words(best.off), from: words(best.from), wide: words(best.to - best.from), deep: words(best.far - best.off) };
  }

  #write() {
    const [off, from, wide, deep] = ["off", "from", "wide", "deep"].map((key) => Length.read(this.typed[key], this.desk.location.units()));
    const wall = wallFrame(this.desk.location, this.typed.wall);
    this.desk.keepDraft(this.path, this.typed);
    if (!wall || !(off >= 0) || Number.isNaN(from) || !(wide > 0) || !(deep > 0)) return;
    const at = (right, out) => framePoint(wall, right, this.side * out).map((m) => Length.metre(m));
    const corners = [at(from, off), at(from + wide, off), at(from + wide, off + deep), at(from, off + deep)];
    this.desk.edit(this.path, `[${corners.map((c) => `[${c.join(", ")}]`).join(", ")}]`);
  }
}
