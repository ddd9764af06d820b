/**
 * The field that files are handed in by: files may be dropped anywhere on it, are listed
 * before they are sent, and too many or too large ones are not sent at all.
 */
customElements.define("hand-in", class extends HTMLElement {
  #input = null;
  #list = null;
  #told = null;
  #button = null;

  connectedCallback() {
    this.#input = this.querySelector("input");
    this.#list = this.querySelector(".picked");
    this.#told = this.querySelector(".told");
    this.#button = this.querySelector("button");
    this.#input.addEventListener("change", () => this.#show());
    this.addEventListener("dragover", (event) => this.#over(event));
    this.addEventListener("dragleave", () => this.classList.remove("over"));
    this.addEventListener("drop", (event) => this.#drop(event));
    this.closest("form").addEventListener("submit", () => this.#sending());
    addEventListener("pageshow", () => (this.#button.disabled = false)); // come back to by the browser's own way
    this.#show(); // a browser that comes back keeps what was picked
  }

  #over(event) {
    event.preventDefault();
    this.classList.add("over");
  }

  #drop(event) {
    event.preventDefault();
    this.classList.remove("over");
    if (event.dataTransfer.files.length === 0) return;
    this.#input.files = event.dataTransfer.files;
    this.#show();
  }

  #show() {
    const files = [...this.#input.files];
    this.#list.replaceChildren(...files.map((file) => line(file)));
    this.#list.hidden = files.length === 0;
    const wrong = this.#wrong(files);
    this.#input.setCustomValidity(wrong);
    this.#told.textContent = wrong;
  }

  #wrong(files) {
    if (files.length > Number(this.dataset.files)) return this.dataset.tooMany;
    const bytes = files.reduce((sum, file) => sum + file.size, 0);
    return bytes > Number(this.dataset.bytes) ? this.dataset.tooLarge : "";
  }

  #sending() {
    this.#told.textContent = this.dataset.sending;
    setTimeout(() => (this.#button.disabled = true)); // after the form was read
  }
});

function line(file) {
  const item = document.createElement("li");
  const size = new Intl.NumberFormat(document.documentElement.lang, { maximumSignificantDigits: 3 });
  const [n, unit] = file.size < 1e6 ? [file.size / 1e3, "kB"] : [file.size / 1e6, "MB"];
  item.textContent = `${file.name} (${size.format(n)} ${unit})`;
  return item;
}
