// Lengths as taped: what is typed goes into the file as it is; here they are read only to draw a
// sketch, to close the floor and to turn two lengths into an angle.
const Length = (() => {
  const metres = { m: 1, cm: 0.01, mm: 0.001, ft: 0.3048, "'": 0.3048, in: 0.0254, '"': 0.0254 };
  const number = (text) => {
    const part = /^(?:(\d+)\s+)?(\d+)\s*\/\s*(\d+)$/.exec(text);
    return part ? Number(part[1] ?? 0) + Number(part[2]) / Number(part[3]) : Number(text);
  };

  /// Typographers' marks as the plain ones.
  const tidy = (text) => text.trim().replace(/[\u2018\u2019\u2032]/g, "'").replace(/[\u201c\u201d\u2033]|''/g, '"')
    .replace(/\u00bd/g, " 1/2").replace(/\u00bc/g, " 1/4").replace(/\u00be/g, " 3/4").replace(/  +/g, " ");

  /// Metres; NaN if it is no length. A plain number is metres unless the crew tapes in feet.
  const read = (typed, units = "m") => {
    if (typeof typed === "number") return typed;
    let rest = tidy(String(typed ?? ""));
    if (rest === "") return NaN;
    const sign = rest.startsWith("-") ? -1 : 1;
    if (sign < 0) rest = rest.slice(1).trim();
    if (/^\d*\.?\d+$|^\d+\.$/.test(rest)) return units === "ft" && Number(rest) !== 0 ? NaN : sign * Number(rest);
    let sum = 0;
    while (rest) {
      const part = /^(\d+\s+\d+\s*\/\s*\d+|\d+\s*\/\s*\d+|\d*\.?\d+)\s*(feet|foot|ft|inches|inch|in|cm|mm|metres|metre|m|'|")\s*/.exec(rest);
      if (!part) return NaN;
      const unit = { feet: "ft", foot: "ft", inches: "in", inch: "in", metres: "m", metre: "m" }[part[2]] ?? part[2];
      sum += number(part[1]) * metres[unit];
      rest = rest.slice(part[0].length);
    }
    return sign * sum;
  };

  /// As TOML writes what was typed: a plain number stays one (in feet it needs its unit, so the
  /// reader asks for it), anything else is a text.
  const raw = (typed, units = "m") => {
    const text = tidy(typed);
    const plain = /^[+-]?(0|[1-9]\d*)(\.\d+)?$/.test(text);
    if (plain && (units === "m" || Number(text) === 0)) return text;
    const loose = /^([+-]?)0*(\d*)\.?(\d*)$/.exec(text);
    if (units === "m" && loose && /\d/.test(text))
      return `${loose[1]}${loose[2] || "0"}${loose[3] ? "." + loose[3] : ""}`;
    return Toml.quoted(text);
  };

  const metre = (m, digits = 4) => String(Number(m.toFixed(digits)));
  /// To the nearest eighth of an inch: 12' 6 1/2"
  const feet = (m) => {
    const eighths = Math.round(Math.abs(m) / 0.0254 * 8);
    const ft = Math.floor(eighths / 96), inch = Math.floor((eighths % 96) / 8), part = eighths % 8;
    const fraction = part ? { 1: "1/8", 2: "1/4", 3: "3/8", 4: "1/2", 5: "5/8", 6: "3/4", 7: "7/8" }[part] : "";
    const inches = [inch || (fraction ? "" : 0), fraction].filter((word) => word !== "").join(" ");
    const words = ft && !inch && !part ? `${ft}'` : ft ? `${ft}' ${inches}"` : `${inches}"`;
    return (m < 0 && eighths ? "-" : "") + words;
  };
  const told = (m, units) => units === "ft" ? feet(m) : `${Number(m.toFixed(3))} m`;
  /// A length in the crew's units as it may stand in an input.
  const typed = (m, units) => units === "ft" ? feet(m) : metre(m, 3);
  return { read, raw, told, typed, feet, tidy, metre };
})();
