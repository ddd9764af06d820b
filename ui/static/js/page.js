// What every page gains with scripts; without them everything still works. What only some
// pages need is asked for by those: on a weak network every file costs a journey.
import { flush } from "./lib/outbox.js";

document.documentElement.classList.add("scripted");

for (const button of document.querySelectorAll("[data-print]")) {
  button.addEventListener("click", () => window.print());
}

if (document.querySelector("select")) import("./lib/whole-choice.js").then(({ wholeChoices }) => wholeChoices(document.body));

for (const address of document.querySelectorAll(".address")) {
  address.addEventListener("focus", () => address.select());
}

// What was entered without a connection is sent from whichever page is open next.
if (!document.querySelector("entry-form")) flush();
