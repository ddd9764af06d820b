// The log of a hole that is finished, handed over as the record of a bore: nothing is
// typed twice. With a network the form of a bore opens with it; without one it waits on the
// phone and is sent as soon as there is one.
import { keepDraft, queue } from "../lib/outbox.js";
import { el } from "./parts.js";

const outcomes = ["producing", "low-yield", "bad-water", "dry", "refused", "collapsed", "failed"];
const patience = 4000; // milliseconds that the office has to answer

const today = () => {
  const now = new Date(), two = (n) => String(n).padStart(2, "0");
  return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
};

/** The fields of the form of a bore that a log fills, by name. */
export function fields({ pack, log }, id, outcome, on) {
  const out = [["id", id], ["since", "0"], ["at", `${pack.at.lat.toFixed(5)} ${pack.at.lon.toFixed(5)}`], ["place", pack.village ?? ""],
    ["method", log.method], ["completed", on], ["outcome", outcome], ["depth", String(log.depthM)]];
  if (log.refused) out.push(["refusal", String(log.depthM)]);
  log.layers.forEach((x, i) => {
    out.push([`layer.${i}.top`, String(x.topM)], [`layer.${i}.base`, String(x.baseM)], [`layer.${i}.class`, x.class]);
    if (x.minutesPerM > 0) out.push([`layer.${i}.minutes`, String(x.minutesPerM)]);
  });
  if (log.strikeM !== undefined) out.push(["strike.0.depth", String(log.strikeM)]);
  if (log.levelM < 0) out.push(["level.0.state", "flowing"], ["level.0.on", on]);
  else if (log.levelM !== undefined) out.push(["level.0.state", "rest"], ["level.0.depth", String(log.levelM)], ["level.0.on", on]);
  return out;
}

const answers = (address) => fetch(address, { method: "HEAD", cache: "no-store", signal: AbortSignal.timeout(patience) }).then(() => true, () => false);

/** The part of the page that hands over. name keeps the id that the record has from then on. */
export function handOver(hole, p, name) {
  const outcome = el("select", { id: "outcome" }, el("option", { value: "" }, p.say("hole.page.outcome-open")),
    ...outcomes.map((code) => el("option", { value: code, selected: code === "refused" && hole.log.refused === true }, p.say(`outcome.${code}`))));
  const told = el("p", { role: "status" });
  const act = async () => {
    const id = hole.record ?? name(crypto.randomUUID()), form = `/bores/new?${new URLSearchParams({ id, lang: document.documentElement.lang })}`;
    const filled = fields(hole, id, outcome.value, today());
    told.textContent = p.say("hole.page.handing");
    if (!keepDraft(`bore ${id}`, filled)) return void (told.textContent = p.say("hole.page.full"));
    if (await answers(form)) return location.assign(form);
    const label = hole.pack.village ?? id.slice(0, 8);
    const waits = queue(id, { address: "/bores", page: "/bores/new", label, body: new URLSearchParams(filled).toString() });
    told.textContent = p.say(waits ? "hole.page.waits" : "hole.page.full");
  };
  return el("section", { className: "part after entry" }, el("h2", {}, p.say("hole.page.hand-over")), el("p", {}, p.say("hole.page.hand-over.hint")),
    el("label", {}, el("span", {}, p.say("hole.page.outcome")), outcome),
    el("button", { type: "button", "data-hand-over": "", disabled: hole.log.depthM === 0, onclick: act }, p.say("hole.page.hand-over")), told);
}
