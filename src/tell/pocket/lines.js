// The library's own lines, set so that they fit.
let letter_px = 0;
/// How many letters of a line fit into a place.
const columnsIn = (place) => {
  if (!letter_px) {
    const probe = make("pre", { class: "lines probe" }, "M".repeat(100));
    document.body.append(probe);
    letter_px = probe.getBoundingClientRect().width / 100 || 9.6;
    probe.remove();
  }
  const width = place?.clientWidth || find("main").clientWidth;
  return Math.max(24, Math.min(80, Math.floor(width / letter_px)));
};
const linesOf = (reply) => make("pre", { class: "lines", tabindex: "-1" }, (reply.lines ?? []).join("\n"));
