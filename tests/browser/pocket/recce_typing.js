"use strict";
// A recce of an invented basket maker's shed, as two people type it: by touch or by keys alone.

/// Fingers: a tap, then the phone's keyboard. Native lists open outside the page, so one is chosen.
const byTouch = (page) => ({
  type: async (field, words) => { await field.tap(); await field.selectText(); await page.keyboard.type(words); },
  choose: async (field, word) => { await field.tap(); await field.selectOption(word); },
  press: async (button) => { await button.tap(); },
});

/// Tab, letters and Enter; nothing is focused but by Tab.
const byKeys = (page) => {
  const reach = async (field) => {
    for (let i = 0; i < 150; i++) {
      if (await field.evaluate((element) => element === document.activeElement)) return;
      await page.keyboard.press("Tab");
    }
    throw new Error(`Tab does not reach ${field}`);
  };
  return {
    type: async (field, words) => { await reach(field); await page.keyboard.press("Control+A"); await page.keyboard.type(words); },
    choose: async (field, word) => { await reach(field); await page.keyboard.type(word); },
    press: async (button) => { await reach(button); await page.keyboard.press("Enter"); },
  };
};

const metres = {
  walls: ["6.4", "4.8", "6.4", "4.8"], height: "2.9", left: "2.5", width: "1.4", sill: "0.85", tall: "1.5", reveal: "0.3",
  mark: ["3.1", "1.7", "1.2"], camera: ["2.0", "0.6", "1.3"],
};
const feet = {
  walls: ["21'", "15' 9\"", "21'", "15' 9\""], height: "9' 6\"", left: "8' 2 1/2\"", width: "4' 7\"", sill: "2' 9 1/2\"", tall: "4' 11\"", reveal: "1'",
  mark: ["10' 2\"", "5' 7\"", "3' 11\""], camera: ["6' 6\"", "2'", "4' 3\""],
};

const typeRecce = async (page, hand, { place = "Withy Lane Baskets", position = "52.1012N 2.3144W", zone = "Europe/London", tape = metres, faces = "188", units } = {}) => {
  const field = (label) => page.getByRole("textbox", { name: new RegExp(`^${label}`) }).or(page.getByRole("combobox", { name: new RegExp(`^${label}`) }));
  const inside = (legend) => page.getByRole("group", { name: legend, exact: true });
  await hand.type(field("Name of the place"), place);
  if (units) { await page.getByLabel(units).focus(); await page.keyboard.press("Space"); }
  await hand.type(field("Position"), position);
  await hand.type(field("Time zone"), zone);
  for (const [i, length] of tape.walls.entries()) await hand.type(page.locator(`#wall-${i}-length`), length);
  await hand.type(field("Floor to ceiling"), tape.height);
  const bearing = page.getByRole("region", { name: "Which way it faces" });
  await hand.choose(bearing.getByLabel("Wall", { exact: true }).first(), "wall 1");
  await hand.type(bearing.getByLabel("Faces, degrees"), faces);
  await hand.choose(bearing.getByLabel("From north"), "true");
  await hand.press(page.getByRole("button", { name: "Add a window" }));
  const window = inside("window");
  await hand.choose(window.getByLabel("Wall", { exact: true }), "wall 1");
  await hand.type(window.getByLabel("near jamb"), tape.left);
  await hand.type(window.getByLabel("Width", { exact: false }).first(), tape.width);
  await hand.type(window.getByLabel("Sill"), tape.sill);
  await hand.type(window.getByLabel("Height"), tape.tall);
  await hand.type(window.getByLabel("Reveal"), tape.reveal);
  await hand.press(page.getByRole("button", { name: "Add a mark" }));
  const mark = inside("mark");
  await hand.type(mark.getByLabel("left on the plan"), tape.mark[0]);
  await hand.type(mark.getByLabel("below on the plan"), tape.mark[1]);
  await hand.type(mark.getByLabel("Height"), tape.mark[2]);
  await hand.press(page.getByRole("button", { name: "Add a camera" }));
  const camera = inside("A");
  await hand.type(camera.getByLabel("left on the plan"), tape.camera[0]);
  await hand.type(camera.getByLabel("below on the plan"), tape.camera[1]);
  await hand.type(camera.getByLabel("Height"), tape.camera[2]);
};

module.exports = { byKeys, byTouch, feet, metres, typeRecce };
