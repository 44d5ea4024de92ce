// Locations opened from and saved to the phone or desk, as the command line reads them.
class Files {
  constructor(app) {
    this.app = app;
    this.text = find("text");
    this.said = find("file-said");
    find("open").addEventListener("change", (event) => this.#open(event.target));
    find("new").addEventListener("click", () => this.fresh());
    find("save").addEventListener("click", () => this.save(`${this.stem()}.toml`, app.location.text, "application/toml"));
    find("save-calendar").addEventListener("click", () => this.#made("calendar", ".ics", "text/calendar"));
    find("save-sheet").addEventListener("click", () => this.#made("sheet", ".html", "text/html"));
    find("erase").addEventListener("click", () => this.#erase());
    find("give").addEventListener("change", (event) => this.#give(event.target));
    this.changed = later(400, () => this.#typed());
    this.text.addEventListener("input", this.changed);
    // Who leaves the text has typed it: nothing that comes next may read what was before.
    this.text.addEventListener("change", () => this.changed.now());
  }

  /// A file that was given no name has the place's.
  stem() {
    const { file, location } = this.app;
    const place = String(location.value(["site", "name"]) ?? "").toLowerCase().replace(/[^\p{L}\p{N}]+/gu, "-").replace(/^-|-$/g, "");
    return /^location( \d+)?\.toml$/.test(file.name) && place ? place.slice(0, 60) : file.name.replace(/\.toml$/, "");
  }

  draw() {
    const { app } = this;
    if (document.activeElement !== this.text) this.text.value = app.location.text;
    say(find("file-name"), app.file.name);
    put(find("file-list"), app.files.map((file, i) => make("li", {},
      make("button", { type: "button", "aria-pressed": file === app.file ? "true" : "false", onclick: () => { app.choose(i); this.draw(); } }, file.name),
      make("button", { type: "button", "aria-label": `Remove ${file.name} from this page`, onclick: () => this.#drop(i) }, "Remove"))));
    const named = app.location.filesNamed();
    find("beside").hidden = !named.length;
    put(find("beside-list"), named.map((name) => make("li", {}, `${name}: ${app.file.beside?.[name] === undefined ? "not in this page; without it there is no answer" : "in this page"}`)));
    const size = Math.ceil(app.store.bytes() / 1024);
    say(find("kept"), app.store.trouble || `What you type is kept in this browser, on this device, and nowhere else (${size} kB now). Whoever uses this browser can read it. Erasing takes it away for good; save files first.`);
  }

  #typed() {
    const { app } = this;
    app.file.draft = undefined;
    app.write(this.text.value);
    app.recce.draw();
  }

  async #open(input) {
    const [file] = input.files;
    input.value = "";
    if (!file) return;
    const refuse = (why) => say(this.said, `${file.name} was not opened: ${why} What was here is untouched.`);
    if (file.size > 1e6) return refuse(`it has ${Math.round(file.size / 1000)} kB; a location has a few.`);
    const bytes = await file.arrayBuffer();
    let text;
    try { text = new TextDecoder("utf-8", { fatal: true, ignoreBOM: true }).decode(bytes); } catch { return refuse("it is no text in UTF-8."); }
    if (text.includes("\0")) return refuse("it is no text.");
    const location = new Location(text);
    if (location.problem) return refuse(`line ${location.problem.line}: ${location.problem.text}.`);
    if (!location.node(["site"]) && !location.node(["format"])) return refuse("it has neither format = 1 nor a [site]: it is no location file.");
    const reply = await this.app.library.ask({ ...this.app.about({ text }, { name: file.name }), ask: "check", date: undefined });
    this.app.open(file.name, text);
    const wrong = reply?.ok ? "" : ` ${reply.problems.length} ${reply.problems.length === 1 ? "thing is" : "things are"} to mend: see Recce.`;
    say(this.said, `${file.name} opened.${wrong}`);
    this.draw();
  }

  /// What the location names, by its name without folders.
  async #give(input) {
    const { app } = this;
    const files = [...input.files];
    input.value = "";
    const base = (name) => name.split("/").at(-1);
    const said = [];
    for (const file of files) {
      const name = app.location.filesNamed().find((named) => base(named) === file.name);
      const text = name === undefined || file.size > 4e6 ? "" : await file.text();
      if (name === undefined) said.push(`${file.name} is not named by this location.`);
      else if (file.size > 4e6) said.push(`${file.name} is too large for a page: 4 MB at most.`);
      else if (text.includes("\0")) said.push(`${file.name} is no text.`);
      else {
        Object.assign(app.file, { beside: { ...app.file.beside, [name]: text }, given: true });
        said.push(`${file.name} is in this page now.`);
      }
    }
    app.keep.now();
    this.draw();
    app.recce.check.now();
    say(this.said, said.join(" "));
  }

  fresh() {
    this.app.open("location.toml", Location.fresh());
    this.draw();
    this.app.show("recce");
  }

  save(name, text, type) {
    const url = URL.createObjectURL(new Blob([text], { type }));
    const link = make("a", { href: url, download: name });
    document.body.append(link);
    link.click();
    link.remove();
    setTimeout(() => URL.revokeObjectURL(url), 60000);
    say(this.said, `${name} was handed to this browser, which puts it where it keeps downloads.`);
  }

  async #made(ask, ending, type) {
    const { app } = this;
    say(this.said, "Being made ...");
    const reply = await app.library.ask({ ...app.about(app.location), ask, ...(ask === "sheet" ? { only: ["page"] } : {}) });
    if (!reply.ok) return say(this.said, `Not made: ${reply.problems.map((p) => p.text).join(" ")}`);
    const [text] = Object.values(reply.files);
    this.save(`${this.stem()}-${app.date}${ending}`, text, type);
  }

  #drop(i) {
    const { app } = this;
    const file = app.files[i];
    if (!confirm(`Remove ${file.name} from this page and this browser? It can't be had back unless it was saved.`)) return;
    app.remove(i);
    this.draw();
  }

  #erase() {
    if (!confirm("Erase everything that was typed into this page from this browser? Save files first: it can't be had back.")) return;
    this.app.erase();
    say(this.said, "Erased. The page holds what it came with.");
    this.draw();
  }
}
