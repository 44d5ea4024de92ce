"use strict";
// What the form does to a file's text, and how it reads a tape: without a browser.

const assert = require("node:assert/strict");
const fs = require("node:fs");
const path = require("node:path");
const { test } = require("node:test");
const { Location, Length, Walk, Problems, wallFrame, framePoint, compare } = require("./scripts.js");

const locations = process.env.KEYHOUR_LOCATIONS ?? path.join(__dirname, "../../../locations");
const tallow = fs.readFileSync(path.join(locations, "tallow-lane.toml"), "utf8");
// Values made in the scripts' own realm have other prototypes.
const same = (found, wanted) => assert.equal(JSON.stringify(found), JSON.stringify(wanted));

test("an edit changes the value typed and no other byte", () => {
  const location = new Location(tallow);
  assert.equal(location.set(["window", 1, "width_m"], "1.5"), tallow.replace(/(case window[^[]*width_m = )1\.4/, "$11.5"));
  assert.equal(location.set(["room", "bearing", "faces"], "197"), tallow.replace("faces = 196", "faces = 197"));
  assert.equal(location.set(["mark", 0, "at", 0], "2.4"), tallow.replace("at = [2.3, 1.8]", "at = [2.4, 1.8]"));
  assert.equal(location.set(["mark", 0, "height_m"], "1.3"), tallow.replace("height_m = 1.25  ", "height_m = 1.3  "));
});

test("a value that was not there stands at the end of its table", () => {
  const location = new Location(tallow);
  const text = location.set(["mark", 0, "radius_m"], "0.2");
  assert.equal(text, tallow.replace("# of its centre above the floor\n", "# of its centre above the floor\nradius_m = 0.2\n"));
  const bars = new Location(location.set(["window", 1, "bars", "upright"], "2"));
  same(bars.value(["window", 1, "bars"]), { upright: 2 });
  same(new Location(bars.set(["window", 1, "bars", "level"], "1")).value(["window", 1, "bars"]), { upright: 2, level: 1 });
  same(new Location("format = 1").set(["site", "name"], '"A"'), 'format = 1\n\n[site]\nname = "A"\n');
});

test("every value of every example is found where it stands, and taken away with its line", () => {
  const all = fs.readdirSync(locations, { recursive: true }).filter((name) => name.endsWith(".toml"));
  assert.ok(all.length > 5);
  for (const name of all) {
    const text = fs.readFileSync(path.join(locations, name), "utf8");
    const location = new Location(text);
    assert.equal(location.problem, null, name);
    const walk = (node, at) => {
      if (node.end !== undefined) {
        const raw = text.slice(node.start, node.end);
        assert.equal(location.set(at, raw), text, `${name}: ${at.join(".")}`);
        if (node.from !== undefined) {
          const less = new Location(location.remove(at));
          assert.equal(less.problem, null, `${name} without ${at.join(".")}`);
          assert.equal(less.value(at), undefined);
        }
      }
      node.items?.forEach((item, i) => walk(item, [...at, i]));
      if (node.entries) for (const [key, item] of node.entries) walk(item, [...at, key]);
    };
    walk(location.root, []);
  }
});

test("lines end as the file's do, a mark of byte order and dotted names stay", () => {
  const text = "\uFEFFformat = 1\r\n[room]\r\nbearing.faces = 10 # taken twice\r\n";
  const location = new Location(text);
  assert.equal(location.set(["room", "bearing", "faces"], "11"), text.replace("10", "11"));
  assert.equal(location.set(["room", "bearing", "within_deg"], "3"), text + "bearing.within_deg = 3\r\n");
  assert.equal(location.remove(["room", "bearing", "faces"]), "\uFEFFformat = 1\r\n[room]\r\n# taken twice\r\n");
});

test("a table added stands behind its kind, one taken away leaves the others' comments", () => {
  const location = new Location(tallow);
  const more = new Location(location.add("window", [["name", '"loft"']]));
  same(more.names("window"), ["press window", "case window", "yard window", "loft"]);
  assert.equal(more.drop("window", 3), tallow);
  const less = new Location(location.drop("spot", 0));
  assert.equal(less.count("spot"), 0);
  assert.ok(less.text.includes("# Lamps by their data sheets"));
});

test("what can't be followed is told with its line, and nothing is thrown", () => {
  for (const [text, line] of [["a = [1,\n2", 2], ["a = 1\nb", 2], ['a = "x\n', 1], ["[a]\n[a]\n", 3], ["a = 1\na = 2\n", 2], ["= 3", 1], ["\0\0", 1]])
    assert.equal(new Location(text).problem?.line, line, JSON.stringify(text));
});

test("a problem finds its field by line and column, a missing key by its table", () => {
  const location = new Location('[room]\nheight_m = "x"\n[[window]]\nname = "a"\n[[window]]\nname = "b"\nbars = { upright = "q" }\n');
  const fields = [["room", "height_m"], ["room", "bearing", "faces"], ["window", 0, "sill_m"], ["window", 1, "sill_m"], ["window", 1, "bars", "upright"]]
    .map((at) => ({ path: at }));
  const where = (line, column, text) => {
    const [{ path: at, needed }] = Problems.placed([{ line, column, text }], location);
    return [fields.indexOf(Problems.fieldFor(at, fields)), needed];
  };
  same(where(2, 12, "height_m = \"x\" is not a length"), [0, false]);
  same(where(1, 1, '"bearing" is missing in [room]; accepted: ...'), [1, true]);
  same(where(3, 1, '"sill_m" is missing in [[window]] "a"'), [2, true]);
  same(where(5, 1, '"sill_m" is missing in [[window]] "b"'), [3, true]);
  same(where(7, 20, "no whole number"), [4, false]);
});

test("a problem of a whole table is told at the figure that it names", () => {
  const location = new Location('[[forge]]\nname = "hearth"\n');
  const fields = [["forge", 0, "name"], ["forge", 0, "lux"], ["forge", 0, "ev"]].map((at) => ({ path: at }));
  const problem = { line: 1, column: 1, text: '[[forge]] "hearth" has neither lux nor ev; accepted: one of lux = 420, ev = 7.4 (at ISO 100)' };
  const [{ path: at }] = Problems.placed([problem], location);
  assert.equal(Problems.fieldFor(at, fields, problem.text), fields[1]);
  assert.equal(Problems.fieldFor(at, fields, "[[forge]] stands in no room"), fields[0]);
});

test("an outline is followed, what is left of a file is listed, an emptied table goes", () => {
  const location = new Location('format = 1\n\n[lock]\nminutes = 90\n\n[rigging]\ncrew = 2\ncall = "07:30"\n');
  same(location.leaves(), [["format"], ["lock", "minutes"], ["rigging", "crew"], ["rigging", "call"]]);
  same(Location.told(["rigging", "crew"], location), { table: "rigging", key: "crew" });
  const less = new Location(location.remove(["lock", "minutes"]));
  assert.equal(less.dropTable("lock"), 'format = 1\n\n[rigging]\ncrew = 2\ncall = "07:30"\n');
  const named = new Location('[site]\nhorizon = { file = "a.csv", north = "true" }\nbuildings = "b.geojson"\n[[lamp]]\nphotometry = "c.ies"\n');
  same(named.filesNamed(), ["a.csv", "b.geojson", "c.ies"]);
});

test("lengths are read as they are taped", () => {
  // A foot is 0.3048 m and an inch 0.0254 m exactly (international yard and pound agreement of 1959).
  for (const [typed, m] of [["3.81", 3.81], ["3.81 m", 3.81], ["381 cm", 3.81], ["12' 6\"", 3.81], ["12 ft 6 in", 3.81], ["12\u2019 6 1/2\u201d", 3.8227], ["6\"", 0.1524],
    ["1 m 20 cm", 1.2], ["-2'", -0.6096], ["12'6\u00bd\"", 3.8227]])
    assert.ok(Math.abs(Length.read(typed) - m) < 1e-9, `${typed}: ${Length.read(typed)}`);
  for (const typed of ["", "x", "3,81", "12 6", "3 foots"]) assert.ok(Number.isNaN(Length.read(typed)), typed);
  assert.ok(Number.isNaN(Length.read("12", "ft")), "a plain number needs its unit in feet");
  for (let eighth = 0; eighth < 2000; eighth += 7)
    assert.ok(Math.abs(Length.read(Length.feet(eighth * 0.0254 / 8)) - eighth * 0.0254 / 8) < 1e-9, Length.feet(eighth * 0.0254 / 8));
  assert.equal(Length.raw("07.50"), "7.50");
  assert.equal(Length.raw(".5"), "0.5");
  assert.equal(Length.raw("12\u2019 6\u201d", "ft"), '"12\' 6\\""');
  assert.equal(Length.raw("12", "ft"), '"12"');
});

const walked = (rows, units = "m") => {
  const walk = new Walk(new Location(`[site]\nunits = "${units}"\n`));
  walk.walls = rows.map(([name, length, corner]) => ({ name, length, corner: corner ?? Walk.internal }));
  return walk;
};

test("a floor closes as it is taped, what is left over is spread by the walls' lengths", () => {
  const square = walked([["a", "7.2"], ["b", "4.6"], ["c", "7.2"], ["d", "4.6"]]).tell();
  assert.equal(square.floor, "[[0, 0], [7.2, 0], [7.2, 4.6], [0, 4.6]]");
  assert.equal(square.text, "The floor closes.");
  // Compass rule by hand: 6 cm over 24 m, a quarter centimetre for each metre walked.
  const off = walked([["a", "8.06"], ["b", "4"], ["c", "8"], ["d", "4"]]);
  assert.match(off.tell().text, /^The floor does not close by 0\.06 m of 24\.06 m; spread over the walls\. Tape again: a, c\./);
  const [, second] = off.close().corners;
  assert.ok(Math.abs(second[0] - (8.06 - 0.06 * 8.06 / 24.06)) < 1e-9);
  const wrong = walked([["a", "9"], ["b", "4"], ["c", "8"], ["d", "4"]]).tell();
  assert.equal(wrong.floor, null);
  assert.match(wrong.text, /does not close: 1 m are left over/);
  assert.equal(walked([["a", "7"], ["b", "4"], ["c", "7"], ["d", ""]]).tell().floor, "[[0, 0], [7, 0], [7, 4], [0, 4]]");
  const feet = walked([["a", "24'"], ["b", "15' 6\""], ["c", "24'"], ["d", "15' 6\""]], "ft").tell();
  assert.equal(feet.floor, "[[0, 0], [7.3152, 0], [7.3152, 4.7244], [0, 4.7244]]");
  assert.match(walked([["a", "24"], ["b", "15'"], ["c", "24'"], ["d", "15'"]], "ft").tell().text, /"24" of a is no length/);
});

test("a walk is followed as far as it is taped, left hand and right", () => {
  const walk = new Walk(new Location('[room]\nwalls = ["a", "b", "c", "d"]\n'));
  for (const [i, m] of ["6", "4"].entries()) walk.walls[i].length = m;
  const round = (corners) => corners.map((c) => c.map((m) => Number(m.toFixed(6))));
  same(round(walk.passed()), [[0, 0], [6, 0], [6, 4]]);
  walk.hand = -1;
  same(round(walk.passed()), [[0, 0], [6, 0], [6, -4]]);
  walk.walls[0].corner = "nine";
  same(round(walk.passed()), [[0, 0], [6, 0]]);
});

test("an L goes round an external corner, and a floor read from a file walks back to itself", () => {
  const bend = walked([["a", "6"], ["b", "5"], ["c", "2"], ["d", "2", Walk.external], ["e", "4"], ["f", "3"]]);
  bend.walls[2].corner = Walk.internal;
  bend.walls[3].corner = Walk.external;
  const floor = JSON.parse(bend.tell().floor);
  assert.deepEqual(floor, [[0, 0], [6, 0], [6, 5], [4, 5], [4, 3], [0, 3]]);
  for (const ring of [floor, [...floor].reverse(), [[1, 1], [5, 1.5], [6, 6], [0.5, 4]]]) {
    const text = `[room]\nfloor = ${JSON.stringify(ring)}\nwalls = ${JSON.stringify(ring.map((_, i) => `w${i}`))}\n`;
    const back = JSON.parse(new Walk(new Location(text)).tell().floor);
    ring.forEach((corner, i) => corner.forEach((m, k) => assert.ok(Math.abs(back[i][k] - m) < 0.003, JSON.stringify(back))));
  }
});

test("a wall's left corner is that of one who looks out of it", () => {
  // tallow-lane's street wall runs along the bottom of the plan: looking out (down the page) its left is at x = 7.2.
  const wall = wallFrame(new Location(tallow), "street");
  same(wall.corner, [7.2, 0]);
  same(framePoint(wall, 1.1, 2).map((m) => Number(m.toFixed(6))), [6.1, -2]);
});

test("what a change is worth is said in the minutes that the lines tell", () => {
  const key = (start, end) => ({ intervals: [{ start_utc: `2026-02-17T${start}Z`, end_utc: `2026-02-17T${end}Z`, start_local: `2026-02-17T${start}+00:00`, end_local: `2026-02-17T${end}+00:00` }] });
  assert.equal(compare.difference("key", key("12:58:18", "14:18:31"), key("12:50:00", "14:21:59")),
    "Key 12:50 to 14:21 (1 h 31 min), was 12:59 to 14:18 (1 h 19 min): 12 min longer.");
  assert.equal(compare.difference("key", key("12:58:18", "14:18:31"), { intervals: [] }), "No key any more; it was 12:59 to 14:18 (1 h 19 min).");
  assert.equal(compare.difference("lock", { cover_area_m2: 6.5 }, { cover_area_m2: 3.2 }), "Cloth 3.2 m2, was 6.5 m2: 3.3 m2 less.");
});
