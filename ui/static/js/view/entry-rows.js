// A list within a form: rows are added from the empty one; a new layer begins where the
// one before it ends.

customElements.define("entry-rows", class extends HTMLElement {
  #next = 0;

  connectedCallback() {
    this.addEventListener("click", this.#click);
    this.addEventListener("change", this.#change);
    for (const row of this.rows) this.#number(row);
  }

  disconnectedCallback() {
    this.removeEventListener("click", this.#click);
    this.removeEventListener("change", this.#change);
  }

  get rows() {
    return [...this.querySelectorAll(":scope > .rows > .row")];
  }

  /** Makes sure that there are rows for the fields of a draft. */
  reach(numbers) {
    for (const n of numbers) {
      if (!this.querySelector(`[name^="${this.dataset.list}.${n}."]`)) this.#add(n);
    }
  }

  #number(row) {
    const field = row.querySelector("[name]");
    this.#next = Math.max(this.#next, Number(field.name.split(".")[1]) + 1);
  }

  #add(n = this.#next) {
    const row = this.querySelector("template").content.firstElementChild.cloneNode(true);
    for (const e of row.querySelectorAll("[name], [id], [for], [aria-describedby], [data-here]")) {
      for (const name of ["name", "id", "for", "aria-describedby"]) {
        const value = e.getAttribute(name);
        if (value) e.setAttribute(name, value.replace(".#.", `.${n}.`));
      }
    }
    this.querySelector(".rows").append(row);
    this.#next = Math.max(this.#next, n + 1);
    return row;
  }

  #click = (event) => {
    if (!event.target.closest("[data-add]")) return;
    const last = this.rows.at(-1);
    const row = this.#add();
    if (last) this.#carry(last, row);
    row.querySelector('[name$=".base"], input, select')?.focus();
  };

  #change = (event) => {
    if (!event.target.name?.endsWith(".base")) return;
    const rows = this.rows;
    const next = rows[rows.indexOf(event.target.closest(".row")) + 1];
    if (next) this.#carry(event.target.closest(".row"), next);
  };

  #carry(from, to) {
    const base = from.querySelector('[name$=".base"]');
    const top = to.querySelector('[name$=".top"]');
    if (base && top && top.value === "") top.value = base.value;
  }
});
