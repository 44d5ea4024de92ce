// The library's own lines. Prose flows to any width: a line that goes on deeper goes on here too. Tables
// keep their columns.
let letter_px = 0;
/// How many letters of a line the library may use; 40 to 80, as a terminal has them.
const columnsIn = (place) => {
  if (!letter_px) {
    const probe = make("pre", { class: "table probe" }, "M".repeat(100));
    document.body.append(probe);
    letter_px = probe.getBoundingClientRect().width / 100 || 9.6;
    probe.remove();
  }
  const width = place?.clientWidth || find("main").clientWidth;
  return Math.max(40, Math.min(80, Math.floor(width / letter_px)));
};

const inLines = (() => {
  const indent = (line) => line.length - line.trimStart().length;
  // Columns stand two blanks or more apart.
  const tabular = (line) => /\S {2,}\S/.test(line);

  // The line before would not have had room for this line's first word, a figure with its unit or a date.
  const first = /^\(?[\d.,]+ \S+( \d{4})?|^\S+/;
  const goesOn = (before, line, columns) => before.length + 1 + first.exec(line.trimStart())[0].length > columns;
  /// What flags would tell more, where it takes two lines both of them, has boxes to tick in a page.
  const withoutFlags = (lines) => {
    let inside = false;
    return lines.filter((line) => {
      inside = line.startsWith("more: --show") || (inside && indent(line) > 0);
      return !inside;
    });
  };
  // A page has boxes to tick where a terminal has flags.
  const flagless = (line) => line.replace(/--show (?=\w)/g, "more: ").replace(/: --all\b/g, "; more: all").replace(/--all\b/g, "more: all");
  const unbroken = (text) => text.replace(/(\d) (?=(klx|lx|h|min|m|cm|m2|ft|in|stops|%)\b)/g, "$1\u00a0");

  /// [{ text, indent }], [{ table: lines }] or [{ gap }]
  return (lines, columns) => {
    const parts = [];
    let before = "";
    for (const line of withoutFlags(lines)) {
      const last = parts.at(-1);
      const deeper = last?.text && indent(line) > last.indent;
      if (line.trim() === "") parts.push({ gap: true });
      else if (last?.text && (deeper || (last.caution && !last.text.endsWith(".") && indent(line) === last.indent)) && goesOn(before, line, columns)) last.text += ` ${line.trim()}`;
      else if (tabular(line) || (last?.table && indent(line) > indent(last.table.at(-1)))) {
        if (last?.table) last.table.push(line);
        else parts.push({ table: [line] });
      // A caution is a paragraph: a capital letter first and no figure.
      } else parts.push({ text: line.trim(), indent: indent(line), caution: /^[A-Z]/.test(line) && !/\d/.test(line) && parts.length > 1 });
      before = line;
    }
    for (const part of parts) if (part.text) part.text = unbroken(flagless(part.text));
    return parts;
  };
})();

const linesOf = (reply, columns = 40) => make("div", { class: "lines" }, inLines(reply.lines ?? [], columns).map((part) =>
  part.gap ? make("p", { class: "gap" }) : part.table
    ? make("pre", { class: "table", tabindex: "0" }, part.table.join("\n"))
    : make("p", { class: part.indent ? "inner" : null }, part.text)));
