// A long form filled in the field: what is written is kept in the browser at once, looked
// over by the server's rules while a connection lasts, and sent until it has arrived.
import { draft, drop, dropDraft, flush, keepDraft, queue, send, waiting } from "../lib/outbox.js";

const pauseMS = 900; // after the last key before the rules are asked

customElements.define("entry-form", class extends HTMLElement {
  #timer = 0;
  #asked = 0;

  connectedCallback() {
    this.#restore();
    this.form.addEventListener("input", this.#written);
    this.form.addEventListener("submit", this.#submit);
    this.form.addEventListener("click", this.#here);
    addEventListener("online", this.#flush);
    this.#flush();
  }

  disconnectedCallback() {
    removeEventListener("online", this.#flush);
    clearTimeout(this.#timer);
  }

  get form() {
    return this.querySelector("form");
  }

  #say(word) {
    return this.getAttribute(`data-say-${word}`) ?? "";
  }

  get #body() {
    return new URLSearchParams(new FormData(this.form)).toString();
  }

  #restore() {
    const kept = draft(this.dataset.draft);
    if (!kept || this.form.querySelector('[role="alert"]')) return; // shown again by the server as it was sent
    this.#fill(kept.fields);
    this.#tell(this.#say("restored"), [[this.#say("anew"), () => {
      dropDraft(this.dataset.draft);
      location.reload();
    }]]);
  }

  #fill(fields) {
    for (const list of this.querySelectorAll("entry-rows")) {
      const mine = fields.map(([name]) => name.split(".")).filter(([kind, n, rest]) => kind === list.dataset.list && rest);
      list.reach(new Set(mine.map(([, n]) => Number(n))));
    }
    for (const e of this.form.querySelectorAll('[type="checkbox"]')) e.checked = false;
    for (const [name, value] of fields) {
      const e = this.form.elements[name];
      if (!e) continue;
      if (e.type === "checkbox") e.checked = true;
      else e.value = value;
      e.closest("details")?.setAttribute("open", value ? "" : e.closest("details").open);
    }
  }

  #written = () => {
    const kept = keepDraft(this.dataset.draft, [...new FormData(this.form)]);
    this.querySelector(".kept").textContent = this.#say(kept ? "kept" : "lost");
    clearTimeout(this.#timer);
    this.#timer = setTimeout(() => this.#check(), pauseMS);
  };

  async #check() {
    if (!this.dataset.check) return;
    const mine = ++this.#asked;
    const headers = { "Content-Type": "application/x-www-form-urlencoded", Accept: "application/json" };
    const answer = await fetch(this.dataset.check, { method: "POST", headers, body: this.#body }).catch(() => null);
    if (!answer?.ok || mine !== this.#asked) return;
    const { faults = [], issues = [] } = await answer.json();
    const card = this.querySelector(".findings");
    const lines = [...faults, ...issues].map((f) => {
      const li = document.createElement("li");
      li.className = f.severity ?? "fault";
      li.textContent = f.words;
      return li;
    });
    card.hidden = false;
    card.querySelector("ul").replaceChildren(...lines);
    if (lines.length === 0) card.querySelector("ul").append(this.#say("fine"));
  }

  // Where the browser keeps nothing the form is sent as any other.
  #submit = async (event) => {
    const id = this.form.elements.id.value;
    const label = ["code", "name", "place"].map((n) => this.form.elements[n]?.value).find(Boolean) ?? id.slice(0, 8);
    const one = { address: this.form.getAttribute("action"), page: location.pathname, label, body: this.#body };
    if (!queue(id, one)) return;
    event.preventDefault();
    this.querySelector(".kept").textContent = this.#say("sending");
    this.#settle({ id, ...one }, await send({ id, ...one }));
  };

  #settle(one, { address, refused, status }) {
    this.querySelector(".kept").textContent = "";
    if (address) {
      dropDraft(this.dataset.draft);
      location.assign(`${address}?saved`);
      return;
    }
    if (refused) {
      drop(one.id);
      this.#tell(`${this.#say("refused")} ${refused}`);
      this.#check();
      return;
    }
    dropDraft(this.dataset.draft); // it waits to be sent, under its own name
    this.#tell(`${this.#say(status === 401 ? "out" : "waiting")}`, [[this.#say("anew"), () => location.assign("/bores/new")]]);
  }

  #flush = async () => {
    await flush((one, told) => told.address && this.#tell(`${this.#say("arrived")} ${one.label}`));
    const left = waiting();
    if (left.length > 0) this.#tell(`${this.#say("waiting")} ${left.map((one) => one.label).join(", ")}`);
  };

  #tell(words, acts = []) {
    const box = this.querySelector(".outbox");
    box.hidden = false;
    box.textContent = words;
    for (const [name, act] of acts) {
      const button = document.createElement("button");
      button.type = "button";
      button.className = "quiet";
      button.textContent = name;
      button.addEventListener("click", act);
      box.append(" ", button);
    }
    box.scrollIntoView({ block: "nearest" });
  }

  #here = (event) => {
    const button = event.target.closest("[data-here]");
    if (!button) return;
    const field = document.getElementById(button.dataset.here);
    navigator.geolocation?.getCurrentPosition(
      ({ coords }) => {
        field.value = `${coords.latitude.toFixed(5)} ${coords.longitude.toFixed(5)}`;
        field.dispatchEvent(new Event("input", { bubbles: true }));
      },
      () => this.#tell(this.#say("nowhere")),
      { enableHighAccuracy: true, timeout: 30000 },
    );
  };
});
