// What stands in the room and outside, and the figures that each of them has, in the tape's order.
const things = (() => {
  const length = (label, more = {}) => ({ label, kind: "length", ...more });
  const name = { label: "Name", kind: "text" };
  const row = (...children) => make("div", { class: "row" }, ...children);
  return {
    window: {
      title: "Windows and other openings", name: "window", add: "Add a window", like: ["left_m", "within_m"],
      hint: "Every opening of the room, seen from inside. Clear opening, without its frame; sill from the floor INSIDE; reveal is the depth of the wall around it, 0 must be typed.",
      rows: (desk, i, { field }) => [
        row(field("name", name), field("wall", { label: "Wall", kind: "choice", choices: () => desk.location.walls() })),
        row(field("left_m", length("Left corner of the wall to near jamb")), field("width_m", length("Width"))),
        row(field("sill_m", length("Sill")), field("height_m", length("Height")), field("reveal_m", length("Reveal"))),
        row(field("glass", { label: "Glass", kind: "choice", choices: ["none", "single", "double"], usual: "single" }),
          field("cover", { label: "Cover", kind: "choice", choices: ["open", "sheer", "blackout"], usual: "open" })),
        make("details", {}, make("summary", {}, "Bars, and how sure the tape is"),
          row(field("bars.upright", { label: "Bars that stand", kind: "number" }), field("bars.level", { label: "Bars that lie", kind: "number" }),
            field("bars.width_m", length("Width of a bar")), field("within_m", length("All its lengths, give or take")))),
      ],
    },
    mark: {
      title: "Mark", name: "mark", add: "Add a mark", hint: "Where the subject is; height of its CENTRE above the floor.",
      rows: (desk, i, { field, point }) => [
        row(field("name", name), point("at"), field("height_m", length("Height")), field("radius_m", length("Radius", { usual: "0.15" })))],
    },
    camera: {
      title: "Camera", name: "A", add: "Add a camera",
      rows: (desk, i, { field, point }) => [
        row(field("name", name), point("at"), field("height_m", length("Height"))),
        row(field("aims_at", { label: "Aims at", kind: "choice", choices: () => desk.location.names("mark") }),
          field("view_deg", { label: "Level angle of view, degrees", kind: "number", usual: "40" }))],
    },
    object: {
      title: "What stands inside", name: "table", add: "Add a table, a press",
      rows: (desk, i, { field, rectangle }) => [row(field("name", name), field("height_m", length("Height above the floor"))), rectangle("footprint", -1)],
    },
    building: {
      title: "What stands outside", name: "building", add: "Add a building, a wall", hint: "Whatever blocks light near by; height above the GROUND.",
      rows: (desk, i, { field, rectangle }) => [
        row(field("name", name), field("height_m", length("Height above the ground")), field("within_m", length("Its place, give or take"))), rectangle("footprint", 1)],
    },
    spot: {
      title: "Camera positions outside", name: "yard", add: "Add a position outside",
      rows: (desk, i, { field, point }) => [
        row(field("name", name), point("at")),
        row(field("camera_bearing", { label: "The lens looks, degrees true", kind: "number" }),
          field("wants", { label: "Wanted light", kind: "choice", choices: ["front", "side", "back", "any"], usual: "any" }))],
    },
    lamp: {
      title: "Lamps", name: "key lamp", add: "Add a lamp", hint: "By its data sheet: level on the axis at a distance; beam at half of it, field at a tenth.",
      rows: (desk, i, { field }) => [
        row(field("name", name), field("place", { label: "Place", kind: "choice", choices: ["outside", "inside"] })),
        row(field("sheet.level_lx", { label: "Level, lx", kind: "number" }), field("sheet.at_m", length("at a distance of")),
          field("sheet.beam_deg", { label: "Beam, degrees", kind: "number" }), field("sheet.field_deg", { label: "Field, degrees", kind: "number" })),
        row(field("face_diameter_m", length("Face, across")), field("kelvin", { label: "Colour, K", kind: "number", usual: "5600" }),
          field("stand_max_m", length("Stand, at most")))],
    },
  };
})();
