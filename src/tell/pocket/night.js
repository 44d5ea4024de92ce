// The night setting is plain inversion, kept for the next time.
const startNight = (store) => {
  const button = find("night");
  const set = (on) => {
    document.documentElement.classList.toggle("night", on);
    button.setAttribute("aria-pressed", on ? "true" : "false");
  };
  set(store.read("night") === true);
  button.addEventListener("click", () => {
    const on = !document.documentElement.classList.contains("night");
    set(on);
    store.write("night", on);
  });
};
