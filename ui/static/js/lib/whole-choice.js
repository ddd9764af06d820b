// The whole of what is chosen, below a choice whose box is too narrow for it: on a phone the
// name of a method or a soil would be read by its beginning alone.
const pen = document.createElement("canvas").getContext("2d");
const arrowPX = 20; // beside the words

function fits(select, words) {
  const style = getComputedStyle(select);
  pen.font = style.font;
  return pen.measureText(words).width <= select.clientWidth - parseFloat(style.paddingLeft) - parseFloat(style.paddingRight) - arrowPX;
}

function tell(select) {
  const words = select.selectedOptions[0]?.text ?? "";
  let whole = select.nextElementSibling?.matches(".whole-choice") ? select.nextElementSibling : null;
  if (select.clientWidth === 0 || fits(select, words)) {
    whole?.remove();
    return;
  }
  if (!whole) {
    whole = Object.assign(document.createElement("p"), { className: "whole-choice hint", ariaHidden: "true" }); // the choice itself is read out whole
    select.after(whole);
  }
  if (whole.textContent !== words) whole.textContent = words;
}

const sizes = new ResizeObserver((changes) => changes.forEach(({ target }) => tell(target)));
const known = new WeakSet();

/** Watches the choices below an element, and those that are put there later. */
export function wholeChoices(root) {
  const look = () => {
    for (const select of root.querySelectorAll("select")) {
      if (!known.has(select)) sizes.observe(select); // tells at once
      known.add(select);
    }
  };
  root.addEventListener("change", ({ target }) => target.matches("select") && tell(target));
  new MutationObserver(look).observe(root, { childList: true, subtree: true });
  look();
}
