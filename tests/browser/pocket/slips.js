"use strict";
// The slips of the file reader's own test (tests/read/slips_of_*.hpp), as it holds them: C++'s texts in braces.

const fs = require("node:fs");
const path = require("node:path");

const folder = path.join(__dirname, "../../read");
const read = (name) => fs.readFileSync(path.join(folder, name), "utf8");

const escaped = (letters) => letters.replace(/\\(x[0-9a-f]{2}|[0-7]{1,3}|.)/gi, (_, code) =>
  code[0] === "x" ? String.fromCharCode(parseInt(code.slice(1), 16))
    : /^[0-7]/.test(code) ? String.fromCharCode(parseInt(code, 8)) : { n: "\n", t: "\t", r: "\r", a: "\x07" }[code] ?? code);

/// Lists of lists of texts; texts that stand side by side are one.
const lists = (source) => {
  const stack = [[]];
  let joins = false;
  for (const [token, text] of source.matchAll(/\/\/[^\n]*|"((?:[^"\\]|\\.)*)"|[{},]/g)) {
    const top = stack.at(-1);
    if (token[0] === "/") continue;
    if (text !== undefined) {
      if (joins) top[top.length - 1] += escaped(text);
      else top.push(escaped(text));
    } else if (token === "{") { stack.push([]); } else if (token === "}") { const done = stack.pop(); stack.at(-1).push(done); }
    joins = text !== undefined;
  }
  return stack[0];
};

const forge = /forge = R"\(([\s\S]*?)\)"/.exec(read("forge_file.hpp"))[1];

/// [{ from, to, toml, complaints: [{ line, column, text }] }]
const slips = ["site", "room", "things"].flatMap((of) => {
  const source = read(`slips_of_${of}.hpp`);
  const table = lists(source.slice(source.indexOf(`slips_of_${of}{`) + `slips_of_${of}`.length))[0];
  return table.map(([from, to, complaints]) => ({
    from, to, toml: forge.replace(from, () => to),
    complaints: complaints.map((told) => {
      const [, line, column, text] = /^(?:(\d+):)?(?:(\d+): )?([\s\S]*)$/.exec(told);
      return { line: Number(line), column: Number(column), text };
    }),
  }));
});

module.exports = { forge, slips };
