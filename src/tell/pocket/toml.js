// TOML read for one purpose: to know where each value stands, so that an edit changes that value and
// no other byte. The library judges the file; what can't be followed here is told with its line.
const Toml = (() => {
  class Unread extends Error {
    constructor(text, at) { super(text); this.at = at; }
  }

  const escapes = { b: "\b", t: "\t", n: "\n", f: "\f", r: "\r", '"': '"', "\\": "\\" };

  class Reader {
    constructor(text) { this.text = text; this.at = text.startsWith("\uFEFF") ? 1 : 0; }
    fail(what) { throw new Unread(what, this.at); }
    get here() { return this.text[this.at]; }
    starts(word) { return this.text.startsWith(word, this.at); }
    blanks() { while (this.here === " " || this.here === "\t") this.at++; }
    comment() { while (this.at < this.text.length && this.here !== "\n") this.at++; }
    /// Blanks, comments and ends of lines.
    gap() {
      for (;;) {
        this.blanks();
        if (this.here === "#") this.comment();
        else if (this.here === "\n" || this.here === "\r") this.at++;
        else return;
      }
    }
    /// The rest of a line that is done with.
    endLine() {
      this.blanks();
      if (this.here === "#") this.comment();
      if (this.here === "\r") this.at++;
      if (this.at < this.text.length && this.here !== "\n") this.fail("something stands behind the value");
      this.at++;
    }

    string() {
      const quote = this.here;
      const long = this.starts(quote.repeat(3));
      const end = long ? quote.repeat(3) : quote;
      this.at += end.length;
      if (long) { if (this.here === "\r") this.at++; if (this.here === "\n") this.at++; }
      let out = "";
      for (;;) {
        if (this.at >= this.text.length || (!long && this.here === "\n")) this.fail("a text has no end");
        if (this.starts(end)) { this.at += end.length; return out; }
        if (quote === '"' && this.here === "\\") out += this.escape(long);
        else out += this.text[this.at++];
      }
    }
    escape(long) {
      const letter = this.text[this.at + 1];
      const digits = { u: 4, U: 8 }[letter];
      if (digits) {
        const code = parseInt(this.text.substr(this.at + 2, digits), 16);
        if (!(code <= 0x10ffff)) this.fail("no such letter");
        this.at += 2 + digits;
        return String.fromCodePoint(code);
      }
      if (long && /[\s]/.test(letter)) { this.at++; while (/\s/.test(this.here ?? "")) this.at++; return ""; }
      if (!(letter in escapes)) this.fail(`\\${letter} means nothing`);
      this.at += 2;
      return escapes[letter];
    }

    key() {
      if (this.here === '"' || this.here === "'") return this.string();
      const word = /^[A-Za-z0-9_-]+/.exec(this.text.slice(this.at, this.at + 200));
      if (!word) this.fail("a name was expected");
      this.at += word[0].length;
      return word[0];
    }
    keys() {
      const keys = [this.key()];
      for (this.blanks(); this.here === "."; this.blanks()) { this.at++; this.blanks(); keys.push(this.key()); }
      return keys;
    }

    value() {
      const start = this.at;
      const done = (node) => Object.assign(node, { start, end: this.at });
      if (this.here === '"' || this.here === "'") { const value = this.string(); return done({ type: "text", value }); }
      if (this.here === "[") return done(this.array());
      if (this.here === "{") return done(this.inline());
      const word = /^[^\s,\]}#]+( \d\d:[^\s,\]}#]+)?/.exec(this.text.slice(this.at, this.at + 200));
      if (!word) this.fail("a value was expected");
      this.at += word[0].length;
      const number = Number(word[0].replaceAll("_", ""));
      return done({ type: Number.isNaN(number) ? "word" : "number", value: Number.isNaN(number) ? word[0] : number });
    }
    array() {
      const items = [];
      this.at++;
      for (;;) {
        this.gap();
        if (this.here === "]") { this.at++; return { type: "array", items }; }
        items.push(this.value());
        this.gap();
        if (this.here === ",") this.at++;
        else if (this.here !== "]") this.fail("a list has no end");
      }
    }
    inline() {
      const entries = new Map();
      this.at++;
      for (;;) {
        this.gap();
        if (this.here === "}") { this.at++; return { type: "inline", entries }; }
        this.entry({ type: "inline", entries });
        this.gap();
        if (this.here === ",") this.at++;
        else if (this.here !== "}") this.fail("a table has no end");
      }
    }

    /// `a.b = value` into a table.
    entry(table) {
      const from = this.at;
      const keys = this.keys();
      this.blanks();
      if (this.here !== "=") this.fail('"=" was expected');
      this.at++;
      this.blanks();
      const node = this.value();
      node.from = from;
      for (const key of keys.slice(0, -1)) table = this.into(table, key, { type: "dotted", home: table.home ?? table });
      if (table.entries.has(keys.at(-1))) this.fail(`a second "${keys.at(-1)}"`);
      table.entries.set(keys.at(-1), node);
    }
    into(table, key, fresh) {
      if (!table.entries.has(key)) table.entries.set(key, { entries: new Map(), ...fresh });
      let next = table.entries.get(key);
      if (next.type === "tables") next = next.items.at(-1);
      if (!next.entries) this.fail(`"${key}" is no table`);
      return next;
    }

    /// `[a.b]` or `[[a.b]]`
    section(root) {
      const start = this.at;
      const many = this.starts("[[");
      this.at += many ? 2 : 1;
      this.blanks();
      const keys = this.keys();
      this.blanks();
      if (!this.starts(many ? "]]" : "]")) this.fail("a table's name has no end");
      this.at += many ? 2 : 1;
      this.endLine();
      let table = root;
      for (const key of keys.slice(0, -1)) table = this.into(table, key, { type: "section" });
      const key = keys.at(-1);
      const fresh = { type: "section", entries: new Map(), start, insert: this.at };
      const there = table.entries.get(key);
      if (many) {
        if (there && there.type !== "tables") this.fail(`"${key}" is no list of tables`);
        if (there) there.items.push(fresh);
        else table.entries.set(key, { type: "tables", items: [fresh] });
      } else if (there && there.start === undefined && there.entries) {
        return Object.assign(there, { start, insert: this.at });
      } else {
        if (there) this.fail(`a second [${keys.join(".")}]`);
        table.entries.set(key, fresh);
      }
      return fresh;
    }

    file() {
      const root = { type: "section", entries: new Map(), start: this.at, insert: this.at };
      const sections = [root];
      let table = root;
      for (this.gap(); this.at < this.text.length; this.gap()) {
        if (this.here === "[") { table = this.section(root); sections.push(table); continue; }
        this.entry(table);
        this.endLine();
        table.insert = Math.min(this.at, this.text.length);
      }
      return { root, sections };
    }
  }

  /// { root, sections } or { problem: { line, text } }
  const read = (text) => {
    const reader = new Reader(text);
    try {
      return reader.file();
    } catch (wrong) {
      if (!(wrong instanceof Unread)) throw wrong;
      return { problem: { line: lineAt(text, wrong.at), text: wrong.message } };
    }
  };
  const lineAt = (text, at) => text.slice(0, at).split("\n").length;

  /// A text as a basic string.
  const quoted = (text) => '"' + [...text].map((c) =>
    c === '"' || c === "\\" ? "\\" + c
      : c < " " || c === "\x7f" ? "\\u" + c.codePointAt(0).toString(16).padStart(4, "0") : c).join("") + '"';

  return { read, lineAt, quoted };
})();
