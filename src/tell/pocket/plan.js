// The plan, as the library draws it; over it the patches of one minute, and marks and cameras to move.
class Plan {
  #patches = [];

  constructor(app) {
    this.app = app;
    this.element = find("plan-view");
    this.holder = find("plan-drawing");
    this.reading = find("plan-reading");
    this.slider = find("time");
    this.slider.addEventListener("input", () => this.moveTime(Number(this.slider.value)));
    for (const [id, step] of [["earlier", -1], ["later", 1]])
      find(id).addEventListener("click", () => this.moveTime(Number(this.slider.value) + step));
    this.full = later(200, () => this.draw());
  }

  moveTime(minute) {
    this.slider.value = String(minute);
    this.app.chosen = Number(this.slider.value);
    this.tellTime();
    this.app.keepSettings();
    this.patch(true);
    this.full();
  }
  tellTime() {
    this.slider.value = String(this.app.minute);
    say(find("clock"), this.app.clock);
    this.slider.setAttribute("aria-valuetext", this.app.clock);
  }

  async draw(sound = true) {
    const location = this.app.now;
    if (!location.root) return;
    if (!sound) return this.#unsound(location);
    const reply = await this.app.library.ask({ ...this.app.about(location), ask: "draw", only: ["plan"], width: paperWidth(this.element), ...(this.app.answering ? { time: this.app.clock } : {}) }, "draw");
    if (!reply) return;
    // A plan drawn anew under a finger would take from it what it holds; what is dropped is drawn.
    if (this.svg?.querySelector(".held")) return;
    if (reply.stopped) return;
    if (!reply.ok || !reply.drawings?.plan) return this.#unsound(location);
    const held = document.activeElement?.closest?.(".handle")?.getAttribute("aria-label");
    this.scale = reply.document.plan;
    this.drawn = this.app.file;
    this.svg = drawing(reply.drawings.plan);
    put(this.holder, this.svg, this.scale.numbered.length && make("ol", { class: "numbers" },
      this.scale.numbered.map((words) => make("li", {}, words))));
    // What can be moved in it is told apart.
    this.svg.setAttribute("role", "group");
    this.#over();
    if (held) [...this.svg.querySelectorAll(".handle")].find((g) => g.getAttribute("aria-label") === held)?.focus({ preventScroll: true });
    this.patch(false);
  }
  #unsound(location) {
    // While something is mended the plan of before stands.
    if (this.svg && this.drawn === this.app.file) return;
    const width = this.holder.clientWidth || 360;
    const outline = sketch(location, width) ?? sketchOfWalk(this.app.recce.walk, width);
    this.svg = null;
    put(this.holder, outline ?? make("p", { class: "hint" }, "The plan is drawn as soon as the floor closes."));
    put(this.reading);
  }

  #over() {
    const hatch = ink("pattern", { id: "now-hatch", width: 1.6, height: 1.6, patternUnits: "userSpaceOnUse", patternTransform: "rotate(45)" },
      ink("rect", { width: 1.6, height: 1.6, fill: "#fff", "fill-opacity": "0.55" }), ink("rect", { width: 0.35, height: 1.6, fill: "#000" }));
    this.layer = ink("g", { "aria-hidden": "true" });
    this.svg.append(ink("defs", {}, hatch), this.layer);
    this.#patches = [];
    const width = this.svg.viewBox.baseVal.width;
    const pixel = width / (this.holder.clientWidth || 360);
    if (!this.app.answering) return;
    for (const kind of ["mark", "camera"])
      for (let i = 0; i < this.app.now.count(kind); i++) this.#handle(kind, i, pixel);
  }

  place(kind, i) {
    const at = this.app.now.metres([kind, i, "at"]);
    return at.length === 2 && !at.some(Number.isNaN) ? at : null;
  }
  paper([x, y]) {
    const { left_mm, top_mm, mm_per_m } = this.scale;
    return [left_mm + mm_per_m * x, top_mm - mm_per_m * y];
  }

  /// A ring that a finger or the arrow keys move.
  #handle(kind, i, pixel) {
    const at = this.place(kind, i);
    if (!at) return;
    const name = this.app.now.value([kind, i, "name"]);
    const group = ink("g", { class: "handle", tabindex: 0, role: "button", "aria-label": `Move ${kind} ${name}: arrow keys, 5 centimetres a step` },
      ink("circle", { r: 25 * pixel, fill: "#fff", "fill-opacity": 0, stroke: "none" }),
      ink("circle", { class: "ring", r: 11 * pixel, fill: "none", stroke: "#000", "stroke-width": 1.6 * pixel, "stroke-dasharray": `${3 * pixel} ${2.4 * pixel}` }));
    const move = (to, done) => {
      const [x, y] = this.paper(to);
      group.setAttribute("transform", `translate(${x.toFixed(3)} ${y.toFixed(3)})`);
      if (done !== undefined) this.#moved(kind, i, name, to, done);
    };
    move(at);
    let from = null;
    // Inside a drawing touch-action is not looked at: the page would scroll and take the finger away.
    group.addEventListener("touchstart", (event) => event.preventDefault(), { passive: false });
    group.addEventListener("pointerdown", (event) => {
      group.setPointerCapture(event.pointerId);
      from = { point: this.#planPoint(event), at: this.place(kind, i) };
      group.classList.add("held");
      event.preventDefault();
      group.focus({ preventScroll: true });
    });
    const to = (event) => {
      const p = this.#planPoint(event);
      return [0, 1].map((k) => from.at[k] + p[k] - from.point[k]);
    };
    let last = null;
    group.addEventListener("pointermove", (event) => { if (from) move(last = to(event), false); });
    const drop = (event) => {
      if (!from) return;
      // A pointer that the browser takes away is nowhere: what was held stays where it was seen last.
      const place = event.type === "pointercancel" ? last ?? from.at : to(event);
      from = last = null;
      group.classList.remove("held");
      move(place, true);
    };
    group.addEventListener("pointerup", drop);
    group.addEventListener("pointercancel", drop);
    group.addEventListener("keydown", (event) => {
      const way = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] }[event.key];
      if (!way) return;
      event.preventDefault();
      const here = this.place(kind, i);
      move([0, 1].map((k) => here[k] + 0.05 * way[k]), false);
      this.settle();
    });
    this.svg.append(group);
  }

  /// What grows above the plan pushes nothing from under a finger.
  steady(work) {
    const top = () => this.svg?.getBoundingClientRect().top;
    const before = top();
    work();
    if (this.svg?.querySelector(".held")) scrollBy(0, top() - before);
  }

  settle = later(350, () => { this.app.settleTrial(); });

  #planPoint(event) {
    const { left_mm, top_mm, mm_per_m } = this.scale;
    const p = new DOMPoint(event.clientX, event.clientY).matrixTransform(this.svg.getScreenCTM().inverse());
    return [(p.x - left_mm) / mm_per_m, (top_mm - p.y) / mm_per_m];
  }

  #moved(kind, i, name, to, done) {
    const units = this.app.location.units();
    const raw = to.map((m) => units === "ft" ? Toml.quoted(Length.feet(m)) : Length.metre(m, 2));
    this.app.attempt([kind, i, "at"], `[${raw.join(", ")}]`, `${name} at ${to.map((m) => Length.told(Number(m.toFixed(2)), units)).join(", ")}`);
    this.patch(true);
    if (done) this.app.settleTrial();
  }

  /// `quick`: while something moves, without levels and doubts, and drawn here.
  async patch(quick) {
    if (!this.svg || !this.app.answering) return;
    const reply = await this.app.library.ask({ ...this.app.about(this.app.now), ask: "patch", time: this.app.clock, columns: columnsIn(this.reading), want: quick ? ["lines", "document"] : ["lines"], ...(quick ? { "no-light": true, "no-doubt": true } : {}) }, "patch");
    if (!reply || !this.svg) return;
    if (!reply.ok) return put(this.reading, reply.problems.map((p) => make("p", { class: "wrong" }, p.text)));
    const instant = reply.document?.instants?.[0];
    // While something moves they are laid over the drawing, whose own are of before.
    this.svg.querySelector("#plan-patches")?.setAttribute("opacity", quick ? "0" : "1");
    this.#showPatches(quick ? instant?.patches ?? [] : []);
    // Place and date stand above.
    const said = reply.lines.findIndex((line) => /^[A-Z][a-z]{2} \d{1,2} [A-Z]/.test(line)) + 1;
    put(this.reading, linesOf({ lines: reply.lines.slice(said) }, columnsIn(this.reading)));
  }

  #showPatches(patches) {
    const paths = patches.flatMap((patch) => patch.outlines.length ? [this.#outline(patch.outlines)] : []);
    while (this.#patches.length > paths.length) this.#patches.pop().remove();
    while (this.#patches.length < paths.length) {
      const path = ink("path", { fill: "url(#now-hatch)", "fill-rule": "evenodd", stroke: "#000", "stroke-width": "0.4", "stroke-linejoin": "round" });
      this.layer.append(path);
      this.#patches.push(path);
    }
    paths.forEach((d, i) => this.#patches[i].setAttribute("d", d));
  }
  #outline(rings) {
    return rings.map((ring) => "M" + ring.map((p) => this.paper(p).map((mm) => mm.toFixed(2)).join(" ")).join("L") + "Z").join("");
  }
}
