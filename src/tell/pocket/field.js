// One value of the file with its label, its doubt and what is wrong with it.
class Field {
  static #count = 0;

  /// spec: label; kind: text, length, number, choice, date; choices: a list, or a function that gives
  /// it, words: how they are shown; hint; list: id of suggestions; usual: what holds where nothing is typed.
  constructor(desk, path, spec) {
    this.desk = desk;
    this.path = path;
    this.spec = spec;
    this.id = `field-${++Field.#count}`;
    this.input = spec.kind === "choice" ? this.#select() : this.#box();
    this.input.id = this.id;
    this.doubt = make("span", { class: "doubt" });
    this.hint = spec.hint ? make("p", { class: "hint", id: `${this.id}-hint` }, spec.hint) : null;
    this.wrong = make("p", { class: "wrong", id: `${this.id}-wrong`, hidden: true });
    this.element = make("div", { class: `field ${spec.kind} ${spec.size ?? ""}` },
      make("label", { for: this.id }, spec.label, " ", this.doubt), this.hint, this.input, this.wrong);
    this.#describe();
    this.refresh();
    desk.fields.push(this);
  }

  #box() {
    const { kind, list } = this.spec;
    const feet = this.desk.location.units() === "ft";
    return make("input", {
      type: kind === "date" ? "date" : "text",
      inputmode: kind === "clock" ? "numeric" : kind === "number" || (kind === "length" && !feet) ? "decimal" : null,
      autocomplete: "off", autocapitalize: kind === "text" ? "sentences" : "off", spellcheck: "false",
      list, placeholder: kind === "length" ? (feet ? "12' 6 1/2\"" : "m") : this.spec.usual ?? null,
      oninput: () => this.typed(), onchange: () => this.desk.settled(),
    });
  }
  #select() { return make("select", { onchange: () => { this.typed(); this.desk.settled(); } }); }

  options() {
    const { choices } = this.spec;
    return typeof choices === "function" ? choices() : choices;
  }

  /// What the file says now, unless it is being typed.
  refresh() {
    const shown = (this.spec.kind === "pairs" && Field.pairs(this.desk.location.value(this.path))) || this.desk.location.shown(this.path);
    if (this.spec.kind === "choice") {
      const names = this.options();
      const all = shown && !names.includes(shown) ? [...names, shown] : names;
      const usual = this.spec.usual === undefined ? "" : this.spec.usual;
      const words = ["", ...all];
      if (words.join("\n") !== this.said) {
        this.said = words.join("\n");
        put(this.input, words.map((word) => make("option", { value: word },
          word ? this.spec.words?.[names.indexOf(word)] ?? word : usual === "any" ? usual : usual ? `${usual} (usual)` : "choose")));
      }
      this.input.value = shown;
    } else if (document.activeElement !== this.input || this.input.value.trim() === "") {
      this.input.value = shown;
    }
  }

  /// Pairs of numbers as they are spoken: "90 6, 180 2".
  static pairs(value) {
    return Array.isArray(value) && value.every((p) => Array.isArray(p) && p.length === 2 && p.every((n) => typeof n === "number"))
      ? value.map((p) => p.join(" ")).join(", ") : null;
  }

  static clock(text) { return text.replace(/^(\d{1,2})(\d\d)$/, "$1:$2").replace(/^(\d):/, "0$1:"); }

  raw() {
    const text = this.input.value;
    if (this.spec.kind === "pairs" && /^\s*(\d+(\.\d+)?\s+-?\d+(\.\d+)?\s*(,\s*|$))+$/.test(text))
      return `[${text.split(",").filter((pair) => pair.trim()).map((pair) => `[${pair.trim().split(/\s+/).map(Number).join(", ")}]`).join(", ")}]`;
    // 1405 is typed faster, where a phone's digits have no colon.
    if (this.spec.kind === "clock") return Toml.quoted(Field.clock(text.trim()));
    if (this.spec.kind === "length") return Length.raw(text, this.desk.location.units());
    if (this.spec.kind === "number" && /^[+-]?(0|[1-9]\d*)(\.\d+)?$/.test(text.trim())) return text.trim();
    if (["list", "pairs"].includes(this.spec.kind) && Toml.read(`v = ${text.trim()}\n`).root && /^\s*[[{]/.test(text)) return text.trim();
    return Toml.quoted(this.spec.kind === "text" ? text : text.trim());
  }

  typed() {
    const empty = this.input.value.trim() === "";
    this.desk.edit(this.path, empty ? null : this.raw());
  }

  complain(text) {
    tellWrong(this, text);
    if (text) this.input.setAttribute("aria-invalid", "true");
    else this.input.removeAttribute("aria-invalid");
    this.#describe();
  }
  need(on) { this.element.classList.toggle("needed", on); }

  tellDoubt(text) { say(this.doubt, text); }

  #describe() {
    const by = [this.hint?.id, this.wrong.hidden ? null : this.wrong.id].filter(Boolean).join(" ");
    if (by) this.input.setAttribute("aria-describedby", by);
    else this.input.removeAttribute("aria-describedby");
  }
}
