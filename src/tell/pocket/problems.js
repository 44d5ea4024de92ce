// What the reader says is wrong, laid beside the fields: by the path that stands on its line, and by
// the key that it names where something is missing.
const Problems = (() => {
  const missing = /^"([\w.]+)" is missing/;

  const pathOf = (problem, location) => {
    let path = problem.line ? location.at(problem.line, problem.column) : [];
    if (!path.length && problem.line) path = location.at(problem.line);
    // A slip of the pen in a key is told where that key belongs.
    const meant = /^unknown key "\w+" in .*did you mean "(\w+)"/.exec(problem.text);
    if (meant && path.length > 1) return [...path.slice(0, -1), meant[1]];
    if (/ has neither \w+ nor /.test(problem.text)) return path.slice(0, 2);
    const lacks = missing.exec(problem.text);
    if (!lacks) return path;
    // A key that is there is told at its own place; one that is not at its table's.
    const table = location.node(path)?.entries ? path : path.slice(0, -1);
    return [...table, ...lacks[1].split(".")];
  };

  const isStart = (short, long) => short.length <= long.length && short.every((step, i) => step === long[i]);

  /// [{ problem, path, needed }]; needed: not yet typed, which is no mistake.
  const placed = (problems, location) => problems.map((problem) => {
    const path = pathOf(problem, location);
    const node = location.node(path);
    return { problem, path, needed: missing.test(problem.text) || (node?.type === "text" && node.value === "") };
  });

  /// The field for a path: its own; else, inside it, that whose key the problem names, or the first; else
  /// the innermost around it.
  const fieldFor = (path, fields, text = "") => {
    if (!path.length) return null;
    const exact = fields.find((f) => f.path.length === path.length && isStart(path, f.path));
    if (exact) return exact;
    const inside = fields.filter((f) => isStart(path, f.path));
    const key = (f) => f.path.slice(path.length).find((step) => typeof step === "string") ?? "";
    const named = inside.filter((f) => key(f) && new RegExp(`\\b${key(f)}\\b`).test(text)).sort((a, b) => key(b).length - key(a).length);
    if (inside.length) return named[0] ?? inside[0];
    return fields.filter((f) => isStart(f.path, path)).sort((a, b) => b.path.length - a.path.length)[0] ?? null;
  };

  return { placed, fieldFor, isStart, missing };
})();
