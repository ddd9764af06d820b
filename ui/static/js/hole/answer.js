// The answer beside an open hole: the dynamic program over depth, the best time to stop,
// what to do; the same, line by line, as advisor/livehole in the office.
import { ahead, atLeastTwo, binOf, bodyAt, cellM, cut, enoughAt, gives, looksOf, middleM, minutesOf, roofOf, sum, together, waterAhead, within } from "./ground.js";
const oneCell = 1, leastWeight = 1e-6, clearly = 0.05, priced = 0.05, nearby = 4;
// Numbers the states of a method's way down, in blocks of bins; states know their blocks that hold anything.
function groundOf(pack, m) {
  const g = { main: -1, crossed: 0, class: [], begins: [0], first: [], count: [] };
  m.cross.forEach((most, k) => { if (most < pack.cells && most > g.crossed) [g.main, g.crossed] = [k, most]; });
  m.cross.forEach((most, k) => {
    [g.first[k], g.count[k]] = [g.class.length, most < pack.cells && k !== g.main ? most : Math.min(most, 1)];
    for (let i = 0; i < g.count[k]; i++) g.class.push(k);
  });
  for (const k of g.class) for (let c = 0; c <= g.crossed; c++) g.begins.push(g.begins.at(-1) + (gives(pack, k) ? atLeastTwo + pack.yield.bins.length : 1));
  const onto = (from, at, k) => (k === from && m.cross[k] < pack.cells && k !== g.main ? at + 1 : g.first[k]);
  g.next = g.class.map((from, at) => m.cross.map((_, k) => (onto(from, at, k) === g.first[k] + g.count[k] ? -1 : onto(from, at, k))));
  g.empty = () => ({ p: new Float64Array(g.begins.at(-1)), live: [], has: new Uint8Array(g.begins.length) });
  g.clear = (s) => { for (const b of s.live) { s.has[b] = 0; for (let i = g.begins[b]; i < g.begins[b + 1]; i++) s.p[i] = 0; } s.live.length = 0; return s; };
  g.met = (s, all = 0) => { for (const b of s?.live ?? []) for (let i = g.begins[b]; i < g.begins[b + 1]; i++) all += s.p[i]; return all; };
  g.touch = (s, b) => { if (!s.has[b]) { s.has[b] = 1; s.live.push(b); } return g.begins[b]; };
  return g;
}
const put = (states, first, { bin, part }, p) => { states[first + bin] += p * (1 - part); states[first + bin + 1] += p * part; };
const bodiesOf = (pack) => pack.yield.cell.map((cell) => {
  const onto = (bodies, under) => bodies.map((body) => under.map((t) => binOf(pack, together(pack, body, t))));
  const join = cell.map((under) => onto(under, under)), across = cell.map((under, i) => onto(cell[Math.max(i - 1, 0)], under));
  return { cell, grow: cell.map((under) => onto(pack.yield.bins, under)), join, across };
});
// Lets a method go on below the bottom and returns, by depth, what happens over all members.
function drill(pack, m, h, month, looks) {
  const g = groundOf(pack, m), n = pack.classes.length, bodies = bodiesOf(pack), giving = pack.classes.map((_, k) => gives(pack, k));
  const rows = (width) => Array.from({ length: 2 * n }, () => (width ? new Float64Array(width) : 0)), per = g.crossed + 1;
  const flows = Array.from({ length: pack.cells + 1 }, () => ({ alive: rows(0), works: rows(0), cost: rows(0), on: rows(2 * n) }));
  const hours = Array.from({ length: pack.cells }, (_, z) => pack.classes.map((_, k) => (minutesOf(m, k, z) * cellM) / 60));
  const before = Math.min(h.named.filter((k) => k >= 0 && k === g.main).length, g.crossed);
  const cellsTo = (depth) => Math.max(0, Math.min(Math.floor(depth / cellM + 0.5), pack.cells)), deepest = cellsTo(m.maxDepthM);
  const spare = [g.empty(), g.empty()], room = [], other = (s) => g.clear(s === spare[0] ? spare[1] : spare[0]), roomAt = (z) => g.clear((room[z] ??= g.empty()));
  let x; // the member: look, today, roof, ready; in a band its bodies
  const step = (z, wet, from, to, struck) => {
    const by = within(pack, z), grow = x.bodies?.grow[by], joins = x.bodies?.[within(pack, z - 1) === by ? "join" : "across"][by], f = flows[z];
    for (const block of from.live) {
      const first = g.begins[block], end = g.begins[block + 1], ready = Math.min(first + x.ready[z], end);
      let at = Math.floor(block / per), j = g.class[at], r = wet + j, mass = 0, works = 0;
      for (let s = first; s < end; s++) mass += from.p[s];
      if (mass < pack.weights.least) continue;
      for (let s = ready; s < end; s++) works += from.p[s];
      f.alive[r] += mass;
      for (let k = 0, q; k < n; k++) {
        if ((q = x.look.steps[z][j][k]) === 0) continue;
        const next = g.next[at][k], after = (block % per) + (k === g.main), stops = next < 0 || after > g.crossed;
        f.cost[r] += mass * q * m.hourCost * (stops ? Math.min(hours[z][k], pack.costs.try) : hours[z][k]);
        if (stops) continue;
        const enters = wet === 0 && giving[k] && middleM(z) > x.today, into = enters ? struck : to, start = g.touch(into, next * per + after);
        f.works[r] += works * q;
        f.on[r][(enters ? n : wet) + k] += (mass - works) * q;
        if (wet === 0 || !giving[k] || z < x.roof) into.p[start + (giving[k] && z >= x.roof ? oneCell : 0)] += (mass - works) * q;
        else {
          into.p[start + oneCell] += from.p[first] * q;
          for (let s = first + 1; s < ready; s++) if (from.p[s] > 0) put(into.p, start, s - first === oneCell ? joins[j][k] : grow[s - first - atLeastTwo][k], from.p[s] * q);
        }
      }
    }
    return to;
  };
  const begin = (into) => {
    if (h.cells === 0) { into.p[g.touch(into, g.first[m.cross.findIndex((most) => most >= pack.cells)] * per)] = x.look.weight; return into; }
    const last = h.named.at(-1), run = h.cells - 1 - h.named.findLastIndex((k) => k !== last);
    const body = x.bodies ? bodyAt(pack, h, x.bodies.cell, x.roof, h.cells) : { t: 0, cells: 0 };
    x.look.bottom.forEach((p, k) => {
      if (g.count[k] === 0) return;
      const start = g.touch(into, (g.first[k] + Math.min(k === last ? run : 1, g.count[k]) - 1) * per + before);
      if (!giving[k] || body.cells <= 1) into.p[start + (giving[k] ? body.cells : 0)] += p * x.look.weight;
      else put(into.p, start, binOf(pack, body.t), p * x.look.weight);
    });
    return into;
  };
  const wet = (struck, from, to, limit) => {
    if (from === to && g.met(struck[from]) < pack.weights.least) return;
    for (let z = from, now = other(); z < limit; z++) {
      for (const b of (z <= to && struck[z]?.live) || []) for (let i = g.touch(now, b); i < g.begins[b + 1]; i++) now.p[i] += struck[z].p[i] / bodies.length;
      now = step(z, n, now, other(now));
    }
  };
  looks.forEach((look, i) => {
    if (look.weight < leastWeight) return;
    const design = pack.level.design[i], struck = [], bins = pack.yield.bins;
    const ready = hours.map((_, z) => atLeastTwo + ((bins.findIndex((t) => t * enoughAt(pack, m, z, design) >= 1) + 1 || bins.length + 1) - 1));
    x = { look, today: pack.level.today[month - 1][i], roof: roofOf(pack, design), ready };
    if (h.strike < 0) for (let z = h.cells, now = begin(other()); z < deepest; z++) now = step(z, 0, now, other(now), (struck[z + 1] = roomAt(z + 1)));
    for (x.bodies of bodies) {
      if (h.strike >= 0) struck[h.cells] = begin(roomAt(h.cells));
      if (m.belowWaterM >= m.maxDepthM) wet(struck, h.cells, deepest, deepest);
      else for (let z = h.cells, to; z < deepest; z = to + 1) {
        const limit = cellsTo(Math.max(x.today, (z === h.cells ? h.strike : z - 1) * cellM) + m.belowWaterM), most = Math.min(deepest, z + nearby);
        for (let mass = g.met(struck[(to = z)]); mass < pack.weights.apart * look.weight && to + 1 < most; mass += g.met(struck[to])) to++;
        wet(struck, z, to, Math.min(deepest, limit));
      }
    }
  });
  return flows;
}
// What so many cells more bring if the hole is closed after them.
function more(pack, m, flows, from, cells) {
  const all = (name) => sum(flows.slice(from, from + cells).map((f) => sum(f[name]))), chance = all("works"), cost = all("cost");
  return { metres: cells * cellM, chance, cost, gain: chance * (pack.costs.next - m.lineCost + pack.costs.close) - cost };
}
// What going on is worth when it stops at the best time, by what a crew can see.
function stopping(pack, m, flows, from) {
  const left = -pack.costs.close, prize = pack.costs.next - m.lineCost;
  let below = flows[0].alive.map(() => left);
  for (const f of flows.slice(from).reverse()) below = f.alive.map((alive, i) => {
    const on = f.on[i], rest = alive - f.works[i] - sum(on), goes = f.works[i] * prize - f.cost[i] + sum(on.map((p, k) => p * below[k]));
    return alive === 0 ? left : Math.max(left, (goes + rest * left) / alive);
  });
  return sum(flows[from].alive.map((p, i) => p * below[i])) + (1 - sum(flows[from].alive)) * left;
}
// The chance that the hole as it stands takes a screen that gives enough.
function readyNow(pack, m, h, looks) {
  const foot = h.cells - 1;
  if (h.strike < 0 || foot < 0) return 0;
  return sum(pack.yield.cell.map((cell) => sum(looks.map((look, i) => {
    const design = pack.level.design[i], { t, cells } = bodyAt(pack, h, cell, roofOf(pack, design), foot);
    return cells >= atLeastTwo && t * enoughAt(pack, m, foot, design) >= 1 ? look.weight / pack.yield.cell.length : 0;
  }))));
}
// What one method may still bring; one that does not get on brings nothing.
function outlook(pack, m, h, log, looks) {
  const depthM = h.cells * cellM, ready = readyNow(pack, m, h, looks), none = log.refused && m.code === log.method;
  const flows = drill(pack, m, h, log.month, none ? [] : looks), by = (cells) => more(pack, m, flows, h.cells, cells);
  let best = 0, stopAtM = depthM;
  for (let n = 1, gain; h.cells + n <= pack.cells; n++) if ((gain = by(n).gain) > best) [best, stopAtM] = [gain, depthM + n * cellM];
  return { method: m.code, chance: by(pack.cells).chance, cost: by(pack.cells).cost, ready, gain: none ? 0 : stopping(pack, m, flows, h.cells) + pack.costs.close, more: ahead.map(by), stopAtM };
}
// One thing to do, with its reasons.
function advise(pack, log, methods, water) {
  const use = pack.methods.findIndex((m) => m.code === log.method), m = pack.methods[use], now = methods[use], { next, close, try: hours } = pack.costs;
  const others = methods.map((x, i) => (i === use ? 0 : x.gain - pack.methods[i].setUpCost)), gain = Math.max(0, ...others), other = methods[others.indexOf(gain)];
  const tested = now.ready * (next - m.lineCost + close) - hours * m.hourCost, refused = log.refused && ["refused", 1];
  const say = (code, method, ...because) => ({ code, method, because: because.filter(Boolean).map(([name, value]) => ({ code: `hole.because.${name}`, value })) });
  if (now.ready >= pack.goFrom || (tested > 0 && tested >= Math.max(now.gain, gain))) return say("hole.complete", log.method, ["ready", now.ready]);
  if (gain > 0 && gain > now.gain + clearly * next) return say("hole.change", other.method, refused, ["other", other.chance], ["this", now.chance], ["over", gain - now.gain]);
  if (now.gain > 0) return say("hole.go-on", log.method, !water.met && ["water", water.within[1]], ["chance", now.chance], ["gain", now.gain]);
  return say("hole.close", log.method, refused, ["chance", now.chance], now.chance >= priced && ["here", now.cost / now.chance + m.lineCost - close], ["next", next]);
}
/** The answer of a pack to a log, both as described in advisor/livehole/fields.md. */
export function answer(pack, log) {
  const h = cut(pack, log), looks = looksOf(pack, log, h), water = waterAhead(pack, h, log.month, looks);
  const odds = looks[0].odds.slice(h.cells).map((r, z) => Array.from(r, (_, k) => sum(looks.map((look) => look.weight * look.odds[h.cells + z][k]))));
  const methods = pack.methods.map((m) => outlook(pack, m, h, log, looks));
  return { schema: "waterstrike.holeanswer.1", depthM: h.cells * cellM, odds, water, methods, advice: advise(pack, log, methods, water) };
}
