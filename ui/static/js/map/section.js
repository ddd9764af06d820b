// A section along a line drawn by hand: two places, by pointer or from the middle of the map.
import { Feature, fromLonLat, LineString, Point, toLonLat, VectorLayer, VectorSource } from "../../vendor/map.min.js";
import { show } from "./panel.js";
import { colours, siteStyle } from "./styles.js";

export function sectioning(map, panel, root, state) {
  const source = new VectorSource();
  map.addLayer(new VectorLayer({ source, style: siteStyle(colours()), zIndex: 10 }));
  const button = root.querySelector("[data-act=section]");
  const hint = root.querySelector(".atlas-hint");
  let taking = false;
  let points = [];

  function turn(on) {
    taking = on;
    points = [];
    source.clear();
    button.setAttribute("aria-pressed", String(on));
    root.classList.toggle("sectioning", on);
    hint.hidden = !on;
    hint.textContent = on ? hint.dataset.first : "";
  }

  function draw() {
    source.clear();
    for (const p of points) source.addFeature(new Feature(new Point(p)));
    if (points.length === 2) source.addFeature(new Feature(new LineString(points)));
  }

  function ask() {
    const [a, b] = points.map((p) => toLonLat(p).reverse().map((v) => v.toFixed(5)).join(","));
    const q = new URLSearchParams({ a, b, lang: state.lang }), drawn = new URLSearchParams(q);
    if (matchMedia("(max-width: 44rem)").matches) drawn.set("slim", "yes");
    state.line = [...a.split(","), ...b.split(",")].map(Number);
    state.at = null;
    state.write();
    const picture = document.createElement("img");
    picture.className = "section-picture";
    picture.alt = panel.dataset.section;
    picture.src = `/section.svg?${drawn}`;
    picture.addEventListener("load", () => panel.setAttribute("aria-busy", "false"));
    const link = document.createElement("a");
    link.className = "act";
    link.href = `/section?${q}`;
    link.textContent = panel.dataset.whole;
    const all = document.createDocumentFragment();
    all.append(picture, link);
    show(panel, all);
    panel.setAttribute("aria-busy", "true");
  }

  function point(coordinate) {
    points.push(coordinate);
    draw();
    hint.textContent = hint.dataset.second;
    if (points.length < 2) return;
    const both = points;
    turn(false);
    points = both;
    draw();
    ask();
  }

  button.addEventListener("click", () => turn(!taking));
  panel.addEventListener("close", () => {
    source.clear();
    state.line = null;
    state.write();
  });
  return {
    takes: () => taking,
    point,
    again: () => {
      const [lat1, lon1, lat2, lon2] = state.line;
      points = [fromLonLat([lon1, lat1]), fromLonLat([lon2, lat2])];
      draw();
      ask();
    },
  };
}
