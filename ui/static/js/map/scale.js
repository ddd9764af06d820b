// The scale bar: a round length on the ground, at the middle of the map.
import { getPointResolution } from "../../vendor/map.min.js";

const widest = 110; // CSS pixels

/** @returns {number} the largest of 1, 2 and 5 times a power of ten within m metres */
export function roundLength(m) {
  const unit = 10 ** Math.floor(Math.log10(m));
  return [5, 2, 1].find((step) => step * unit <= m) * unit;
}

export function scaleBar(bar, map) {
  const language = document.documentElement.lang;
  const label = bar.querySelector("span");
  function draw() {
    const view = map.getView();
    const perPixel = getPointResolution(view.getProjection(), view.getResolution(), view.getCenter());
    const length = roundLength(widest * perPixel);
    const [value, unit] = length >= 1000 ? [length / 1000, "kilometer"] : [length, "meter"];
    bar.style.width = `${length / perPixel}px`;
    label.textContent = new Intl.NumberFormat(language, { style: "unit", unit }).format(value);
  }
  map.getView().on("change", draw);
  draw();
}
