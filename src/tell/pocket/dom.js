// Elements made of names, attributes and children; what others typed goes in as text alone.
const make = (name, attributes = {}, ...children) => {
  const element = document.createElement(name);
  for (const [key, value] of Object.entries(attributes)) {
    if (value === undefined || value === null || value === false) continue;
    if (key.startsWith("on")) element.addEventListener(key.slice(2), value);
    else if (["value", "checked"].includes(key)) element[key] = value;
    else element.setAttribute(key, value === true ? "" : value);
  }
  element.append(...children.flat().filter((child) => child !== null && child !== undefined && child !== ""));
  return element;
};
const find = (id) => document.getElementById(id);
const put = (place, ...children) => { place.replaceChildren(...children.flat().filter((c) => c !== null && c !== "" && c !== false && c !== 0)); };
const say = (place, text) => { if (place.textContent !== text) place.textContent = text; };

/// Once nothing has happened for a while.
const later = (wait, work) => {
  let timer = 0;
  const soon = (...words) => { clearTimeout(timer); timer = setTimeout(() => work(...words), wait); };
  soon.now = (...words) => { clearTimeout(timer); return work(...words); };
  return soon;
};

/// A drawing of the library's as an element; nothing but what a drawing is made of comes through.
const drawing = (svg) => {
  const parsed = new DOMParser().parseFromString(svg, "image/svg+xml").documentElement;
  if (parsed.nodeName !== "svg") return make("p", {}, "The drawing could not be read.");
  for (const node of parsed.querySelectorAll("script, foreignObject")) node.remove();
  return document.importNode(parsed, true);
};
/// Millimetres for a drawing as wide as a place: its smallest letters, of 3.2 mm, have the page's 16
/// pixels, but on a screen so narrow that nothing more would stand in it.
const paperWidth = (place) => Math.max(66, Math.floor((place?.clientWidth || 360) / 5));
const svgName = "http://www.w3.org/2000/svg";
const ink = (name, attributes = {}, ...children) => {
  const element = document.createElementNS(svgName, name);
  for (const [key, value] of Object.entries(attributes)) element.setAttribute(key, value);
  element.append(...children);
  return element;
};
