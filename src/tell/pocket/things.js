// What stands in the room and outside, and the figures that each of them has, in the tape's order.
const things = (() => {
  const length = (label, more = {}) => ({ label, kind: "length", ...more });
  const name = { label: "Name", kind: "text" };
  const row = (...children) => make("div", { class: "row" }, ...children);
  const more = (summary, ...children) => make("details", {}, make("summary", {}, summary), ...children);
  const part = (legend, ...children) => make("fieldset", { class: "row" }, make("legend", {}, legend), ...children);
  const number = (label, more = {}) => ({ label, kind: "number", ...more });
  const month = (label) => ({ label, kind: "choice", words: ["January", "February", "March", "April", "May", "June", "July", "August", "September", "October", "November", "December"],
    choices: Array.from({ length: 12 }, (_, i) => String(i + 1).padStart(2, "0")) });
  /// What a meter showed: one of two.
  const metered = (field) => [field("lux", number("Meter, lux")), field("ev", number("or EV at ISO 100"))];
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
        more("Bars, and how sure the tape is",
          row(field("bars.upright", number("Bars that stand")), field("bars.level", number("Bars that lie")),
            field("bars.width_m", length("Width of a bar")), field("bars.set_back_m", length("Bars set back from the outer face", { usual: "0" })),
            field("within_m", length("All its lengths, give or take")))),
      ],
    },
    mark: {
      title: "Mark", name: "mark", add: "Add a mark", hint: "Where the subject is; height of its CENTRE above the floor.",
      rows: (desk, i, { field, point, parts }) => [
        row(field("name", name), point("at"), field("height_m", length("Height")), field("radius_m", length("Radius", { usual: "0.15" }))),
        more("A box in place of the sphere", part("Head and hands, a piece of work",
          parts("box_m", ["Across the plan", "Up the plan", "Tall"].map((label) => length(label))), field("within_m", length("Its place, give or take"))))],
    },
    camera: {
      title: "Camera", name: "A", add: "Add a camera",
      rows: (desk, i, { field, point }) => [
        row(field("name", name), point("at"), field("height_m", length("Height"))),
        row(field("aims_at", { label: "Aims at", kind: "choice", choices: () => desk.location.names("mark") }),
          field("view_deg", number("Level angle of view, degrees", { usual: "40" })),
          field("view_vertical_deg", number("Upright angle, degrees", { usual: "9:16 of it" })))],
    },
    object: {
      title: "What stands inside", name: "table", add: "Add a table, a press",
      rows: (desk, i, { field, outline }) => [row(field("name", name), field("height_m", length("Height above the floor"))), outline("footprint", -1)],
    },
    building: {
      title: "Buildings and walls outside", name: "building", add: "Add a building, a wall", hint: "Whatever blocks light near by; height above the GROUND.",
      rows: (desk, i, { field, outline }) => [
        row(field("name", name), field("height_m", length("Height above the ground")), field("within_m", length("Its place, give or take"))), outline("footprint", 1)],
    },
    tree: {
      title: "Trees outside", name: "tree", add: "Add a tree", like: ["at"],
      hint: "Height above the GROUND; light passes a bare crown in part.",
      rows: (desk, i, { field, point, parts, outline }) => [
        row(field("name", name), field("height_m", length("Height above the ground"))),
        desk.location.value(["tree", i, "footprint"]) === undefined
          ? part("Its stem and crown", point("at"), field("crown_m", length("Crown, across")), outline("footprint", 1, "Crown of another outline"))
          : outline("footprint", 1),
        part("In leaf", parts("leaf", [month("First month"), month("Last month")])),
        more("How dense, and how sure", row(field("opacity", number("Keeps back in leaf, 0 to 1", { usual: "0.8" })),
          field("opacity_bare", number("Keeps back bare, 0 to 1", { usual: "0.3" })), field("within_m", length("Its place, give or take"))))],
    },
    spot: {
      title: "Camera positions outside", name: "yard", add: "Add a position outside",
      rows: (desk, i, { field, point }) => [
        row(field("name", name), point("at"), field("position", { label: "or its position on the map", kind: "text" })),
        row(field("camera_bearing", number("The lens looks, degrees true")),
          field("wants", { label: "Wanted light", kind: "choice", choices: ["front", "side", "back", "any"], usual: "any" })),
        more("Eye, lens and wall behind", row(field("eye_m", length("Eye above the ground", { usual: "1.6" })), field("view_deg", number("Level angle of view, degrees", { usual: "40" })),
          field("tilt_deg", number("Tilted up, degrees", { usual: "0" })), field("facade_faces", number("The wall behind faces, degrees true"))))],
    },
    lamp: {
      title: "Lamps", name: "key lamp", add: "Add a lamp", hint: "By its data sheet: level on the axis at a distance; beam at half of it, field at a tenth.",
      rows: (desk, i, { field, point }) => [
        row(field("name", name), field("place", { label: "Place", kind: "choice", choices: ["outside", "inside"] })),
        row(field("sheet.level_lx", number("Level, lx")), field("sheet.at_m", length("at a distance of")),
          field("sheet.beam_deg", number("Beam, degrees")), field("sheet.field_deg", number("Field, degrees"))),
        row(field("face_diameter_m", length("Face, across")), field("kelvin", number("Colour, K", { usual: "5600" })),
          field("stand_max_m", length("Stand, at most"))),
        more("Where it stands or hangs, power, diffusion",
          part("Where it stands or hangs, if it has its place", point("at"), field("height_m", length("Height above the room's floor"))),
          row(field("watts", number("Watts")), field("battery_h", number("Battery, hours"))),
          part("Diffusion before it", field("diffusion.transmittance", number("Lets through, 0 to 1")), field("diffusion.diameter_m", length("Frame, across")), field("diffusion.distance_m", length("Before the face"))),
          part("In place of its sheet", field("photometry", { label: "File of its photometry", kind: "text", hint: "such as lamp.ies; give the file itself under File" }), field("lumens", number("Lumens, of a lamp hung to shine down"))))],
    },
    forge: {
      title: "Forge or hearth", name: "forge", add: "Add a forge, a hearth", hint: "A glowing opening that lights the room. Meter it facing the opening, with the windows covered.",
      rows: (desk, i, { field, point }) => [
        row(field("name", name), field("opening_width_m", length("Opening, wide")), field("opening_height_m", length("Opening, tall")), field("height_m", length("Its middle above the floor"))),
        part("Its opening", point("at")), part("It looks towards", point("toward"), field("tilt_deg", number("Tilted up, degrees", { usual: "0" }))),
        row(metered(field), field("at_m", length("metered at a distance of")), field("kelvin", number("Colour, K", { usual: "1500" })))],
    },
    meter: {
      title: "Light metered on the recce", name: null, add: "Add a reading", hint: "It corrects every level that is told. By day, lamps off; at a mark or outside in the open.",
      rows: (desk, i, { field, point }) => {
        const time = new Field(desk, ["meter", i, "time"], { label: "Read at", kind: "text", hint: "2026-02-10T13:40, the site's clock, or take it" });
        return [
          row(field("place", { label: "Place", kind: "choice", choices: ["inside", "outside"], usual: "inside" }), field("mark", { label: "At the mark", kind: "choice", choices: () => desk.location.names("mark") }),
            field("sky", { label: "Sky", kind: "choice", choices: ["clear", "mean cloud", "overcast"] }), metered(field)),
          row(time.element, make("button", { type: "button", class: "beside", onclick: () => {
            time.input.value = Sighting.clock();
            time.typed();
            desk.settled();
          } }, "Take the clock now")),
          more("At no mark: where it was held", part("Where it was held", point("at"), field("height_m", length("Height above the floor"))))];
      },
    },
  };
})();
