// The bearing from the sun: the minute is taken from the clock, two lengths are typed, and the library
// says which way the wall faces and how sure that is.
class Sighting {
  static look_out = ["north", "north-east", "east", "south-east", "south", "south-west", "west", "north-west"];

  constructor(desk) {
    this.desk = desk;
    this.taken = desk.file.observations ??= [];
    this.at = "";
    this.parts = {};
    this.element = make("details", { class: "sighting" }, make("summary", {}, "From the sun: a timed shadow, or a corner of a patch"));
    this.body = make("div");
    this.element.append(this.body);
    this.draw();
  }

  #input(key, label, hint) {
    const id = `sighting-${key}`;
    const input = make("input", { id, type: "text", autocomplete: "off", inputmode: this.desk.location.units() === "ft" ? null : "decimal",
      value: this.parts[key] ?? "", oninput: () => { this.parts[key] = input.value; } });
    return make("div", { class: `field length ${hint ? "whole" : ""}` }, make("label", { for: id }, label), hint ? make("p", { class: "hint" }, hint) : null, input);
  }
  #choice(key, label, choices) {
    const id = `sighting-${key}`;
    this.parts[key] = choices.includes(this.parts[key]) ? this.parts[key] : choices[0] ?? "";
    const select = make("select", { id, onchange: () => { this.parts[key] = select.value; if (key === "kind") this.draw(); } },
      choices.map((word) => make("option", { value: word }, word)));
    select.value = this.parts[key];
    return make("div", { class: `field choice ${key === "kind" ? "whole" : ""}` }, make("label", { for: id }, label), select);
  }

  draw() {
    const { location } = this.desk;
    this.time = make("input", { id: "sighting-time", type: "text", autocomplete: "off", placeholder: "2026-02-10T13:40", value: this.at,
      oninput: () => { this.at = this.time.value; } });
    this.read = make("p", { class: "hint", role: "status" });
    this.answer = make("div", { class: "answer-lines" });
    const shadow = ["shadow of a jamb or plumb line", "corner of a patch on the floor"];
    const kind = this.#choice("kind", "What falls on the floor", shadow);
    const byShadow = this.parts.kind === shadow[0];
    const of = byShadow
      ? [this.#choice("wall", "Wall whose skirting it leaves", location.walls()),
         this.#input("in", "Into the room, square off that wall", "from the skirting to a point on the shadow a metre or more away"),
         this.#input("aside", "Sideways along the wall", "from where the shadow leaves the skirting to abreast of that point"),
         this.#choice("hand", "Sideways which way, looking out", ["right", "left"])]
      : [this.#choice("window", "Window", location.names("window")),
         this.#choice("corner", "Corner of the opening that casts it, seen from inside", ["sill left", "sill right", "head left", "head right"]),
         this.#input("in", "Into the room, square off the window's wall"),
         this.#input("aside", "Along the wall, from its left corner")];
    put(this.body,
      make("p", { class: "caution" }, "Never look at the sun, least of all through a lens or sight: use shadows."),
      make("div", { class: "row" }, kind, of),
      make("div", { class: "row" },
        make("button", { type: "button", onclick: () => this.takeClock() }, "Take the clock now"),
        make("div", { class: "field long" }, make("label", { for: "sighting-time" }, "Time of the marks on the floor"), this.time)),
      this.read,
      location.value(["room", "bearing", "faces"]) === undefined
        ? make("div", { class: "row" }, this.#choice("rough", `Looking out of ${location.value(["room", "bearing", "wall"]) ?? location.walls()[0] ?? "the first wall"} you look, roughly`, Sighting.look_out)) : null,
      make("button", { type: "button", onclick: () => this.add() }, "Add this sighting"),
      this.list = make("ul", { class: "sightings" }), this.answer);
    this.#showTaken();
    if (this.taken.length) this.ask();
  }

  /// This device's, as files and flags take it.
  static clock(now = new Date()) { return `${now.toISOString().slice(0, 19)}Z`; }

  takeClock() {
    const now = new Date();
    this.at = Sighting.clock(now);
    this.time.value = this.at;
    say(this.read, `This device's clock: ${now.toLocaleTimeString("en-GB")}, taken as UTC ${now.toISOString().slice(11, 19)}. Is it right?`);
  }

  /// As the command line's flags take it; null with the reason said.
  #observation() {
    const { parts, desk } = this;
    const units = desk.location.units();
    const [into, aside] = [Length.read(parts.in, units), Length.read(parts.aside, units)];
    const refuse = (why) => { say(this.read, why); return null; };
    if (!(into > 0) || Number.isNaN(aside) || aside < 0) return refuse(`Two lengths are needed, as taped${units === "ft" ? ": 3' 2 1/2\"" : ": 1.04"}.`);
    if (!this.at.trim()) return refuse("The time is needed: take the clock when you mark the floor, or type it.");
    if (parts.kind.startsWith("shadow")) {
      const angle = Math.atan2(into, aside) * 180 / Math.PI;
      return { kind: "shadow", text: `wall=${parts.wall} angle_deg=${angle.toFixed(2)} hand=${parts.hand} at=${this.at.trim()}`,
        told: `shadow off ${parts.wall}: ${parts.in} in, ${parts.aside} to the ${parts.hand}, ${this.at.trim()}` };
    }
    const i = desk.location.names("window").indexOf(parts.window);
    const wall = wallFrame(desk.location, desk.location.value(["window", i, "wall"]));
    if (!wall) return refuse("That window needs its wall first, and the floor.");
    const [x, y] = framePoint(wall, aside, -into);
    return { kind: "corner", text: `window=${parts.window} corner=${parts.corner} floor=${x.toFixed(4)},${y.toFixed(4)} at=${this.at.trim()}`,
      told: `${parts.corner} of ${parts.window}: ${parts.in} in, ${parts.aside} along, ${this.at.trim()}` };
  }

  add() {
    const observation = this.#observation();
    if (!observation) return;
    this.taken.push(observation);
    this.desk.keep();
    this.#showTaken();
    this.ask();
  }

  #showTaken() {
    put(this.list, this.taken.map((o, i) => make("li", {}, make("span", {}, o.told),
      make("button", { type: "button", "aria-label": `Remove ${o.told}`, onclick: () => {
        this.taken.splice(i, 1);
        this.desk.keep();
        this.#showTaken();
        this.ask();
      } }, "Remove"))));
  }

  /// Only what a sighting needs: a recce takes it before all is measured.
  request() {
    const { location } = this.desk;
    let text = location.text;
    const at = (path, raw) => { const l = new Location(text); if (l.value(path) === undefined) text = l.set(path, raw); };
    at(["room", "height_m"], "3");
    at(["room", "bearing", "wall"], Toml.quoted(location.walls()[0] ?? ""));
    at(["room", "bearing", "faces"], String(45 * Math.max(0, Sighting.look_out.indexOf(this.parts.rough))));
    at(["room", "bearing", "north"], '"true"');
    const needs = this.taken.some((o) => o.kind === "corner");
    for (const kind of ["camera", "mark", "object", "spot", "lamp", "building", "tree", "forge", "meter", ...(needs ? [] : ["window"])])
      for (let l = new Location(text); l.count(kind); l = new Location(text)) text = l.drop(kind, l.count(kind) - 1);
    for (const key of ["window", "lamp", "mark", "camera"]) text = new Location(text).remove(["lock", key]);
    return { ...this.desk.app.about({ text }), ask: "bearing", date: this.desk.app.today(), columns: columnsIn(this.answer),
      observations: this.taken.map((o) => `${o.kind} ${o.text}`) };
  }

  async ask() {
    if (!this.taken.length) return put(this.answer);
    const reply = await this.desk.app.library.ask(this.request(), "bearing");
    if (!reply) return;
    if (!reply.ok) return put(this.answer, reply.problems.map((p) => make("p", { class: "wrong" }, p.text)));
    const found = Sighting.found(reply.lines);
    put(this.answer, linesOf(reply, columnsIn(this.answer)), found && make("button", { type: "button", onclick: () => this.use(found) },
      `Put ${found.faces} true, give or take ${found.within}, into the file`));
  }

  /// What --write would put into the file; null where it would refuse.
  static found(lines) {
    const line = lines.find((words) => words.startsWith("bearing = {"));
    if (!line) return null;
    const table = Toml.read(`${line}\n`).root?.entries.get("bearing");
    const bearing = Location.plain(table);
    return bearing && { wall: bearing.wall, faces: bearing.faces, within: bearing.within_deg };
  }

  use({ wall, faces, within }) {
    this.desk.edit(["room", "bearing", "wall"], Toml.quoted(wall));
    this.desk.edit(["room", "bearing", "faces"], String(faces));
    this.desk.edit(["room", "bearing", "north"], '"true"');
    this.desk.edit(["room", "bearing", "within_deg"], String(within));
    this.desk.edit(["room", "bearing", "measured"], null);
    this.desk.settled(true);
  }
}
