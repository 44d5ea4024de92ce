// A wall as one stands before it, looking out: its left-hand corner, the way to the right, the way out.
const wallFrame = (location, name) => {
  const floor = location.corners(["room", "floor"]);
  const i = location.walls().indexOf(name);
  if (i < 0 || i >= floor.length || floor.length < 3 || floor.some((c) => c.length !== 2 || c.some(Number.isNaN))) return null;
  const area = floor.reduce((sum, [x, y], k) => {
    const next = floor[(k + 1) % floor.length];
    return sum + x * next[1] - next[0] * y;
  }, 0);
  const a = floor[i], b = floor[(i + 1) % floor.length];
  const long = Math.hypot(b[0] - a[0], b[1] - a[1]);
  const along = [(b[0] - a[0]) / long, (b[1] - a[1]) / long];
  // An anticlockwise floor's wall ends at its left-hand corner.
  const u = area > 0 ? [-along[0], -along[1]] : along;
  return { floor, corner: area > 0 ? b : a, u, out: [-u[1], u[0]], long };
};
const framePoint = ({ corner, u, out }, right, outward) =>
  [corner[0] + right * u[0] + outward * out[0], corner[1] + right * u[1] + outward * out[1]];
