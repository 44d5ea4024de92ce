// The page: which location, which date, which view; one text a location, that all views ask about.
class App {
  constructor() {
    this.store = new Store();
    this.library = new Library((words) => this.#stopped(words));
    const kept = this.store.read("settings") ?? {};
    this.date = kept.date || this.today();
    // As it was chosen by hand; until then the plan shows the middle of the key.
    this.chosen = kept.minute ?? null;
    this.middle = 720;
    this.question = kept.question ?? "key";
    this.view = kept.view ?? "recce";
    this.trial = null;
    this.tries = [];
    this.keep = later(150, () => this.#keep());
    this.#files(kept.current);
  }

  today() {
    const now = new Date();
    return [now.getFullYear(), now.getMonth() + 1, now.getDate()].map((n) => String(n).padStart(2, "0")).join("-");
  }
  get minute() { return this.chosen ?? this.middle; }
  get clock() { return `${String(Math.floor(this.minute / 60)).padStart(2, "0")}:${String(this.minute % 60).padStart(2, "0")}`; }

  /// What this page came with and what this browser keeps; of one name what was typed last.
  #files(current) {
    const came = JSON.parse(find("locations").textContent);
    const kept = (this.store.read("files") ?? []).map((name) => this.store.read(`file ${name}`)).filter(Boolean);
    this.files = [...kept];
    for (const file of kept) file.beside = this.store.read(`beside ${file.name}`) ?? undefined;
    for (const { name, text, beside, terrain } of came) {
      const own = kept.find((file) => file.name === name);
      if (!own) this.files.push({ name, text, came: text, beside, terrain });
      else if (own.came === text) Object.assign(own, { beside: { ...beside, ...own.beside }, terrain });
      else if (!kept.some((file) => file.came === text))
        this.files.push({ name: this.freeName(name), text, came: text, beside, terrain });
    }
    if (!this.files.length) this.files.push({ name: "location.toml", text: Location.fresh() });
    const last = this.files.findIndex((file) => file.name === current);
    this.#take(this.files[Math.max(0, last)]);
  }
  freeName(name) {
    for (let n = 1; ; n++) {
      const next = n === 1 ? name : name.replace(/(\.toml)?$/, ` ${n}$1`);
      if (!this.files.some((file) => file.name === next)) return next;
    }
  }
  #take(file) {
    this.file = file;
    this.location = new Location(file.text);
    this.trial = null;
    this.tries = [];
  }

  #keep() {
    const { name, text, came, draft, observations, beside, given } = this.file;
    // The typed first: what stands beside it may be larger than the storage.
    const done = this.store.write(`file ${name}`, { name, text, came, draft, observations }) &&
      this.store.write("files", this.files.filter((file) => file === this.file || file.text !== file.came).map((file) => file.name)) &&
      (!given || this.store.write(`beside ${name}`, beside));
    this.#tellTrouble(done);
    this.keepSettings();
  }
  #tellTrouble(kept) {
    say(find("trouble"), kept ? "" : this.store.trouble);
    find("trouble").hidden = kept;
  }
  keepSettings() {
    const { date, chosen: minute, question, view } = this;
    // Small as they are: where even they are not kept, nothing is, and that is said before anything is typed.
    if (!this.store.write("settings", { date, minute, question, view, current: this.file.name })) this.#tellTrouble(false);
  }

  /// What every question says. The library has no clock of its own.
  /// @param file  where it is not the one that is open
  about({ text }, file = this.file) {
    const { beside, name } = file;
    return { location: this.skylined(text, file), name, date: this.date, now: Math.floor(Date.now() / 1000), ...(beside ? { files: beside } : {}) };
  }

  /// Tiles of terrain are too large for a page: in their place stands the skyline that they gave at the
  /// desk, where the place is still that one; else none. Lines stay where they are.
  skylined(text, { terrain, came }) {
    this.leftOut = "";
    if (!text.includes("terrain")) return text;
    const location = new Location(text);
    if (location.value(["site", "horizon", "terrain"]) === undefined) return text;
    const there = terrain && location.value(["site", "position"]) === new Location(came).value(["site", "position"]);
    const height = there && location.value(["site", "elevation_m"]) === undefined ? ` The ground lies ${Math.round(terrain.elevation_m)} m above the sea there: type it under Place.` : "";
    this.leftOut = there ? `The skyline is the one that the terrain gave at the desk; positions outside have the site's.${height}`
      : "Left out: the skyline of the terrain, whose tiles this page does not hold. Answers take a level horizon; near sunrise and sunset that is wrong.";
    return location.set(["site", "horizon"], there ? terrain.skyline : "[[0, 0]]");
  }

  /// The location asked about: what is tried, else the file.
  get now() { return this.trial ?? this.location; }
  get answering() { return this.view === "answer" && !this.location.problem; }

  write(text) {
    this.file.text = text;
    this.location = new Location(text);
    this.dropTrial();
    this.keep();
    this.#title();
  }
  open(name, text) {
    const file = { name: this.freeName(name), text };
    this.files.unshift(file);
    this.choose(0);
    this.keep.now();
  }
  choose(i) {
    this.keep.now();
    this.#take(this.files[i]);
    this.keep.now();
    this.recce.draw();
    this.show(this.view, false);
  }
  remove(i) {
    const [file] = this.files.splice(i, 1);
    for (const what of ["file", "beside"]) this.store.forget(`${what} ${file.name}`);
    if (!this.files.length) this.#files();
    if (file === this.file) this.#take(this.files[0]);
    this.keep.now();
    this.recce.draw();
    this.#title();
  }
  erase() {
    this.keep.now();
    this.store.erase();
    this.chosen = null;
    this.files = [];
    this.#files();
    this.recce.draw();
    this.#title();
  }

  attempt(path, raw, words) {
    this.trial = new Location(this.now.set(path, raw));
    const key = path.slice(0, 3).join("/");
    this.tries = [...this.tries.filter((t) => t.key !== key), { key, words }];
    this.answer.ask.now(true);
  }
  settleTrial() {
    this.answer.ask.now(false);
    this.plan.draw();
  }
  dropTrial() {
    this.trial = null;
    this.tries = [];
    find("trial").hidden = find("worth-here").hidden = true;
  }
  keepTrial() {
    const text = this.trial.text;
    this.write(text);
    this.recce.draw();
    this.settleTrial();
    this.tell("Kept in the file.");
  }

  /// Stays until it is read: the next answer would wipe it out beside what was asked.
  #stopped(words) {
    const place = find("stopped");
    put(place, make("span", {}, words), make("button", { type: "button", onclick: () => { place.hidden = true; put(place); } }, "Read"));
    place.hidden = false;
  }

  /// Said once, with a way back if there is one.
  tell(text, back, label = "Put back") {
    put(find("told"), make("span", {}, text), back ? make("button", { type: "button", onclick: () => { put(find("told")); back(); } }, label) : "");
    clearTimeout(this.telling);
    this.telling = setTimeout(() => put(find("told")), back ? 30000 : 8000);
  }

  #title() {
    const name = this.location.value(["site", "name"]);
    say(find("title"), String(name || this.file.name));
    this.about(this.location);
    say(find("left-out"), this.leftOut);
    find("left-out").hidden = !this.leftOut;
    document.title = `keyhour: ${name || this.file.name}`;
  }

  show(view, move = true) {
    if (view !== this.view) put(find("told"));
    this.view = view;
    for (const name of ["recce", "answer", "file"]) {
      find(name).hidden = name !== view;
      const link = document.querySelector(`nav [href="#${name}"]`);
      if (name === view) link.setAttribute("aria-current", "page");
      else link.removeAttribute("aria-current");
    }
    find(view === "answer" ? "answer-plan" : "recce-plan").append(this.plan.element);
    find("plan-time").hidden = find("plan-reading").hidden = view !== "answer";
    document.body.dataset.view = view;
    this.#title();
    this.plan.tellTime();
    if (view === "file") this.files_view.draw();
    if (view === "answer") this.#seekKey().then(() => { this.answer.draw(); this.plan.draw(); });
    if (view === "recce") this.recce.check.now();
    this.keepSettings();
    if (move) scrollTo(0, 0);
  }

  /// Before what the time stands at is asked about and drawn.
  async #seekKey() {
    if (this.chosen !== null || this.location.problem) return;
    const reply = await this.library.ask({ ...this.about(this.location), ask: "key", want: ["document"], "no-light": true, "no-doubt": true }, "middle");
    if (!reply) return;
    this.middle = reply.ok ? compare.middle(reply.document) ?? 720 : 720;
    this.plan.tellTime();
  }

  setDate(date) {
    if (!/^\d{4}-\d\d-\d\d$/.test(date)) return;
    this.date = date;
    find("date").value = date;
    this.keepSettings();
    this.#seekKey().then(() => { this.answer.ask.now(); this.plan.draw(); });
  }

  async start() {
    startNight(this.store);
    this.plan = new Plan(this);
    this.recce = new Recce(this);
    this.answer = new Answer(this);
    this.files_view = new Files(this);
    for (const link of document.querySelectorAll("nav a, a.view"))
      link.addEventListener("click", (event) => { event.preventDefault(); this.show(link.getAttribute("href").slice(1)); });
    document.addEventListener("click", (event) => {
      const link = event.target.closest?.("a[href='#file']");
      if (link && !link.closest("nav")) { event.preventDefault(); this.show("file"); }
    });
    find("date").addEventListener("change", () => this.setDate(find("date").value));
    for (const [id, days] of [["day-before", -1], ["day-after", 1]])
      find(id).addEventListener("click", () => {
        const next = new Date(`${this.date}T12:00:00Z`);
        next.setUTCDate(next.getUTCDate() + days);
        this.setDate(next.toISOString().slice(0, 10));
      });
    find("keep-trial").addEventListener("click", () => this.keepTrial());
    find("put-back").addEventListener("click", () => { this.dropTrial(); this.settleTrial(); });
    find("print").addEventListener("click", () => print());
    addEventListener("storage", ({ key, newValue }) => {
      if (key === `${Store.prefix}file ${this.file.name}` && newValue && JSON.parse(newValue).text !== this.file.text)
        this.tell(`${this.file.name} was changed in another tab. What is typed here replaces it.`, () => location.reload(), "Take what was typed there");
    });
    addEventListener("pagehide", () => this.keep.now());
    document.addEventListener("visibilitychange", () => { if (document.hidden) this.keep.now(); });
    let width = innerWidth;
    addEventListener("resize", later(300, () => { if (innerWidth !== width) { width = innerWidth; this.show(this.view, false); } }));
    try {
      await this.library.start();
    } catch (wrong) {
      find("starting").textContent = `This browser can't run keyhour: ${wrong.message}. It needs WebAssembly and DecompressionStream (browsers from 2023 on).`;
      return;
    }
    put(find("zone-names"), this.library.zones.map((name) => make("option", { value: name })));
    find("starting").hidden = true;
    find("main").hidden = false;
    // What is looked at is asked first.
    if (this.view === "answer") this.show(this.view, false);
    this.recce.draw();
    if (this.view !== "answer") this.show(this.view, false);
    document.body.dataset.ready = "";
  }
}
new App().start();
