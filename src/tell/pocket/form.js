// The recce: a form in the order in which two people go round a room with a tape. What is typed goes
// straight into the file's text; the library reads it back.
class Recce {
  constructor(app) {
    this.app = app;
    this.fields = [];
    this.check = later(250, () => this.#check());
    this.measure = later(900, () => this.#measure());
  }

  get location() { return this.app.location; }
  get file() { return this.app.file; }
  keep() { this.app.keep(); }
  draft(path) { return this.file.draft?.[path.join("/")]; }
  keepDraft(path, value) {
    this.file.draft = { ...this.file.draft, [path.join("/")]: value };
    if (value === undefined) delete this.file.draft[path.join("/")];
    this.app.keep();
  }

  /// raw: as TOML writes it; null removes the key.
  edit(path, raw) {
    const before = this.location.value(path);
    this.app.write(raw === null ? this.location.remove(path) : this.location.set(path, raw));
    // An empty lock is a lock; one whose last figure is taken away is none.
    if (raw === null && path[0] === "lock" && !this.location.node(["lock"])?.entries.size) this.app.write(this.location.dropTable("lock"));
    if (path.length === 3 && path[2] === "name") this.#renamed(path[0], before, this.location.value(path));
    this.check();
  }
  /// What was typed is done with. `whole`: fields elsewhere may have changed too.
  settled(whole = false) {
    if (whole) return this.draw();
    for (const field of this.fields) field.refresh();
    this.check.now();
  }

  /// What names a thing goes on naming it.
  #renamed(kind, before, after) {
    if (before === undefined || after === undefined || before === after) return;
    const follow = (path) => {
      if (this.location.value(path) === before) this.app.write(this.location.set(path, Toml.quoted(after)));
    };
    if (kind === "mark") for (let i = 0; i < this.location.count("camera"); i++) follow(["camera", i, "aims_at"]);
    if (kind === "mark") for (let i = 0; i < this.location.count("meter"); i++) follow(["meter", i, "mark"]);
    if (["window", "mark", "camera", "lamp"].includes(kind)) follow(["lock", kind]);
  }
  renameWall(before, after) {
    for (let i = 0; i < this.location.count("window"); i++)
      if (this.location.value(["window", i, "wall"]) === before) this.app.write(this.location.set(["window", i, "wall"], Toml.quoted(after)));
    if (this.location.value(["room", "bearing", "wall"]) === before)
      this.app.write(this.location.set(["room", "bearing", "wall"], Toml.quoted(after)));
  }

  add(kind, entries) {
    this.app.write(this.location.add(kind, entries));
    this.draw();
    const fields = this.fields.filter((f) => f.path[0] === kind && f.path[1] === this.location.count(kind) - 1);
    fields[0]?.input.focus();
  }
  drop(kind, i) {
    const name = this.location.value([kind, i, "name"]);
    const before = this.location.text, draft = this.file.draft;
    this.app.write(this.location.drop(kind, i));
    this.file.draft = { ...draft };
    for (const key of Object.keys(this.file.draft ?? {})) if (key.startsWith(`${kind}/`)) delete this.file.draft[key];
    this.draw();
    this.app.tell(`${name || kind} removed.`, () => { this.file.draft = draft; this.app.write(before); this.draw(); });
    find(`add-${kind}`)?.focus();
  }

  field(path, spec) { return new Field(this, path, spec).element; }

  draw() {
    this.fields = [];
    const place = find("form");
    if (this.location.problem) {
      this.unread = make("span", {}, `Line ${this.location.problem.line} of ${this.file.name} can't be read: ${this.location.problem.text}.`);
      put(place, make("p", { class: "wrong" }, this.unread, " ", make("a", { href: "#file" }, "Mend it under File, as text.")));
    } else {
      put(place, [this.#site(), this.#floor(), this.#bearing(), this.#things("window"), this.#things("mark"), this.#things("camera"),
        this.#things("object"), this.#things("building"), this.#things("tree"), this.#horizon(), this.#things("spot"), this.#things("lamp"),
        this.#things("forge"), this.#things("meter"), this.#lock(), this.#onlyText()]);
    }
    this.#offerParts();
    this.check.now();
  }

  /// A long form on a small screen: each part is two taps away.
  #offerParts() {
    const titles = document.querySelectorAll("#recce h2");
    put(find("parts"), [...titles].map((title) => make("button", { type: "button", onclick: () => {
      find("parts-of").open = false;
      title.tabIndex = -1;
      title.focus({ preventScroll: true });
      title.scrollIntoView();
    } }, title.textContent)));
  }

  section(id, title, ...children) {
    return make("section", { "aria-labelledby": `${id}-title` }, make("h2", { id: `${id}-title` }, title), ...children);
  }

  #site() {
    const units = make("fieldset", { class: "choice-row" }, make("legend", {}, "You tape in"),
      [["m", "metres"], ["ft", "feet and inches"]].map(([unit, words]) => make("label", {},
        make("input", { type: "radio", name: "units", value: unit, checked: this.location.units() === unit, onchange: () => {
          this.edit(["site", "units"], unit === "ft" ? '"ft"' : this.location.value(["site", "units"]) === undefined ? null : '"m"');
          this.draw();
          document.querySelector(`input[name=units][value=${unit}]`)?.focus();
        } }), words)));
    this.where = make("p", { class: "hint", role: "status" });
    return this.section("site", "Place",
      this.field(["site", "name"], { label: "Name of the place", kind: "text", size: "long" }),
      units,
      make("div", { class: "row" },
        this.field(["site", "position"], { label: "Position", kind: "text", size: "long", hint: "52.9536N 1.1505W, degrees and minutes, UTM or MGRS" }),
        make("button", { type: "button", class: "beside", onclick: () => this.#locate() }, "Take this device's position")),
      this.where,
      make("div", { class: "row" },
        this.field(["site", "time_zone"], { label: "Time zone", kind: "text", size: "long", list: "zone-names", hint: "such as Europe/London" }),
        this.field(["site", "elevation_m"], { label: "Above the sea", kind: "length", usual: "0" }),
        this.field(["site", "air"], { label: "Air", kind: "choice", choices: ["very clear", "normal", "hazy"], usual: "normal" })));
  }

  #locate() {
    const refuse = (why) => say(this.where, `${why} Type the position instead: a map or another app tells it.`);
    if (!navigator.geolocation) return refuse("This browser gives no position to a page opened like this.");
    say(this.where, "Asking this device for its position ...");
    navigator.geolocation.getCurrentPosition(({ coords }) => {
      const half = (value, plus, minus) => `${Math.abs(value).toFixed(5)}${value < 0 ? minus : plus}`;
      this.edit(["site", "position"], Toml.quoted(`${half(coords.latitude, "N", "S")} ${half(coords.longitude, "E", "W")}`));
      this.settled();
      say(this.where, `Taken, within ${Math.ceil(coords.accuracy)} m as the device says; that is near enough.`);
    }, (wrong) => refuse({
      1: "The device's position was not allowed, or this browser forbids it to a page opened from a file.",
      2: "The device knows no position here.", 3: "The device found no position within 30 seconds.",
    }[wrong.code] ?? "No position."), { enableHighAccuracy: true, timeout: 30000, maximumAge: 60000 });
  }

  #floor() {
    const walk = this.walk = new Walk(this.location, this.draft(["room", "floor"]));
    const status = make("p", { class: "closing", role: "status" });
    const rows = make("ol", { class: "walls" });
    const tell = () => {
      const { text, floor, bad } = walk.tell();
      say(status, text);
      status.classList.toggle("wrong", bad);
      return floor;
    };
    const write = () => {
      const floor = tell();
      this.keepDraft(["room", "floor"], walk.draft());
      if (floor) {
        this.edit(["room", "floor"], floor);
        this.edit(["room", "walls"], `[${walk.walls.map((wall) => Toml.quoted(wall.name)).join(", ")}]`);
      } else {
        this.app.plan.draw(false);
      }
    };
    const row = (wall, i) => {
      const last = i === walk.walls.length - 1;
      const name = make("input", { id: `wall-${i}-name`, type: "text", autocomplete: "off", value: wall.name, oninput: () => {
        const before = wall.name;
        wall.name = name.value;
        this.renameWall(before, wall.name);
        write();
      }, onchange: () => this.settled() });
      const length = make("input", { id: `wall-${i}-length`, type: "text", autocomplete: "off", inputmode: walk.units === "ft" ? null : "decimal",
        placeholder: walk.units === "ft" ? "12' 6 1/2\"" : "m", value: wall.length, oninput: () => {
          wall.length = length.value;
          delete wall.exact;
          write();
        }, onchange: () => this.settled() });
      const angle = make("input", { id: `wall-${i}-angle`, type: "text", inputmode: "decimal", autocomplete: "off", "aria-label": `Inner angle after wall ${i + 1}, degrees`,
        value: [Walk.internal, Walk.external].includes(wall.corner) ? "" : wall.corner, oninput: () => { wall.corner = angle.value; write(); } });
      const kinds = [Walk.internal, Walk.external, "another angle"];
      const corner = make("select", { id: `wall-${i}-corner`, onchange: () => {
        wall.corner = corner.value === kinds[2] ? "" : corner.value;
        angle.hidden = corner.value !== kinds[2];
        write();
      } }, kinds.map((word) => make("option", { value: word }, word)));
      corner.value = kinds.includes(wall.corner) ? wall.corner : kinds[2];
      angle.hidden = corner.value !== kinds[2];
      const labelled = (label, input, more) => make("div", { class: "field" }, make("label", { for: input.id }, label), input, more);
      const item = make("li");
      const own = new Beside(this, ["room", "walls", i], { element: item, input: name, label: `Wall ${i + 1}` });
      item.append(make("div", { class: "row" }, labelled(`Wall ${i + 1}`, name), labelled("Length", length),
        ...(last ? [] : [labelled("Corner at its end", corner, angle)])), own.wrong);
      return item;
    };
    const redraw = () => {
      this.fields = this.fields.filter((field) => field.path[1] !== "walls" || field.path.length === 2);
      put(rows, walk.walls.map(row));
      tell();
    };
    const more = make("button", { type: "button", onclick: () => {
      walk.walls.push({ name: `wall ${walk.walls.length + 1}`, length: "", corner: Walk.internal });
      redraw(); write(); find(`wall-${walk.walls.length - 1}-name`).focus();
    } }, "One more wall");
    const less = make("button", { type: "button", onclick: () => { if (walk.walls.length > 3) { walk.walls.pop(); redraw(); write(); } } }, "One wall less");
    const whole = ["floor", "walls"].map((key) => new Beside(this, ["room", key], { element: rows, label: "Lengths of the walls", need: (on) => {
      for (const input of rows.querySelectorAll("[id$=-length]")) input.closest(".field").classList.toggle("needed", on && !input.value.trim());
    } }));
    redraw();
    for (const one of whole) one.input = find("wall-0-length") ?? rows.querySelector("[id$=-length]");
    const hand = walk.hand > 0 ? "right" : "left";
    return this.section("floor", "Floor and walls",
      make("p", { class: "hint" }, `Begin in a corner and go round with the wall at your ${hand} hand. Lengths along the inner faces. An external corner juts into the room.`, make("span", { id: "walk-doubt" })),
      rows, make("div", { class: "buttons" }, more, less), status, whole.map((one) => one.wrong),
      make("div", { class: "row" },
        this.field(["room", "height_m"], { label: "Floor to ceiling", kind: "length" }),
        this.field(["room", "floor_above_ground_m"], { label: "Floor above the ground outside", kind: "length", usual: "0" })),
      make("details", {}, make("summary", {}, "How light its surfaces are, how sure the tape is"), make("div", { class: "row" },
        [["floor", "0.2"], ["walls", "0.5"], ["ceiling", "0.7"]].map(([what, usual]) =>
          this.field(["room", "reflectance", what], { label: `${what[0].toUpperCase()}${what.slice(1)}, 0 black to 1 white`, kind: "number", usual })),
        this.field(["room", "within_m"], { label: "Lengths of walls, give or take", kind: "length" }))));
  }

  #bearing() {
    const walls = () => this.location.walls();
    return this.section("bearing", "Which way it faces",
      make("p", { class: "hint" }, "Degrees of one wall, looking OUT, square to it. Three degrees here move a hold more than anything else that can go wrong."),
      make("div", { class: "row" },
        this.field(["room", "bearing", "wall"], { must: true, label: "Wall", kind: "choice", choices: walls }),
        this.field(["room", "bearing", "faces"], { must: true, label: "Faces, degrees", kind: "number" }),
        this.field(["room", "bearing", "north"], { must: true, label: "From north", kind: "choice", choices: ["true", "magnetic"] }),
        this.field(["room", "bearing", "within_deg"], { label: "Give or take, degrees", kind: "number", usual: "2; magnetic 5" }),
        this.field(["room", "bearing", "measured"], { label: "Read on (a compass needs it)", kind: "date" })),
      new Sighting(this).element);
  }

  #horizon() {
    return this.section("horizon", "Skyline",
      this.field(["site", "horizon"], { label: "Bearing and height of roofs, ridges and trees further off", kind: "pairs", size: "long",
        hint: "degrees, in pairs: 90 6, 180 2, 270 9; straight lines between" }));
  }

  /// A planned lock: which window the lamp shines through, for how long.
  #lock() {
    const path = (key) => ["lock", key];
    const named = (key, label) => this.field(path(key), { label, kind: "choice", usual: "any", choices: () => this.location.names(key) });
    return this.section("lock", "Planned lock",
      make("p", { class: "hint" }, "A time in which no light may be moved, with a lamp outside as the key. Answers and sheets place it in the day."),
      make("div", { class: "row" }, named("window", "Window the lamp shines through"), named("lamp", "Lamp"), named("mark", "Mark at the lock"), named("camera", "Camera at the lock")),
      make("div", { class: "row" }, this.field(path("minutes"), { label: "Minutes", kind: "number" }),
        this.#parts(path("hours"), [{ label: "Not before", kind: "clock", usual: "08:00" }, { label: "Done by", kind: "clock", usual: "20:00" }])));
  }

  /// What the file says and no field above shows.
  #onlyText() {
    const shown = [["format"], ["site", "units"], ...this.fields.map((field) => field.path)];
    const { location } = this;
    const left = location.leaves().filter((path) => !shown.some((one) => Problems.isStart(one, path) || Problems.isStart(path, one)));
    const tables = new Map();
    for (const path of left) {
      const { table, key } = Location.told(path, location);
      const item = make("li");
      tables.set(table, { line: location.line(path), keys: new Set(), item, ...tables.get(table) });
      tables.get(table).keys.add(key);
      tables.get(table).paths = [...(tables.get(table).paths ?? []), path];
    }
    for (const [table, { line, keys, item, paths }] of tables) {
      item.append(`${table}: ${[...keys].join(", ")} (line ${line})`);
      for (const path of paths) item.append(new Beside(this, path, { element: item, label: table }).wrong);
    }
    return this.section("only-text", "Only as text",
      make("p", {}, "Rigging with its tasks, a range in place of one figure, facades that throw light back, pressure and temperature, and files of buildings are typed ",
        make("a", { href: "#file" }, "under File, as text"), "; the answers count with them too."),
      tables.size ? [make("p", {}, "So this file says:"), make("ul", { class: "only-text" },
        [...tables.values()].map(({ item }) => item))] : null);
  }

  /// Along which wall a number of the plan runs, in words.
  axis(k) {
    const floor = this.location.value(["room", "floor"]);
    const names = this.location.walls();
    const near = (c) => Math.abs(Length.read([].concat(c)[k], "m")) < 0.005;
    const i = Array.isArray(floor) ? floor.findIndex((c, n) => near(c) && near(floor[(n + 1) % floor.length])) : -1;
    return i >= 0 && names[i] ? `From ${names[i]} (${k ? "below" : "left"} on the plan)` : k ? "Up the plan" : "Across the plan";
  }

  #point(path) { return this.#parts(path, [0, 1].map((k) => ({ label: this.axis(k), kind: "length" }))); }
  /// A list of so many values, each with its field; what is not typed yet is a blank text.
  #parts(path, specs) {
    if (this.location.value(path) !== undefined && !Array.isArray(this.location.value(path)))
      return [this.field(path, { label: specs.map(({ label }) => label).join(", "), kind: "text" })];
    return specs.map((spec, k) => {
      const field = new Field(this, [...path, k], spec);
      field.typed = () => {
        const all = specs.map((_, n) => this.location.raw([...path, n]) ?? '""');
        all[k] = field.input.value.trim() === "" ? '""' : field.raw();
        this.edit(path, all.every((raw) => raw === '""') ? null : `[${all.join(", ")}]`);
      };
      return field.element;
    });
  }

  #things(kind) {
    const { title, hint, add, name, rows, like } = things[kind];
    const items = Array.from({ length: this.location.count(kind) }, (_, i) => {
      const label = String(this.location.value([kind, i, "name"]) ?? "") || `${kind === "meter" ? "reading" : kind} ${i + 1}`;
      return make("fieldset", { class: "thing" }, make("legend", {}, label),
        rows(this, i, {
          field: (key, spec) => this.field([kind, i, ...key.split(".")], spec),
          point: (key) => this.#point([kind, i, key]),
          parts: (key, specs) => this.#parts([kind, i, key], specs),
          outline: (key, side, label) => outlineOf(this, [kind, i, key], side, label),
        }),
        make("button", { type: "button", class: "remove", onclick: () => this.drop(kind, i) }, `Remove ${label}`));
    });
    const count = this.location.count(kind);
    const fresh = () => name === null ? [] : [["name", Toml.quoted(`${name}${count ? ` ${count + 1}` : ""}`)]];
    return this.section(kind, title, hint ? make("p", { class: "hint" }, hint) : null, items,
      make("div", { class: "buttons" },
        make("button", { type: "button", id: `add-${kind}`, onclick: () => this.add(kind, [...fresh(), ...this.#start(kind)]) }, add),
        like && count ? make("button", { type: "button", onclick: () => {
          const last = this.location.node([kind, count - 1]);
          const entries = [...last.entries].filter(([key, node]) => key !== "name" && !like.includes(key) && node.end !== undefined)
            .map(([key, node]) => [key, this.location.text.slice(node.start, node.end)]);
          this.add(kind, [...fresh(), ...entries]);
        } }, `Another like ${this.location.value([kind, count - 1, "name"]) || "the last"}`) : null));
  }
  /// What a thing can only be, where the file leaves no choice.
  #start(kind) {
    const marks = this.location.names("mark");
    return kind === "camera" && marks.length === 1 ? [["aims_at", Toml.quoted(marks[0])]] : [];
  }

  async #check() {
    const { location, app } = this;
    const reply = await app.library.ask({ ...app.about(location), ask: "check", date: undefined, year: app.date.slice(0, 4), columns: columnsIn(find("understood")) }, "check");
    if (!reply || location !== this.location) return;
    if (reply.stopped) return this.#stopped(reply);
    this.sound = reply.ok;
    this.#place(reply.ok ? [] : reply.problems);
    if (reply.ok) {
      this.#doubts(reply.document?.doubts ?? []);
      put(find("understood"), linesOf(reply, columnsIn(find("understood"))));
    } else {
      put(find("understood"), make("p", {}, "Not yet: see what is still needed."));
    }
    app.plan.draw(reply.ok);
    if (reply.ok) this.measure();
    else { put(find("measure"), make("p", {}, "Told as soon as the file is sound.")); this.#tellNext(""); }
  }

  /// Nothing is known of the file then; its fields stay as they are.
  #stopped({ problems }) {
    say(find("state"), "Not checked");
    put(find("understood"), problems.map((p) => make("p", { class: "wrong" }, p.text)));
  }

  #place(problems) {
    const told = Problems.placed(problems, this.location);
    // The library tells more of it than the page, which only looks where values stand.
    const [first] = problems;
    if (this.location.problem && first?.line) say(this.unread, `Line ${first.line} of ${this.file.name} can't be read: ${first.text}.`);
    for (const field of this.fields) { field.complain(""); field.need(false); }
    const list = [], wanted = new Set();
    const called = ({ element, spec }) => {
      const label = spec?.label ?? "its place";
      const of = element.closest(".thing")?.querySelector("legend").textContent;
      const alone = [...wanted].filter((other) => other.spec?.label === label).length === 1;
      return of ? `${of}: ${label}` : alone ? label : `${element.closest("section").querySelector("h2").textContent}: ${label}`;
    };
    let needed = 0;
    const go = (field, label) => make("button", { type: "button", class: "link", onclick: () => { find("problems-of").open = false; unfold(field.element); field.input?.focus(); field.element.scrollIntoView({ block: "center" }); } }, label);
    for (const { problem, path, needed: missing } of told) {
      const field = Problems.fieldFor(path, this.fields, problem.text);
      if (missing) {
        needed += 1;
        // A table that is not there needs all that it must have.
        const inside = this.fields.filter((f) => f.spec?.must && Problems.isStart(path, f.path));
        for (const one of inside.length ? inside : [field].filter(Boolean)) { one.need(true); wanted.add(one); }
        if (field || wanted.size) continue;
      }
      if (field) field.complain([field.wrong.textContent, problem.text].filter(Boolean).join(" "));
      list.push(make("li", {}, problem.line ? `Line ${problem.line}: ` : "", problem.text, " ", field && go(field, "go there")));
    }
    if (wanted.size)
      list.push(make("li", {}, "Still needed: ", [...wanted].map((field) => go(field, called(field)))));
    const wrong = told.length - needed;
    put(find("problems"), list.length ? make("ul", {}, list) : "");
    find("problems-of").hidden = !list.length;
    const words = [wrong ? `${wrong} to mend` : "", needed ? `${Math.max(wanted.size, 1)} still needed` : ""].filter(Boolean).join(", ");
    say(find("state"), words ? words[0].toUpperCase() + words.slice(1) : "Sound");
  }

  #doubts(doubts) {
    const units = this.location.units();
    for (const field of this.fields) field.tellDoubt("");
    for (const d of doubts) {
      const i = this.location.names(d.of ?? "").indexOf(d.name);
      const path = i >= 0 ? [d.of, i, d.key] : { skyline: ["site", "horizon"], "heights outside": ["building"] }[d.of];
      const size = d.within_m !== undefined ? (units === "ft" ? Length.feet(d.within_m) : d.within_m < 1 ? `${Number((100 * d.within_m).toFixed(1))} cm` : `${d.within_m} m`)
        : d.within_deg !== undefined ? `${d.within_deg} deg` : d.within_percent !== undefined ? `${d.within_percent} %` : "";
      if (d.of === "floor") say(find("walk-doubt"), ` Each ± ${size}.`);
      if (!path || !size) continue;
      for (const field of this.fields)
        if (path.every((step, k) => field.path[k] === step) && (d.of !== "heights outside" || field.path[2] === "height_m")) field.tellDoubt(`± ${size}`);
    }
  }

  async #measure() {
    const { location, app } = this;
    const year = app.date.slice(0, 4);
    const worth = (reply) => (reply.document?.recce?.measure ?? []).filter((m) => m.share_of_doubt >= 0.01).slice(0, 5);
    let reply, list = [], when = `for ${app.date}`;
    // A date without any key tells nothing of what to measure: then the year does.
    for (const dates of [{}, { date: undefined, from: `${year}-01-01`, to: `${year}-12-31` }]) {
      reply = await app.library.ask({ ...app.about(location), ask: "check", recce: true, want: ["document"], ...dates }, "measure");
      if (!reply || location !== this.location) return;
      list = reply.ok ? worth(reply) : [];
      if (list.length || !reply.ok) break;
      when = `over ${year}`;
    }
    if (!list.length) {
      put(find("measure"), reply.ok ? make("p", {}, "No key in the whole year, so nothing is worth measuring better for one. Lamp key and lock are under Answer.") : reply.problems.map((p) => make("p", {}, p.text)));
      return this.#tellNext("");
    }
    const what = (m) => m.name ? `${m.input} of ${m.name}` : m.input;
    const share = (m) => `${Math.round(100 * m.share_of_doubt)} % of the doubt`;
    put(find("measure"), make("p", {}, `By the part of the doubt that would go with it, ${when}:`), make("ol", {}, list.map((m) => make("li", {}, `${what(m)}, ${share(m)}${m.how ? `: ${m.how}` : ""}`))));
    this.#tellNext(`Measure next: ${what(list[0])}, ${share(list[0])}`);
  }
  #tellNext(text) { say(find("next"), text); }
}
