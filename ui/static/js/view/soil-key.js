// The key by which a crew tells soils by hand: it fills the layer that was written last.
import { asked, soilOf } from "../lib/soilkey.js";

customElements.define("soil-key", class extends HTMLElement {
  #last = null; // the layer that was written in last

  connectedCallback() {
    document.addEventListener("focusin", this.#focus);
    this.form.addEventListener("change", this.#answer);
    this.dialog.addEventListener("close", this.#close);
    document.addEventListener("click", this.#open);
  }

  disconnectedCallback() {
    document.removeEventListener("click", this.#open);
    document.removeEventListener("focusin", this.#focus);
  }

  get dialog() {
    return this.querySelector("dialog");
  }

  get form() {
    return this.querySelector("form");
  }

  get answers() {
    return Object.fromEntries(new FormData(this.form));
  }

  #focus = (event) => {
    this.#last = event.target.closest('entry-rows[data-list="layer"] .row') ?? this.#last;
  };

  #open = (event) => {
    if (!event.target.closest("[data-key]")) return;
    this.form.reset();
    this.dialog.returnValue = "";
    this.#answer();
    this.dialog.showModal();
  };

  #answer = () => {
    const open = asked(this.answers);
    for (const q of this.querySelectorAll("[data-question]")) q.hidden = !open.includes(q.dataset.question);
    const soil = soilOf(this.answers);
    const look = soil && (soil.grade ? `${soil.class}-${soil.grade}` : soil.class);
    this.querySelector(".concluded").textContent = look ? this.querySelector(`[data-class="${look}"]`)?.textContent ?? look : "";
    this.querySelector('button[value="take"]').disabled = !soil;
  };

  // The layer that was written in last, else the deepest that has a bottom.
  #close = () => {
    const soil = soilOf(this.answers);
    if (this.dialog.returnValue !== "take" || !soil) return;
    const rows = document.querySelector('entry-rows[data-list="layer"]').rows;
    const written = rows.filter((row) => row.querySelector('[name$=".base"]').value !== "");
    const row = this.#last ?? written.at(-1) ?? rows[0];
    row.querySelector('[name$=".class"]').value = soil.class;
    row.querySelector('[name$=".grade"]').value = soil.grade;
    row.querySelector('[name$=".clayey"]').checked = soil.clayey;
    row.querySelector('[name$=".class"]').dispatchEvent(new Event("input", { bubbles: true }));
    row.scrollIntoView({ block: "center" });
  };
});
