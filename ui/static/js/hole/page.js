// The page beside an open hole. Everything that is entered is kept on the phone at once;
// the answer is made on it too, so that no network is needed.
import { answer } from "./answer.js";
import { drawing } from "./draw.js";
import { advice, el, entry, outlook, speaker } from "./parts.js";
import { handOver } from "./record.js";
import { wholeChoices } from "../lib/whole-choice.js";
import { download, drilled, empty, kept, keyOf, load, remove, save } from "./store.js";

const monthCodes = ["january", "february", "march", "april", "may", "june", "july", "august", "september", "october", "november", "december"];

class OpenHole extends HTMLElement {
  #p = null;
  #key = "";
  #hole = null; // { pack, log, past }
  #answer = null;
  #timer = 0;
  #step = 1;
  #note = "";

  connectedCallback() {
    this.#p = speaker(JSON.parse(this.dataset.words), document.documentElement.lang);
    navigator.serviceWorker?.register("/hole/keeper.js", { scope: "/hole" }).catch(() => {}); // without it the page works, with a network
    wholeChoices(this);
    this.#open();
  }

  disconnectedCallback() {
    clearTimeout(this.#timer);
  }

  // The site that the address asks for: its pack anew where there is a network, the log as it
  // is kept; else the holes that are kept.
  async #open() {
    const query = new URLSearchParams(location.search);
    query.delete("lang");
    const asked = String(query);
    const key = new URLSearchParams(location.hash.slice(1)).get("hole");
    if (key && load(key)) return this.#take(key, load(key));
    if (!asked) return this.#list();
    this.replaceChildren(el("p", { className: "part" }, this.#p.say("hole.page.loading")));
    try {
      const response = await fetch(`/hole/pack.json${location.search}`, { headers: { Accept: "application/json" } });
      const body = await response.json();
      if (!response.ok) return this.#list(`${this.#p.say("hole.page.failed")} ${body.detail ?? body.title ?? response.status}`);
      const at = keyOf(body.at), before = load(at);
      this.#take(at, { log: empty(body), past: [], ...before, pack: body, asked });
    } catch {
      const same = kept().find(([, hole]) => hole.asked === asked);
      if (same) this.#take(...same);
      else this.#list(this.#p.say("hole.page.offline"));
    }
  }

  #list(why) {
    const { say, metres } = this.#p, holes = kept();
    this.replaceChildren(...(why ? [el("p", { className: "part notice", role: "status" }, why)] : []), el("section", { className: "part" },
      el("h2", {}, say("hole.page.sites")),
      holes.length === 0 ? el("p", {}, say("hole.page.no-site")) : el("ul", { className: "sites" }, ...holes.map(([key, hole]) => el("li", {},
        el("button", { type: "button", onclick: () => this.#take(key, hole) }, `${hole.pack.village ?? key.split(":")[1]}: ${metres(hole.log.depthM)}`))))));
  }

  #take(key, hole) {
    [this.#key, this.#hole, this.#answer] = [key, hole, null];
    history.replaceState(null, "", `${location.pathname}${location.search}#${new URLSearchParams({ hole: key })}`);
    this.#keep();
  }

  // Keeps what there is, shows it and asks.
  #keep() {
    this.#note = save(this.#key, this.#hole) ? "" : this.#p.say("hole.page.full");
    this.#show();
    clearTimeout(this.#timer); // taps in a row are answered once
    this.#timer = setTimeout(this.#ask, 120); // milliseconds: the page is painted first
  }

  #ask = () => {
    this.#answer = answer(this.#hole.pack, this.#hole.log);
    this.#show();
  };

  #write(log) {
    this.#hole = { ...this.#hole, log, past: [...this.#hole.past, this.#hole.log].slice(-200) };
    this.#answer = null;
    this.#keep();
  }

  #acts() {
    const { log, past, pack } = this.#hole, change = (fields) => this.#write({ ...log, ...fields });
    return {
      months: monthCodes.map((code, i) => [i + 1, this.#p.say(`month.${code}`)]),
      drilled: (name, minutes) => this.#write(drilled(log, name, this.#step, minutes > 0 ? minutes : undefined)),
      step: (metres) => { this.#step = metres; this.#show(); },
      strike: () => {
        const { strikeM, ...dry } = log;
        this.#write(strikeM === undefined ? { ...log, strikeM: Math.max(0, log.depthM - pack.cellM / 2) } : dry);
      },
      refused: () => {
        const { refused, ...goes } = log;
        this.#write(refused ? goes : { ...log, refused: true });
      },
      level: (levelM) => { if (levelM <= log.depthM) change({ levelM }); },
      method: (method) => {
        const { refused, ...goes } = log;
        this.#write({ ...goes, method });
      },
      month: (month) => change({ month }),
      undo: () => {
        if (past.length === 0) return;
        this.#hole = { ...this.#hole, log: past.at(-1), past: past.slice(0, -1) };
        this.#answer = null;
        this.#keep();
      },
    };
  }

  #show() {
    const { pack, log } = this.#hole, p = this.#p, a = this.#answer, focus = document.activeElement?.dataset?.class;
    const where = `${pack.village ? `${pack.village}, ` : ""}${p.place(pack.at)}`;
    this.replaceChildren(
      el("p", { className: "asked" }, where),
      el("div", { className: "hole", "aria-busy": String(!a) },
        el("div", { className: "col" },
          el("div", { role: "status" }, a ? advice(pack, a, p) : el("section", { className: "do" }, el("h2", {}, p.say("hole.page.thinking")))),
          this.#note && el("p", { className: "part notice" }, this.#note),
          entry(pack, log, this.#step, p, this.#acts())),
        el("figure", { className: "part drawing" }, drawing(pack, log, a, p), el("figcaption", {}, p.say("hole.page.drawing"))),
        el("div", { className: "col" }, a ? outlook(pack, log, a, p) : null, handOver(this.#hole, p, this.#name), this.#after())));
    if (focus) this.querySelector(`[data-class="${focus}"]`)?.focus({ preventScroll: true });
  }

  // The id that the record of this hole has in the office; handed over again it is the same.
  #name = (record) => {
    this.#hole = { ...this.#hole, record };
    save(this.#key, this.#hole);
    return record;
  };

  #after() {
    const p = this.#p, anew = el("button", { type: "button", className: "quiet", onclick: () => {
      if (anew.dataset.sure) { clearTimeout(this.#timer); remove(this.#key); this.#hole = null; history.replaceState(null, "", location.pathname); this.#list(); return; }
      anew.dataset.sure = "yes";
      anew.textContent = p.say("hole.page.sure");
    } }, p.say("hole.page.anew"));
    const keep = el("button", { type: "button", onclick: () => { download(this.#hole); keep.textContent = p.say("hole.page.kept"); } }, p.say("hole.page.keep"));
    return el("section", { className: "part after" }, el("p", {}, p.say("hole.page.lead")), el("p", {}, p.say("hole.page.careful")), keep, anew);
  }
}

customElements.define("open-hole", OpenHole);
