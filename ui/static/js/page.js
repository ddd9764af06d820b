// What the page gains with scripts; without them everything still works.
import { MapPoint } from "./view/map-point.js";
import { reveals } from "./view/reveal.js";

document.documentElement.classList.add("scripted");
customElements.define("map-point", MapPoint);

for (const button of document.querySelectorAll("[data-print]")) {
  button.addEventListener("click", () => window.print());
}

for (const button of document.querySelectorAll("[data-reveal]")) reveals(button);

for (const address of document.querySelectorAll("input.address")) {
  address.addEventListener("focus", () => address.select());
}
