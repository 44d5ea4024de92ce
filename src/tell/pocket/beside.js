// A place in the form that has more inputs than one, or none: where the reader's words about it are told.
class Beside {
  /// @param input  that is gone to
  constructor(desk, path, { element, input, label, need }) {
    const wrong = make("p", { class: "wrong", id: `${path.join("-")}-wrong`, hidden: true });
    Object.assign(this, { desk, path, element, input, spec: { label }, wrong });
    if (need) this.need = need;
    desk.fields.push(this);
  }

  refresh() {}
  tellDoubt() {}
  need(on) { this.element.classList.toggle("needed", on); }
  complain(text) {
    tellWrong(this, text);
    const read = this.element.matches("fieldset") ? this.element : this.input;
    if (text) read?.setAttribute("aria-describedby", this.wrong.id);
    else read?.removeAttribute("aria-describedby");
  }
}

/// @param text  empty: nothing
const tellWrong = ({ wrong, element }, text) => {
  wrong.hidden = text === "";
  wrong.textContent = text;
  if (text) unfold(element);
};
/// What is told inside a closed fold would not be seen.
const unfold = (element) => {
  for (let fold = element.closest("details"); fold; fold = fold.parentElement.closest("details")) fold.open = true;
};
