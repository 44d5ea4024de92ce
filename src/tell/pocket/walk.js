// The floor as the tape goes round it: wall after wall with its length and the corner at its end. The
// corners go into the file once the walk closes; what doesn't close is spread over the walls by their
// lengths (the compass rule of traverse surveys), and told.
class Walk {
  static internal = "internal, square";
  static external = "external, square";
  static most_gap = 0.005;  // of the whole walk; common practice, no source

  constructor(location, draft) {
    this.units = location.units();
    const floor = location.value(["room", "floor"]);
    const names = location.walls();
    this.origin = [0, 0];
    this.along = 0;      // direction of the first wall, radians from the plan's x
    this.hand = 1;       // 1: anticlockwise, the wall at the right hand
    this.walls = draft?.walls ?? (Array.isArray(floor) ? this.#walked(floor, names) : Walk.blank(names));
    if (draft) ({ origin: this.origin, along: this.along, hand: this.hand } = draft);
  }

  static blank(names) {
    const walls = names.length >= 3 ? names : ["wall 1", "wall 2", "wall 3", "wall 4"];
    return walls.map((name) => ({ name, length: "", corner: Walk.internal }));
  }

  #walked(floor, names) {
    const ring = floor.map((corner) => (Array.isArray(corner) ? corner : []).map((c) => Length.read(c, "m")));
    const n = ring.length;
    if (n < 3 || ring.some((c) => c.length !== 2 || c.some(Number.isNaN))) return Walk.blank(names);
    const side = (i) => [ring[(i + 1) % n][0] - ring[i % n][0], ring[(i + 1) % n][1] - ring[i % n][1]];
    const area = ring.reduce((sum, [x, y], i) => sum + x * ring[(i + 1) % n][1] - ring[(i + 1) % n][0] * y, 0);
    this.origin = ring[0];
    this.along = Math.atan2(side(0)[1], side(0)[0]);
    this.hand = area < 0 ? -1 : 1;
    return ring.map((_, i) => {
      const [a, b] = [side(i), side(i + 1)];
      const turn = this.hand * Math.atan2(a[0] * b[1] - a[1] * b[0], a[0] * b[0] + a[1] * b[1]) * 180 / Math.PI;
      const corner = Math.abs(turn - 90) < 0.05 ? Walk.internal : Math.abs(turn + 90) < 0.05 ? Walk.external
        : String(Number((180 - turn).toFixed(2)));
      const m = Math.hypot(...a);
      return { name: names[i] ?? `wall ${i + 1}`, length: Length.typed(m, this.units), exact: m, corner };
    });
  }

  draft() { return { walls: this.walls, origin: this.origin, along: this.along, hand: this.hand }; }

  /// Degrees to turn at a wall's end, towards the room's inside positive; NaN if not understood.
  static turn(corner) {
    if (corner === Walk.internal) return 90;
    if (corner === Walk.external) return -90;
    const inner = Number(corner);
    return corner !== "" && inner > 0 && inner < 360 ? 180 - inner : NaN;
  }

  length(wall) { return wall.exact ?? Length.read(wall.length, this.units); }

  /// { corners, gap_m, whole_m, gap: [x, y] } or { waits: words }
  close() {
    const lengths = this.walls.map((wall) => this.length(wall));
    const open = lengths.map((m, i) => (m > 0 ? -1 : i)).filter((i) => i >= 0);
    const last = this.walls.length - 1;
    if (open.length > 1 || (open.length === 1 && open[0] !== last)) {
      const wall = this.walls[open[0]];
      return { waits: wall.length.trim() ? `"${wall.length}" of ${wall.name} is no length${this.units === "ft" ? ": write 12' 6\" or 3.8 m" : ""}`
                                         : `${wall.name} has no length yet` };
    }
    const at = [[...this.origin]];
    let way = this.along;
    for (let i = 0; i < last; i++) {
      const turn = Walk.turn(this.walls[i].corner);
      if (Number.isNaN(turn)) return { waits: `the corner after ${this.walls[i].name} needs its inner angle, 1 to 359 degrees` };
      at.push([at[i][0] + lengths[i] * Math.cos(way), at[i][1] + lengths[i] * Math.sin(way)]);
      way += this.hand * turn * Math.PI / 180;
    }
    if (open.length) {
      const m = Math.hypot(at[last][0] - at[0][0], at[last][1] - at[0][1]);
      return { corners: at, gap_m: 0, whole_m: 0, gap: [0, 0], last_m: m };
    }
    const end = [at[last][0] + lengths[last] * Math.cos(way), at[last][1] + lengths[last] * Math.sin(way)];
    const gap = [end[0] - at[0][0], end[1] - at[0][1]];
    const whole = lengths.reduce((sum, m) => sum + m, 0);
    let gone = 0;
    const corners = at.map(([x, y], i) => {
      if (i) gone += lengths[i - 1];
      return [x - gap[0] * gone / whole, y - gap[1] * gone / whole];
    });
    return { corners, gap_m: Math.hypot(...gap), whole_m: whole, gap };
  }

  /// The corners passed as far as the lengths go.
  passed() {
    const at = [[...this.origin]];
    let way = this.along;
    for (const wall of this.walls) {
      const m = this.length(wall);
      if (!(m > 0) || Number.isNaN(way)) break;
      const [x, y] = at.at(-1);
      at.push([x + m * Math.cos(way), y + m * Math.sin(way)]);
      way += this.hand * Walk.turn(wall.corner) * Math.PI / 180;
    }
    return at;
  }

  /// Walls that run the way of the gap: one of them is taped wrong, if only one is.
  along_gap(gap) {
    let way = this.along;
    const toward = Math.atan2(gap[1], gap[0]);
    return this.walls.filter((wall, i) => {
      if (i) way += this.hand * (Walk.turn(this.walls[i - 1].corner) || 0) * Math.PI / 180;
      return Math.abs(Math.cos(way - toward)) > 0.95;
    }).map((wall) => wall.name);
  }

  /// { text, corners: raw TOML or null, bad }
  tell() {
    const closed = this.close();
    if (closed.waits) return { text: `Not closed: ${closed.waits}.`, floor: null, bad: false };
    const floor = `[${closed.corners.map(([x, y]) => `[${Length.metre(x)}, ${Length.metre(y)}]`).join(", ")}]`;
    if (closed.last_m !== undefined)
      return { text: `${this.walls.at(-1).name} is ${Length.told(closed.last_m, this.units)} by the others: tape it to see whether the floor closes.`, floor, bad: false };
    const gap = Length.told(Math.max(closed.gap_m, 0), this.units);
    if (closed.gap_m <= 0.0005) return { text: "The floor closes.", floor, bad: false };
    const walls = this.along_gap(closed.gap);
    const again = walls.length ? ` Tape again: ${walls.join(", ")}.` : "";
    if (closed.gap_m > Math.max(0.05, Walk.most_gap * closed.whole_m))
      return { text: `The floor does not close: ${gap} are left over, too much to spread. The plan stays as it was.${again}`, floor: null, bad: true };
    return { text: `The floor does not close by ${gap} of ${Length.told(closed.whole_m, this.units)}; spread over the walls.${closed.gap_m > 0.02 ? again : ""}`, floor, bad: false };
  }
}
