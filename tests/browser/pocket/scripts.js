"use strict";
// The pocket page's scripts that need no browser, as node has them.

const fs = require("node:fs");
const path = require("node:path");
const vm = require("node:vm");

const folder = path.join(__dirname, "../../../src/tell/pocket");
const names = ["toml", "location", "length", "frame", "walk", "problems", "compare"];
const source = names.map((name) => fs.readFileSync(path.join(folder, `${name}.js`), "utf8")).join("\n");
module.exports = vm.runInNewContext(
  `"use strict";\n${source}\n({ Toml, Location, Length, Walk, Problems, wallFrame, framePoint, compare });`, { console });
