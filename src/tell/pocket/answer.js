// The answers of a date: the question, the library's lines, and beside them what a change is worth.
class Answer {
  constructor(app) {
    this.app = app;
    this.asked = {};
    this.lines = find("answer-lines");
    this.ask = later(150, (...words) => this.#ask(...words));
  }

  get question() { return questions.find((q) => q.id === this.app.question) ?? questions[0]; }

  draw() {
    const { app } = this;
    put(find("questions"), questions.map((q) => make("button", { type: "button", "aria-pressed": q.id === this.question.id ? "true" : "false",
      onclick: () => { app.question = q.id; app.keepSettings(); this.draw(); find("questions").querySelector("[aria-pressed=true]").focus(); } }, q.label)));
    const asked = this.asked[this.question.id] ??= {};
    const wants = make("div", { class: "row" }, this.question.wants.map((want) => this.#want(want, asked)));
    put(find("wants"), this.question.fold ? make("details", { open: this.question.wants.some((w) => asked[w.key]) }, make("summary", {}, this.question.fold), wants) : wants);
    const shown = asked.show ??= [];
    put(find("details"), this.question.show.map((word) => make("label", {},
      make("input", { type: "checkbox", checked: shown.includes(word), onchange: (event) => {
        if (event.target.checked) shown.push(word);
        else shown.splice(shown.indexOf(word), 1);
        this.ask.now();
      } }), word)));
    find("details-of").hidden = !this.question.show.length;
    find("date").value = app.date;
    this.#tries();
    this.ask.now();
  }

  #want(want, asked) {
    const id = `want-${want.key}`;
    const change = (event) => {
      const typed = event.target.value.trim();
      asked[want.key] = want.type === "clock" ? Field.clock(typed) : typed;
      this.ask();
    };
    let input;
    if (want.choices) {
      const names = want.choices(this.app.now);
      input = make("select", { id, onchange: change }, ["", ...names].map((name) => make("option", { value: name }, name || want.usual)));
      input.value = names.includes(asked[want.key]) ? asked[want.key] : "";
    } else {
      input = make("input", { id, type: want.type === "date" ? "date" : "text", inputmode: { number: "decimal", clock: "numeric" }[want.type],
        placeholder: want.usual, value: asked[want.key] ?? "", autocomplete: "off", oninput: change });
    }
    return make("div", { class: "field" }, make("label", { for: id }, want.label), input);
  }

  /// Figures that may be tried without a finger on the plan.
  #tries() {
    const { location } = this.app;
    const paths = [];
    const offer = (path, label) => paths.push({ path, label });
    if (location.value(["room", "bearing"]) !== undefined) offer(["room", "bearing", "faces"], "bearing, degrees");
    for (const kind of ["mark", "camera"])
      location.names(kind).forEach((name, i) => {
        offer([kind, i, "at", 0], `${name}: across the plan`);
        offer([kind, i, "at", 1], `${name}: up the plan`);
        offer([kind, i, "height_m"], `${name}: height`);
      });
    location.names("window").forEach((name, i) => {
      for (const key of ["cover", "left_m", "width_m", "sill_m", "height_m", "reveal_m"]) offer(["window", i, key], `${name}: ${key.replace("_m", "")}`);
    });
    const which = find("try-what"), value = find("try-value");
    put(which, paths.map(({ label }, i) => make("option", { value: String(i) }, label)));
    const show = () => { const p = paths[Number(which.value)]; if (p) { value.value = this.app.now.shown(p.path); value.placeholder = p.path.at(-1) === "cover" ? "open, sheer, blackout" : ""; } };
    which.onchange = show;
    show();
    find("try").onclick = () => {
      const p = paths[Number(which.value)];
      if (!p) return;
      const typed = value.value.trim();
      const key = p.path.at(-1);
      const raw = key === "cover" ? Toml.quoted(typed) : key === "faces" ? (Number.isNaN(Number(typed)) || !typed ? Toml.quoted(typed) : String(Number(typed)))
        : Length.raw(typed, location.units());
      this.app.attempt(p.path, raw, `${p.label} ${typed}`);
      this.app.settleTrial();
    };
  }

  request(location, quick) {
    const { app, question } = this;
    const asked = { ...this.asked[question.id] };
    const show = asked.show ?? [];
    delete asked.show;
    const more = show.filter((word) => word !== "all");
    const given = { ...asked, ...question.fixed?.(asked, app) };
    const clean = Object.fromEntries(Object.entries(given).filter(([, value]) => value !== "" && value !== undefined));
    return { ...app.about(location), ask: question.id, columns: columnsIn(this.lines),
      ...(more.length ? { show: more } : {}), ...(show.includes("all") ? { all: true } : {}), ...clean, ...(quick && !more.length ? question.quick : {}) };
  }

  async #ask(quick = false) {
    const { app, question } = this;
    if (!app.answering) return;
    if (question.needs && !app.now.count(question.needs)) {
      put(this.lines, make("p", {}, question.needs === "lamp" ? "The file has no lamp: add one under Recce, by its data sheet." : "The file has no camera position outside: add one under Recce."));
      return put(find("strips"));
    }
    const turn = this.turn = (this.turn ?? 0) + 1;
    // What takes long, or is compared, is told without levels and doubts first.
    const stages = quick ? [true] : question.quick && (app.trial || question.slow) ? [true, false] : [false];
    for (const short of stages) {
      const compared = app.trial && short === stages[0];
      const request = { ...this.request(app.now, short), want: compared ? ["lines", "document"] : ["lines"] };
      const reply = await app.library.ask(request, "answer");
      if (!reply || turn !== this.turn) return;
      app.plan.steady(() => this.#show(reply));
      if (short === stages[0]) await this.#compare(reply, question, short);
      if (turn !== this.turn) return;
    }
    if (!quick) this.#strip(question, this.request(app.now, false));
  }

  #show(reply) {
    if (!reply.ok && reply.problems.every((p) => Problems.missing.test(p.text)))
      return put(this.lines, make("p", {}, `No answer yet: ${reply.problems.length} ${reply.problems.length === 1 ? "figure is" : "figures are"} still needed; see Recce.`));
    if (!reply.ok) return put(this.lines, reply.problems.map((p) => make("p", { class: "wrong" }, p.line ? `Line ${p.line}: ${p.text}` : p.text)));
    put(this.lines, linesOf(reply, columnsIn(this.lines)));
  }

  /// Beside what the file says.
  async #compare(reply, question, quick) {
    const { app } = this;
    if (!app.trial) { find("trial").hidden = find("worth-here").hidden = true; return; }
    const request = { ...this.request(app.location, quick), want: ["lines", "document"] };
    const key = JSON.stringify({ ...request, now: 0 });
    if (this.was?.key !== key) {
      const was = await app.library.ask(request, "was");
      if (!was || !app.trial) return;
      this.was = { key, reply: was };
    }
    app.plan.steady(() => this.#tellWorth(this.was.reply, reply, question));
  }

  #tellWorth(before, reply, question) {
    find("trial").hidden = false;
    say(find("tried"), `Tried: ${this.app.tries.map((t) => t.words).join("; ")}. The file is as it was.`);
    const worth = before.ok && reply.ok ? compare.difference(question.id, before.document, reply.document) : reply.ok ? "" : reply.problems[0]?.text ?? "";
    for (const id of ["worth", "worth-here"]) say(find(id), worth);
    find("worth-here").hidden = !worth;
    put(find("was-lines"), before.ok ? linesOf(before, columnsIn(this.lines)) : "");
  }

  async #strip(question, request) {
    const place = find("strips");
    if (!question.strip) return put(place);
    const reply = await this.app.library.ask({ ...this.app.about(this.app.now), ask: "draw", only: [question.strip], width: paperWidth(this.lines), date: request.date }, "strip");
    if (!reply || question !== this.question) return;
    // What can't be drawn is told with the answer.
    put(place, reply.ok ? Object.values(reply.drawings).map(drawing) : "");
  }
}
