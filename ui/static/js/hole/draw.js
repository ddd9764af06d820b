// The hole in a drawing: down to its bottom as it was named, below that the odds of what
// comes, each class as wide as it is likely.
const space = "http://www.w3.org/2000/svg";
const left = 34, wide = 236, right = 50, perM = 22, marginM = 0.4;

function shape(tag, attributes, text) {
  const e = document.createElementNS(space, tag);
  for (const [name, value] of Object.entries(attributes)) e.setAttribute(name, value);
  if (text !== undefined) e.textContent = text;
  return e;
}

const label = (x, y, text, end = "start", name = "ground") => shape("text", { x, y, "text-anchor": end, class: name }, text);
const y = (m) => (m + marginM) * perM;

function layers(svg, log, say) {
  for (const l of log.layers) {
    svg.append(shape("rect", { x: left, y: y(l.topM), width: wide, height: (l.baseM - l.topM) * perM, class: `fill-${l.class}` }));
    svg.append(label(left + 6, y((l.topM + l.baseM) / 2) + 4, say(`class.${l.class}`)));
  }
}

function odds(svg, pack, answer, toM, say, percent) {
  let run = null;
  const close = (baseM) => {
    if (run && baseM - run.topM >= 0.75) svg.append(label(left + 6, y((run.topM + baseM) / 2) + 4, `${say(`class.${pack.classes[run.k]}`)} ${percent(run.p)}`));
  };
  answer.odds.forEach((row, i) => {
    const topM = answer.depthM + i * pack.cellM;
    if (topM >= toM) return;
    let x = left;
    row.forEach((p, k) => {
      svg.append(shape("rect", { x, y: y(topM), width: p * wide, height: pack.cellM * perM, class: `fill-${pack.classes[k]} odds` }));
      x += p * wide;
    });
    const k = row.indexOf(Math.max(...row));
    if (run?.k !== k) { close(topM); run = { k, topM, p: row[k] }; }
  });
  close(toM);
}

function water(svg, log, answer, toM, metres) {
  const [p10, p50, p90] = answer.water.restM, at = log.levelM ?? p50;
  if (log.levelM === undefined) svg.append(shape("rect", { x: left + wide, y: y(Math.max(p10, -marginM)), width: 8, height: (Math.min(p90, toM) - Math.max(p10, -marginM)) * perM, class: "water-range" }));
  if (at > toM) return;
  svg.append(shape("line", { x1: left, x2: left + wide + 8, y1: y(Math.max(at, -marginM)), y2: y(Math.max(at, -marginM)), class: "water" }));
  svg.append(label(left + wide + 11, y(Math.max(at, 0)) + 4, metres(at), "start", "water-depth"));
  if (log.strikeM !== undefined) svg.append(shape("path", { d: `M${left - 9} ${y(log.strikeM) - 5} l9 5 l-9 5 z`, class: "strike" }));
}

/** @returns {SVGElement} */
export function drawing(pack, log, answer, { say, percent, metres }) {
  const toM = Math.min(pack.cells * pack.cellM, Math.max(log.depthM + 6, 10));
  const svg = shape("svg", { viewBox: `0 0 ${left + wide + right} ${y(toM) + 8}`, role: "img", "aria-label": say("hole.page.drawing") });
  layers(svg, log, say);
  if (answer) odds(svg, pack, answer, toM, say, percent);
  for (let m = 0; m <= toM; m++) svg.append(shape("line", { x1: left - 5, x2: left, y1: y(m), y2: y(m), class: "tick" }), label(left - 8, y(m) + 4, String(m), "end", "depth"));
  svg.append(shape("line", { x1: 0, x2: left + wide + right, y1: y(log.depthM), y2: y(log.depthM), class: "bottom-line" }));
  if (answer) water(svg, log, answer, toM, metres);
  return svg;
}
