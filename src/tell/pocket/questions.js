// The questions that a crew asks, with what each of them wants to know besides, by the command line's names.
const questions = (() => {
  const named = (kind, label, key = kind) => ({ key, label, choices: (location) => location.names(kind), usual: "any" });
  const clock = (key, label) => ({ key, label, type: "clock", usual: "14:05" });
  const number = (key, label, usual) => ({ key, label, type: "number", usual });
  return [
    { id: "key", label: "Key", fold: "Window, mark, camera", wants: [named("window", "Window"), named("mark", "Mark"), named("camera", "Camera")],
      show: ["levels", "doubt", "haze", "misses", "readback"], quick: { "no-light": true, "no-doubt": true } },
    { id: "lamp key", label: "Lamp key", wants: [number("lock", "Lock, minutes", "120")], show: ["readback", "misses", "all"], quick: { "no-doubt": true } },
    { id: "lock", label: "Lock", wants: [clock("start", "Begins"), clock("end", "Ends"), number("minutes", "or so long, minutes", "120"),
      { ...named("window", "Lamp's window, stays open", "key-window"), usual: "none" }], show: ["doubt", "readback", "hours"],
      fixed: (asked) => asked.start && asked.end ? { minutes: undefined } : { minutes: asked.minutes || "120", end: undefined } },
    { id: "lamp", label: "Lamp", needs: "lamp", wants: [clock("like", "Like the sun of"), named("window", "Window"), clock("at", "Room's light at"),
      number("ratio", "Key to fill, n:1"), number("hold", "Burns for, minutes")], show: ["levels", "doubt", "readback"],
      fixed: (asked, app) => ({ like: asked.like || app.clock }) },
    { id: "exterior", label: "Outside", needs: "spot", fold: "Position, minutes", wants: [named("spot", "Position"), number("setup", "Set-up, minutes", "20"), number("shot", "Shot, minutes", "10"),
      clock("from-time", "Shots from")], show: ["levels", "doubt", "countdown", "hours", "readback"], quick: { "no-doubt": true } },
    { id: "day", label: "Day", wants: [], show: ["levels", "hours", "readback"], strip: "strip" },
    { id: "year", label: "Year", wants: [{ key: "from", label: "From", type: "date" }, { key: "to", label: "To", type: "date" }], show: ["all"], fold: "Other dates",
      strip: "year", slow: true, quick: { "no-light": true, "no-doubt": true },
      fixed: (asked, app) => ({ date: asked.from || `${app.date.slice(0, 4)}-01-01`, from: undefined, to: asked.to || `${app.date.slice(0, 4)}-12-31` }) },
  ];
})();
