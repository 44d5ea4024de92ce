// What a change is worth: two answers to one question, side by side, in minutes and metres.
const compare = (() => {
  const duration = (minutes) => minutes < 60 ? `${minutes} min` : `${Math.floor(minutes / 60)} h ${String(minutes % 60).padStart(2, "0")} min`;
  /// Whole minutes inside: what is promised.
  const inward = (from, to) => {
    const [start, end] = [Math.ceil(Date.parse(from) / 60000), Math.floor(Date.parse(to) / 60000)];
    return { minutes: Math.max(0, end - start), start, end };
  };
  /// Of the day, local.
  const minuteOf = (local, at) => {
    const offset = /([+-])(\d\d):(\d\d)$/.exec(local);
    const shift = offset ? (offset[1] === "-" ? -1 : 1) * (60 * Number(offset[2]) + Number(offset[3])) : 0;
    return (((at + shift) % 1440) + 1440) % 1440;
  };
  const clock = (local, at) => {
    const minute = minuteOf(local, at);
    return `${String(Math.floor(minute / 60)).padStart(2, "0")}:${String(minute % 60).padStart(2, "0")}`;
  };
  const span = (interval) => {
    if (!interval?.start_utc) return null;
    const { minutes, start, end } = inward(interval.start_utc, interval.end_utc);
    return { minutes, words: `${clock(interval.start_local ?? "", start)} to ${clock(interval.end_local ?? interval.start_local ?? "", end)} (${duration(minutes)})` };
  };
  const days = (document) => document?.days ?? [document];

  const measures = {
    key: (document) => span(document?.intervals?.find((i) => i.start_utc)),
    "lamp key": (document) => span(document?.intervals?.find((i) => i.start_utc)),
    year: (document) => {
      const all = days(document).flatMap((d) => d?.intervals ?? []).map(span).filter(Boolean);
      const dates = new Set(days(document).filter((d) => (d?.intervals ?? []).some((i) => i.start_utc)).map((d) => d.date));
      const minutes = all.reduce((sum, s) => sum + s.minutes, 0);
      return { minutes, words: `${duration(minutes)} of key in all${dates.size ? ` on ${dates.size} dates` : ""}` };
    },
  };
  const name = { key: "key", "lamp key": "window free of sun", year: "" };

  /// One sentence; empty where the lines alone can tell.
  const difference = (question, was, now) => {
    if (question === "lock" && was && now) {
      const by = now.cover_area_m2 - was.cover_area_m2;
      const area = (m2) => `${m2.toFixed(1)} m2`;
      return `Cloth ${area(now.cover_area_m2)}, was ${area(was.cover_area_m2)}: ${Math.abs(by) < 0.05 ? "the same" : `${area(Math.abs(by))} ${by > 0 ? "more" : "less"}`}.`;
    }
    const measure = measures[question];
    if (!measure) return "";
    const [before, after] = [measure(was), measure(now)];
    if (!before && !after) return `No ${name[question]}, as before.`;
    if (!before) return `Now a ${name[question]} ${after.words}; there was none.`;
    if (!after) return `No ${name[question]} any more; it was ${before.words}.`;
    const by = after.minutes - before.minutes;
    const worth = by === 0 ? "as long as before" : `${duration(Math.abs(by))} ${by > 0 ? "longer" : "shorter"}`;
    const words = `${name[question]} ${after.words}, was ${before.words}: ${worth}.`.trim();
    return words[0].toUpperCase() + words.slice(1);
  };
  /// The minute in the middle of a day's longest key, or null.
  const middle = (document) => {
    const keys = (document?.intervals ?? []).filter((i) => i.start_utc).map((i) => ({ ...inward(i.start_utc, i.end_utc), local: i.start_local ?? "" }));
    if (!keys.length) return null;
    const { start, end, local } = keys.reduce((a, b) => b.minutes > a.minutes ? b : a);
    return minuteOf(local, Math.floor((start + end) / 2));
  };
  return { difference, middle };
})();
