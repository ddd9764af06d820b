// The parts of the page: what to do, the outlook, the entry.

/** Makes an element with properties and children; a child may be a string or nothing. */
export function el(tag, properties = {}, ...children) {
  const e = document.createElement(tag);
  for (const [name, value] of Object.entries(properties)) {
    if (name in e && name !== "list") e[name] = value;
    else e.setAttribute(name, value);
  }
  e.append(...children.filter((c) => c !== undefined && c !== null));
  return e;
}

/** Numbers and words in the page's language. */
export function speaker(words, language) {
  const number = (digits) => {
    const form = new Intl.NumberFormat(language, { maximumFractionDigits: digits, minimumFractionDigits: digits });
    return { format: (x) => form.format(x).replace("-", "\u2212").replace(/^\u2212(?=[0.,]*$)/, "") }; // no hyphen, no minus zero
  };
  const share = new Intl.NumberFormat(language, { style: "percent" });
  return {
    say: (code) => words[code] ?? code,
    head: (code) => `${words[code] ?? code}${language === "fr" ? "\u00a0" : ""}: `,
    percent: (p) => (p > 0 && p < 0.01 ? `<${share.format(0.01)}` : p > 0.99 && p < 1 ? `>${share.format(0.99)}` : share.format(p)),
    place: ({ lat, lon }) => {
      const part = (degrees, above, below) => `${number(5).format(Math.abs(degrees))}° ${words[`hole.page.${degrees < 0 ? below : above}`]}`;
      return [part(lat, "north", "south"), part(lon, "east", "west")].join(language === "en" ? ", " : "; ");
    },
    metres: (m) => `${number(1).format(m)}\u00a0m`,
    span(lo, hi) { // one length where both ends read the same; hi may be unknown
      const [a, b] = [this.metres(lo), hi === undefined ? "…" : this.metres(hi)];
      return a === b ? a : `${a}\u00a0–\u00a0\u2060${b}`;
    },
    whole: (x) => number(0).format(x),
    unit: (unit) => words[`hole.unit.${unit}`] ?? unit,
    amount(x, unit) { return `${this.whole(x)}\u00a0${this.unit(unit)}`; },
  };
}

const signs = { "hole.go-on": "go", "hole.complete": "go", "hole.change": "care", "hole.close": "avoid" };

/** What to do, with its reasons. */
export function advice(pack, { advice: a }, p) {
  const shown = ({ code, value }) => {
    if (code === "hole.because.refused") return el("li", {}, p.say(code));
    const money = ["gain", "here", "next", "over"].some((name) => code === `hole.because.${name}`);
    return el("li", {}, p.head(code), el("strong", {}, money ? p.amount(value, pack.costs.unit) : p.percent(value)));
  };
  return el("section", { className: `do ${signs[a.code]}` },
    el("h2", {}, p.say(a.code), a.code === "hole.change" ? `: ${p.say(`method.${a.method}`)}` : ""),
    el("ul", {}, ...a.because.map(shown)));
}

/** What going on with the method in use brings, and the chances by method. */
export function outlook(pack, log, answer, p) {
  const m = answer.methods.find((x) => x.method === log.method), w = answer.water, head = (words) => el("th", { scope: "col" }, words);
  const unit = p.unit(pack.costs.unit), columns = ["metres", "success", "cost", "gain"].map((c, i) => `${p.say(`hole.page.${c}`)}${i > 1 ? ` (${unit})` : ""}`);
  const cells = (...xs) => xs.map((x, i) => el("td", { "data-label": columns[i] }, x));
  const best = answer.methods.slice().sort((a, b) => b.chance - a.chance);
  return el("section", { className: "part outlook" },
    el("h2", {}, p.say("hole.page.if-on")),
    el("table", {},
      el("thead", {}, el("tr", {}, ...columns.map(head))),
      el("tbody", {}, ...m.more.map((x) => el("tr", {},
        ...cells(p.metres(x.metres), p.percent(x.chance), p.whole(x.cost), p.whole(x.gain)))))),
    el("p", {}, p.head("hole.page.plan-to"), el("strong", {}, p.metres(m.stopAtM))),
    w.met || w.p50M === undefined ? null : el("p", {}, p.head("hole.page.water"), el("strong", {}, p.metres(w.p50M)), ` (${p.span(w.p10M ?? w.p50M, w.p90M)})`),
    el("p", {}, p.head("hole.page.rest"), el("strong", {}, p.metres(w.restM[1])), ` (${p.span(w.restM[0], w.restM[2])})`),
    el("h2", {}, p.say("hole.page.by-method")),
    el("ul", { className: "bars" }, ...best.map((x) => el("li", {},
      el("span", {}, p.say(`method.${x.method}`)), el("meter", { min: 0, max: 1, value: x.chance, title: p.percent(x.chance) }), el("strong", {}, p.percent(x.chance))))));
}

const chosen = (name, options, value, act, className = "") => {
  const select = el("select", { ariaLabel: name, onchange: () => act(select.value) }, ...options.map(([v, text]) => el("option", { value: v, selected: String(v) === String(value) }, text)));
  return el("label", { className }, el("span", {}, name), select);
};

/** The entry: big buttons for what came up, and what else was seen. */
export function entry(pack, log, step, p, act) {
  const minutes = el("input", { type: "number", min: 1, max: 6000, inputMode: "numeric", id: "minutes" });
  const level = el("input", { type: "number", step: 0.1, min: -5, max: 60, inputMode: "decimal", id: "level", value: log.levelM ?? "" });
  const button = (code, run, name = "") => el("button", { type: "button", className: name, onclick: run }, p.say(code));
  return el("section", { className: "part entry" },
    el("h2", {}, `${p.say("hole.page.came-up")} ${p.span(log.depthM, log.depthM + step)}`),
    el("div", { className: "classes" }, ...pack.classes.map((name) => el("button", { type: "button", className: `class fill-${name}`, "data-class": name,
      disabled: log.depthM + step > pack.cells * pack.cellM, onclick: () => act.drilled(name, Number(minutes.value)) }, p.say(`class.${name}`)))),
    el("div", { className: "row" },
      chosen(p.say("hole.page.step"), [[0.5, p.metres(0.5)], [1, p.metres(1)]], step, (v) => act.step(Number(v))),
      el("label", {}, el("span", {}, p.say("hole.page.minutes")), minutes)),
    el("div", { className: "row" },
      button("hole.page.strike", act.strike, log.strikeM === undefined ? "" : "on"),
      button("hole.page.refused", act.refused, log.refused ? "on" : "")),
    el("div", { className: "row" },
      el("label", {}, el("span", {}, p.say("hole.page.level")), level),
      button("hole.page.set", () => level.value !== "" && act.level(Number(level.value)), "quiet")),
    el("div", { className: "row" },
      chosen(p.say("hole.page.method"), pack.methods.map((m) => [m.code, p.say(`method.${m.code}`)]), log.method, act.method, "whole"),
      chosen(p.say("hole.page.month"), act.months, log.month, (v) => act.month(Number(v)))),
    button("hole.page.undo", act.undo, "quiet"));
}
