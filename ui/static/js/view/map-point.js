// The map: shows the place under the pointer, and a cross that the arrow keys move.
import { placeAt, written } from "../lib/frame.js";

const step = 4; // CSS pixels for each press of an arrow key

const moves = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };

customElements.define("map-point", class extends HTMLElement {
  #x = 0;
  #y = 0;
  #cross = null;
  #reading = null;

  connectedCallback() {
    this.addEventListener("pointermove", this.#point);
    this.addEventListener("pointerleave", this.#leave);
    this.addEventListener("keydown", this.#key);
    this.addEventListener("click", this.#click);
  }

  disconnectedCallback() {
    this.removeEventListener("pointermove", this.#point);
    this.removeEventListener("pointerleave", this.#leave);
    this.removeEventListener("keydown", this.#key);
    this.removeEventListener("click", this.#click);
  }

  #point = (event) => {
    const box = event.target.getBoundingClientRect();
    this.#show(event.clientX - box.left, event.clientY - box.top, box.width);
  };

  #leave = () => {
    this.#reading?.remove();
    this.#reading = null;
  };

  #key = (event) => {
    const size = event.target.width;
    if (!(event.key in moves)) return;
    event.preventDefault();
    if (!this.#cross) {
      this.#x = this.#y = size / 2;
      this.#cross = this.#add("div", "cross");
    }
    const [dx, dy] = moves[event.key];
    const far = event.shiftKey ? 10 : 1;
    this.#x = Math.min(Math.max(this.#x + dx * step * far, 0), size);
    this.#y = Math.min(Math.max(this.#y + dy * step * far, 0), size);
    this.#cross.style.left = `${this.#x}px`;
    this.#cross.style.top = `${this.#y}px`;
    this.#show(this.#x, this.#y, size);
  };

  // Enter makes a click without a place: it asks at the cross.
  #click = (event) => {
    if (event.detail !== 0 || !this.#cross) return;
    event.preventDefault();
    const form = event.target.form;
    for (const [axis, value] of [["x", this.#x], ["y", this.#y]]) {
      const input = document.createElement("input");
      input.type = "hidden";
      input.name = `${event.target.name}.${axis}`;
      input.value = Math.round(value);
      form.append(input);
    }
    form.submit();
  };

  #show(x, y, size) {
    this.#reading ??= this.#add("output", "reading");
    const { west, east, north, south } = this.dataset;
    const edges = { west: +west, east: +east, north: +north, south: +south };
    this.#reading.textContent = written(placeAt(edges, x / size, y / size), document.documentElement.lang);
  }

  #add(tag, name) {
    const element = document.createElement(tag);
    element.className = name;
    this.append(element);
    return element;
  }
});
