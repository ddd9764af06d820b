// What the page gains with scripts; without them everything still works.
import { flush } from "./lib/outbox.js";
import { EntryForm } from "./view/entry-form.js";
import { EntryRows } from "./view/entry-rows.js";
import { HandIn } from "./view/hand-in.js";
import { MapPoint } from "./view/map-point.js";
import { onOneSheet } from "./view/one-sheet.js";
import { reveals } from "./view/reveal.js";
import { SoilKey } from "./view/soil-key.js";
import { looksAgain, waits } from "./view/wait.js";

document.documentElement.classList.add("scripted");
customElements.define("map-point", MapPoint);
customElements.define("entry-rows", EntryRows);
customElements.define("entry-form", EntryForm);
customElements.define("soil-key", SoilKey);
customElements.define("hand-in", HandIn);

for (const button of document.querySelectorAll("[data-print]")) {
  button.addEventListener("click", () => window.print());
}

if (document.querySelector("article.answer, article.record")) onOneSheet();

for (const button of document.querySelectorAll("[data-reveal]")) reveals(button);

for (const address of document.querySelectorAll("input.address")) {
  address.addEventListener("focus", () => address.select());
}

// What was entered without a connection is sent from whichever page is open next.
if (!document.querySelector("entry-form")) flush();

const waited = document.querySelectorAll("[data-wait]");
for (const part of waited) waits(part);
if (waited.length === 0 && document.querySelector("[data-again]")) looksAgain();
