"use strict";
// Rooms of any kind, all sound, the same in every run: text of a location file and a date to ask about.

/// Numbers from 0 to below 1 by xorshift32 (Marsaglia, Journal of Statistical Software 8 (14), 2003).
const dice = (seed) => {
  let state = seed >>> 0 || 1;
  return () => {
    state ^= state << 13;
    state ^= state >>> 17;
    state ^= state << 5;
    return (state >>> 0) / 2 ** 32;
  };
};

// Places whose zones change their clocks in spring, in autumn, by half an hour or never.
const places = [["Europe/London", 52, -1], ["Australia/Hobart", -42, 147], ["America/Denver", 40, -105], ["Asia/Kolkata", 22, 78],
  ["Pacific/Auckland", -41, 175], ["Africa/Nairobi", -1, 37], ["America/Santiago", -33, -71], ["Europe/Helsinki", 62, 25],
  ["America/St_Johns", 48, -55], ["Australia/Lord_Howe", -31.5, 159]];

const randomRoom = (roll) => {
  const between = (least, most, digits = 2) => (least + (most - least) * roll()).toFixed(digits);
  const chance = (share) => roll() < share;
  const [zone, latitude, longitude] = places[Math.floor(roll() * places.length)];
  const [wide, deep] = [Number(between(4, 9)), Number(between(3.5, 7))];
  const bent = chance(0.3);
  const [inX, inY] = [(wide * 0.6).toFixed(2), (deep * 0.6).toFixed(2)];
  const floor = bent ? [[0, 0], [wide, 0], [wide, inY], [inX, inY], [inX, deep], [0, deep]] : [[0, 0], [wide, 0], [wide, deep], [0, deep]];
  const walls = floor.map((_, i) => `wall ${i + 1}`);
  const at = () => `[${between(0.5, 0.55 * wide)}, ${between(0.5, 0.55 * deep)}]`;
  const parts = [`format = 1
[site]
position = "${(latitude + 2 * roll() - 1).toFixed(4)}, ${(longitude + 1.5 * roll() - 0.75).toFixed(4)}"
time_zone = "${zone}"
elevation_m = ${between(0, 400, 0)}${chance(0.5) ? `\nhorizon = [[${between(0, 100, 0)}, ${between(0, 12, 1)}], [${between(110, 200, 0)}, ${between(0, 9, 1)}], [${between(210, 350, 0)}, ${between(0, 12, 1)}]]` : ""}
[room]
floor = [${floor.map((corner) => `[${corner.join(", ")}]`).join(", ")}]
walls = [${walls.map((name) => `"${name}"`).join(", ")}]
height_m = ${between(2.9, 4)}
floor_above_ground_m = ${between(0, 3)}
bearing = { wall = "wall 1", faces = ${between(0, 359, 1)}, north = "true", within_deg = ${between(0, 4, 1)} }
`];
  let before = wide / 2;  // the first window's middle, where the plan has wall 1 at its lower edge
  walls.forEach((wall, i) => {
    if (i && !chance(0.4)) return;
    const [a, b] = [floor[i], floor[(i + 1) % floor.length]];
    const long = Math.hypot(a[0] - b[0], a[1] - b[1]);
    if (long < 1.2) return;
    const width = Number(between(0.7, Math.min(2.4, long - 0.4)));
    const left = 0.1 + roll() * (long - width - 0.2);
    if (!i) before = long - left - width / 2;
    parts.push(`[[window]]
name = "window ${i + 1}"
wall = "${wall}"
left_m = ${left.toFixed(2)}
width_m = ${width}
sill_m = ${between(0.3, 1.1)}
height_m = ${between(0.8, 1.6)}
reveal_m = ${between(0, 0.4)}
${chance(0.4) ? `bars = { upright = ${between(0, 2, 0)}, level = ${between(1, 3, 0)}, width_m = 0.03 }\n` : ""}${chance(0.2) ? 'cover = "sheer"\n' : ""}`);
  });
  parts.push(`[[mark]]\nname = "mark"\nat = [${Math.min(Math.max(before + 1.6 * roll() - 0.8, 0.4), wide - 0.4).toFixed(2)}, ${between(0.6, Math.min(2.4, 0.55 * deep))}]\nheight_m = ${between(0.8, 1.6)}\nradius_m = ${between(0.08, 0.2)}\n`);
  if (chance(0.7)) parts.push(`[[camera]]\nname = "A"\nat = ${at()}\nheight_m = 1.4\naims_at = "mark"\nview_deg = ${between(20, 60, 0)}\n`);
  if (chance(0.5)) {
    const [x, y] = [Number(between(-8, 4)), -Number(between(5, 15))];
    parts.push(`[[building]]\nname = "shed"\nheight_m = ${between(2, 9)}\nfootprint = [[${x}, ${y}], [${x + 9}, ${y}], [${x + 9}, ${y - 4}], [${x}, ${y - 4}]]\n`);
  }
  if (chance(0.2)) parts.push(`[[tree]]\nname = "lime"\nat = [${between(-3, 9)}, ${between(-12, -5)}]\ncrown_m = ${between(3, 6)}\nheight_m = ${between(5, 12)}\nleaf = ["04", "10"]\n`);
  const day = new Date(Date.UTC(2020, 0, 1) + Math.floor(roll() * 5844) * 86400000).toISOString().slice(0, 10);
  return { toml: parts.join("\n"), date: day };
};

module.exports = { dice, randomRoom };
