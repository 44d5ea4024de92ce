// A location file as it is typed: every edit gives a new text in which only that value differs, so
// comments, order and spacing stay. A path goes by tables, places in lists and keys:
// ["window", 0, "width_m"], ["room", "bearing", "faces"].
class Location {
  constructor(text) {
    this.text = text;
    this.eol = text.includes("\r\n") ? "\r\n" : "\n";
    const { root, sections, problem } = Toml.read(text);
    this.root = root;
    this.sections = sections;
    this.problem = problem ?? null;
  }

  /// A new file, in the zone of this device's clock.
  static fresh() {
    const zone = Intl.DateTimeFormat().resolvedOptions().timeZone;
    return `# A location for keyhour, typed on the recce.\nformat = 1\n\n[site]\n${zone ? `time_zone = ${Toml.quoted(zone)}\n` : ""}`;
  }

  node(path) {
    let node = this.root;
    for (const step of path) {
      if (!node) return undefined;
      node = typeof step === "number" ? node.items?.[step] : node.entries?.get(step);
    }
    return node;
  }

  static plain(node) {
    if (!node) return undefined;
    if (node.items) return node.items.map(Location.plain);
    if (node.entries) return Object.fromEntries([...node.entries].map(([key, value]) => [key, Location.plain(value)]));
    return node.value;
  }
  /// Of numbers, texts, lists and tables.
  value(path) { return Location.plain(this.node(path)); }
  /// Metres of a list of lengths, none where there is no list; corners of an outline likewise.
  metres(path) { return Location.metresOf(this.value(path)); }
  corners(path) { const list = this.value(path); return Array.isArray(list) ? list.map(Location.metresOf) : []; }
  static metresOf(list) { return Array.isArray(list) ? list.map((v) => Length.read(v, "m")) : []; }
  count(kind) { return this.node([kind])?.items?.length ?? 0; }

  /// As it was typed: a text without its quotes.
  shown(path) {
    const node = this.node(path);
    if (!node || node.end === undefined) return "";
    return node.type === "text" ? node.value : this.text.slice(node.start, node.end);
  }

  raw(path) {
    const node = this.node(path);
    return node?.end === undefined ? undefined : this.text.slice(node.start, node.end);
  }

  /// The paths of all single values.
  leaves() {
    const found = [];
    const walk = (node, path) => {
      if (node.entries) for (const [key, item] of node.entries) walk(item, [...path, key]);
      else if (node.type === "tables") node.items.forEach((item, i) => walk(item, [...path, i]));
      else found.push(path);
    };
    if (this.root) walk(this.root, []);
    return found;
  }
  /// Files that stand beside it, by the names that it gives them.
  filesNamed() {
    const text = (path) => { const value = this.value(path); return typeof value === "string" && value ? [value] : []; };
    return [...text(["site", "horizon", "file"]), ...text(["site", "buildings"]), ...text(["site", "buildings", "file"]),
      ...Array.from({ length: this.count("lamp") }, (_, i) => text(["lamp", i, "photometry"])).flat()];
  }
  /// "task "cloth"" and "minutes", for people.
  static told(path, location) {
    const many = typeof path[1] === "number";
    const name = many ? location.value([path[0], path[1], "name"]) : undefined;
    return { table: `${path[0]}${name === undefined ? "" : ` "${name}"`}`, key: String(path[many ? 2 : 1] ?? path[0]) };
  }

  line(path) {
    const node = this.node(path);
    const at = node?.from ?? node?.start;
    return at === undefined ? 0 : Toml.lineAt(this.text, at);
  }

  spliced(start, end, words) { return this.text.slice(0, start) + words + this.text.slice(end); }

  /// `raw`: as TOML writes it. @return the new text
  set(path, raw) {
    const node = this.node(path);
    if (node && node.end !== undefined) return this.spliced(node.start, node.end, raw);
    const parent = this.node(path.slice(0, -1));
    const key = path.at(-1);
    if (!parent) {
      if (path.length === 2) {
        const end = this.text === "" || this.text.endsWith("\n") ? "" : this.eol;
        return `${this.text}${end}${this.eol}[${path[0]}]${this.eol}${key} = ${raw}${this.eol}`;
      }
      return this.set(path.slice(0, -1), `{ ${key} = ${raw} }`);
    }
    if (parent.type === "inline") {
      const last = [...parent.entries.values()].at(-1);
      return last ? this.spliced(last.end, last.end, `, ${key} = ${raw}`)
                  : this.spliced(parent.start, parent.end, `{ ${key} = ${raw} }`);
    }
    if (parent.type === "dotted") {
      const last = [...parent.entries.values()].at(-1);
      const name = this.text.slice(last.from, last.start).replace(/[^.]*$/, "");
      return this.withLine(parent.home, `${name}${key} = ${raw}`);
    }
    return this.withLine(parent, `${key} = ${raw}`);
  }

  withLine(section, line) {
    const at = section.insert;
    const before = at > 0 && this.text[at - 1] !== "\n" ? this.eol : "";
    return this.spliced(at, at, before + line + this.eol);
  }

  /// Without the key; with its line, unless a comment stands there.
  remove(path) {
    const node = this.node(path);
    if (!node || node.end === undefined) return this.text;
    const parent = this.node(path.slice(0, -1));
    if (parent.type === "inline") {
      if (parent.entries.size === 1) return this.remove(path.slice(0, -1));
      const before = this.text.slice(0, node.from).replace(/,\s*$/, "");
      const after = this.text.slice(node.end);
      return before.length < node.from && this.text.slice(before.length, node.from).includes(",")
        ? before + after : this.text.slice(0, node.from) + after.replace(/^\s*,\s*/, "");
    }
    const start = this.text.lastIndexOf("\n", node.from - 1) + 1;
    const rest = /^[ \t]*(#[^\n]*)?\r?\n?/.exec(this.text.slice(node.end));
    return this.spliced(start, node.end + rest[0].length - (rest[1] ? rest[0].trimStart().length : 0), "");
  }

  /// One more [[kind]] behind the last of its kind, else at the end. `entries`: key and raw value.
  add(kind, entries) {
    const block = [`[[${kind}]]`, ...entries.map(([key, raw]) => `${key} = ${raw}`)].join(this.eol) + this.eol;
    const last = this.node([kind])?.items?.at(-1);
    const at = last ? this.behind(last) : this.text.length;
    const before = at > 0 && this.text[at - 1] !== "\n" ? this.eol : "";
    return this.spliced(at, at, before + this.eol + block);
  }

  /// Behind a table's last line, its own tables included.
  behind(section) {
    let at = section.insert;
    for (const node of section.entries.values()) if (node.type === "section") at = Math.max(at, this.behind(node));
    return at;
  }

  /// Without the n-th [[kind]]; comments before the next table stay.
  drop(kind, n) {
    const section = this.node([kind, n]);
    const start = this.text.lastIndexOf("\n", section.start - 1) + 1;
    const end = this.behind(section);
    const after = this.text.slice(end).replace(/^(\r?\n)+/, "");
    return this.text.slice(0, start).replace(/(\r?\n)+$/, this.eol) + (after && start > 0 ? this.eol : "") + after;
  }

  /// Without an empty [name].
  dropTable(name) {
    const section = this.node([name]);
    if (!section?.entries || section.start === undefined) return this.text;
    const start = this.text.lastIndexOf("\n", section.start - 1) + 1;
    const after = this.text.slice(section.insert).replace(/^(\r?\n)+/, "");
    return this.text.slice(0, start).replace(/(\r?\n)+$/, this.eol) + (after && start > 0 ? this.eol : "") + after;
  }

  names(kind) {
    return Array.from({ length: this.count(kind) }, (_, i) => String(this.value([kind, i, "name"]) ?? ""));
  }
  walls() {
    const walls = this.value(["room", "walls"]);
    return Array.isArray(walls) ? walls.map(String) : [];
  }
  units() { return this.value(["site", "units"]) === "ft" ? "ft" : "m"; }

  /// The path whose value stands on that line (and in that column, both from 1), and the table around it.
  at(line, column = 0) {
    const lines = this.text.split("\n");
    if (line < 1 || line > lines.length) return [];
    const start = lines.slice(0, line - 1).reduce((sum, l) => sum + l.length + 1, 0);
    const place = start + Math.max(0, column - 1), end = start + lines[line - 1].length;
    let found = [];
    const look = (node, path) => {
      if (node.end !== undefined && (node.from ?? node.start) <= end && node.end >= start &&
          (!column || ((node.from ?? node.start) <= place && place <= node.end))) found = path;
      if (node.type === "section" && node.start >= start && node.start <= end && node !== this.root) found = path;
      node.items?.forEach((item, i) => look(item, [...path, i]));
      if (node.entries) for (const [key, item] of node.entries) look(item, [...path, key]);
    };
    if (this.root) look(this.root, []);
    return found;
  }
}
