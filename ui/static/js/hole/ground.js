// What a log tells of ground and water, and what may lie below: the same, line by line, as
// advisor/livehole in the office. Rows are by class, cells half metres from the surface down.
export const cellM = 0.5;
export const middleM = (z) => (z + 0.5) * cellM;
export const sum = (xs) => xs.reduce((a, b) => a + b, 0);
export const gives = (pack, k) => pack.yield.cell[0][0][k] > 0;
export const within = (pack, z) => Math.min(Math.floor(z / pack.yield.every), pack.yield.cell[0].length - 1); // the range of depth of a cell
export const minutesOf = (m, k, z) => m.minutes[k] * (1 + m.slowerPerM * middleM(z));
export const ahead = [2, 4, 10], atLeastTwo = 2; // cells: 1, 2 and 5 m; the first bin of a body of two cells
export const together = (pack, body, t) => Math.min(body + t, Math.max((pack.screen.longestM / cellM) * t, body));
export const roofOf = (pack, design) => Math.max(0, Math.floor(Math.max(design, pack.screen.highestM) / cellM + 0.5));
const methodOf = (pack, log) => pack.methods.find((m) => m.code === log.method);
const row = (pack) => new Float64Array(pack.classes.length);
// Makes a row add up to 1 and returns what it added up to.
function scale(r) {
  const total = sum(r);
  for (let k = 0; total > 0 && k < r.length; k++) r[k] /= total;
  return total;
}
// Cuts a log into cells: names, one over the cells of each layer, minutes, the strike.
export function cut(pack, log) {
  const cells = Math.floor(log.depthM / cellM + 0.5);
  const h = { cells, named: Array(cells).fill(-1), share: Array(cells), minutes: Array(cells).fill(0), strike: -1 };
  for (const x of log.layers) for (let z = 0; z < cells; z++) {
    if (x.topM <= middleM(z) && middleM(z) < x.baseM) [h.named[z], h.minutes[z]] = [pack.classes.indexOf(x.class), x.minutesPerM ?? 0];
  }
  for (let z = 0, end = 0; z < cells; z = end) {
    while (end < cells && h.named[end] === h.named[z]) end++;
    h.share.fill(1 / (end - z), z, end);
  }
  if (log.strikeM !== undefined) h.strike = Math.max(0, Math.min(Math.floor(log.strikeM / cellM), cells - 1));
  return h;
}
export const binOf = ({ yield: { bins } }, t) => {
  const i = Math.max(0, Math.min(bins.findLastIndex((b) => b <= t), bins.length - 2));
  return { bin: atLeastTwo + i, part: Math.min(1, (t - bins[i]) / (bins[i + 1] - bins[i])) };
};
// The body at the bottom that would end its screen above a cell, by the names given.
export function bodyAt(pack, h, cell, roof, end) {
  let from = end, t = 0;
  while (from > roof && h.named[from - 1] >= 0 && gives(pack, h.named[from - 1])) from--;
  for (let z = from; z < end; z++) t = together(pack, t, cell[within(pack, z)][h.named[z]]);
  return { t, cells: end - from };
}
// One over the transmissivity needed where a screen's foot stands at the top of a cell.
export function enoughAt(pack, m, z, design) {
  const at = Math.min(Math.max((z * cellM - pack.screen.coverM - design) / cellM, 0), m.enough.length - 1), i = Math.min(Math.floor(at), m.enough.length - 2);
  return m.enough[i] + (at - i) * (m.enough[i + 1] - m.enough[i]);
}
// Unpacks the mixture: the logs close by, then the chain; a step of null goes on as above.
function columnsOf(pack) {
  const n = pack.classes.length, { share, first, knots, steps } = pack.chain, by = { share, first, steps: Array(pack.cells).fill(null) };
  for (let i = 0; i + 1 < knots.length; i++) for (let z = knots[i]; z <= knots[i + 1]; z++) {
    const part = (z - knots[i]) / (knots[i + 1] - knots[i]);
    (by.steps[z] = Array.from({ length: n }, (_, j) => row(pack).map((_, k) => steps[i][j * n + k] * (1 - part) + steps[i + 1][j * n + k] * part))).forEach(scale);
  }
  const logs = (pack.logs ?? []).map((log) => {
    const out = { share: log.share, first, steps: by.steps.slice() }, end = log.runs.at(-1)[2];
    log.runs.forEach(([k, from, to], i) => {
      const numbers = log.odds[i].values(), odds = Float64Array.from(pack.naming[k], (q) => (q > 0 ? numbers.next().value : 0));
      scale(odds);
      out.steps.fill(null, from, Math.min(to, pack.cells));
      if (from === 0) out.first = odds;
      else if (from < pack.cells) out.steps[from] = Array(n).fill(odds);
    });
    if (log.below && end < pack.cells) out.steps[end] = Array(n).fill(log.below);
    return out;
  });
  return [...logs, by];
}
function onward(column, z, above) {
  const below = new Float64Array(above.length);
  if (z === 0 || !column.steps[z]) return Float64Array.from(z === 0 ? column.first : above);
  for (let j = 0; j < above.length; j++) for (let k = 0; k < below.length; k++) below[k] += above[j] * column.steps[z][j][k];
  return below;
}
// How likely each class makes what each cell has shown, with the water at one level.
function seenOf(pack, log, h, level) {
  const m = methodOf(pack, log), w = pack.weights, today = pack.level.today[log.month - 1][level];
  return h.named.map((named, z) => row(pack).map((_, k) => {
    const off = h.minutes[z] > 0 ? Math.log(h.minutes[z] / minutesOf(m, k, z)) / w.paceSD : 0;
    let x = named < 0 ? 1 : Math.max(pack.naming[k][named], w.floor) ** (w.name * h.share[z]);
    if (h.minutes[z] > 0) x *= Math.max(Math.exp(-0.5 * w.pace * off * off), w.floor);
    if (m.cross[k] === 0) x *= w.slipped;
    if (z === h.strike) return x * (middleM(z) + cellM < today ? w.perched : pack.struck[k]);
    return middleM(z) > today && gives(pack, k) && (h.strike < 0 || z < h.strike) ? x * w.missed : x;
  }));
}
// Takes from the odds below the bottom what would not have refused the bit.
const stopped = (pack, log, below) => {
  methodOf(pack, log).cross.forEach((most, k) => { if (most >= pack.cells) below[k] *= pack.weights.slipped; });
  return scale(below);
};
// Reads a log and returns, for every level, its chance and what may lie below.
export function looksOf(pack, log, h) {
  const columns = columnsOf(pack), { low, today, sd } = pack.level, t = log.month - 1;
  const levels = low.map((_, i) => {
    const off = (log.levelM - today[t][i]) / sd[t][i], seen = seenOf(pack, log, h, i);
    const fits = log.levelM === undefined ? 1 : Math.max(Math.exp(-0.5 * off * off), pack.weights.read);
    return columns.map((column) => {
      let weight = column.share * fits, at = row(pack);
      seen.forEach((l, z) => { weight *= scale((at = onward(column, z, at).map((p, k) => p * l[k]))); });
      if (log.refused) weight *= stopped(pack, log, onward(column, h.cells, at));
      return { weight, at };
    });
  });
  const total = sum(levels.map((level) => sum(level.map((x) => x.weight))));
  return levels.map((level) => below(pack, log, h, columns, level, total));
}
// Leaves steps out that are hardly ever taken.
const likely = (pack, odds) => {
  const all = odds.slice(), total = scale(all), out = all.map((q) => (q < pack.weights.rare ? 0 : q));
  return total > 0 && scale(out) ? out : all;
};
// Pools the columns of one level into the chain that has their odds and their pairs.
function below(pack, log, h, columns, level, total) {
  const rows = (length) => Array.from({ length }, () => row(pack)), n = pack.classes.length, weight = sum(level.map((x) => x.weight)) / total;
  const out = { weight, bottom: row(pack), odds: rows(pack.cells), steps: Array.from({ length: pack.cells }, () => rows(n)) };
  columns.forEach((column, c) => {
    let w = level[c].weight / total / weight, { at } = level[c];
    at.forEach((p, k) => { out.bottom[k] += w * p; });
    for (let z = h.cells; z < pack.cells; z++) {
      const by = onward(column, z, at), next = by.slice(), known = z === h.cells && log.refused;
      if (known) stopped(pack, log, next);
      const towards = by.map((p, k) => (known && p !== 0 ? next[k] / p : 1));
      const q = (j, k) => (column.steps[z] ? column.steps[z][j][k] : +(j === k));
      for (let j = 0; z > 0 && j < n; j++) for (let k = 0; k < n; k++) out.steps[z][j][k] += w * at[j] * q(j, k) * towards[k];
      (at = next).forEach((p, k) => { out.odds[z][k] += w * p; });
    }
  });
  for (let z = h.cells; z < pack.cells; z++) out.steps[z] = out.steps[z].map((r) => likely(pack, z === 0 ? out.odds[0] : r));
  return out;
}
// Where water will be met: the first cell below it that lets it in.
export function waterAhead(pack, h, month, looks) {
  const levels = pack.level.today[month - 1], met = Array(pack.cells).fill(0), out = { met: h.strike >= 0, within: [0, 0, 0] };
  const upTo = (xs, share, all = 0) => xs.findIndex((x) => (all += x) >= share);
  out.restM = [0.1, 0.5, 0.9].map((share) => levels.at(upTo(looks.map((x) => x.weight), share)));
  if (out.met) return out;
  looks.forEach((look, i) => {
    for (let z = h.cells, at = look.bottom; z < pack.cells; z++) {
      const from = z === 0 ? look.odds[0] : onward(look, z, at);
      at = from.map((q, k) => (middleM(z) > levels[i] && gives(pack, k) ? 0 : q));
      met[z] += look.weight * (sum(from) - sum(at));
    }
  });
  out.within = ahead.map((cells) => sum(met.slice(h.cells, h.cells + cells)));
  [["p10M", 0.1], ["p50M", 0.5], ["p90M", 0.9]].forEach(([name, share]) => { const z = upTo(met, share); if (z >= 0) out[name] = middleM(z); });
  return out;
}
