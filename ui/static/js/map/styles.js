// How things on the map are drawn. The colours are those of the style sheet.
import { Circle, Fill, Stroke, Style, Text } from "../../vendor/map.min.js";
import { ageOf, groupStyle } from "./signs.js";

/** The colours of the map in the present scheme. */
export function colours() {
  const style = getComputedStyle(document.documentElement);
  const of = (name) => style.getPropertyValue(`--map-${name}`).trim();
  return Object.fromEntries(["paper", "ink", "river", "stream", "boundary", "contour", "road", "good", "rest", "site"].map((name) => [name, of(name)]));
}

const kept = new Map();

// once makes a style when it is first asked for in one scheme.
function once(name, tones, make) {
  const key = `${name} ${tones.paper}`;
  if (!kept.has(key)) kept.set(key, make());
  return kept.get(key);
}

export function boreStyle(feature, signs, state, tones) {
  const n = feature.get("n");
  if (n) return groupStyle(n, feature.get("producing") ?? 0, tones);
  return signs(feature.get("outcome"), state.aged ? ageOf(feature.get("year")) : 0);
}

export function pointStyle(feature, signs, tones) {
  const n = feature.get("n");
  if (n) return groupStyle(n, feature.get("works") ?? 0, { ...tones, good: "#00796b" });
  const state = feature.get("state");
  return signs(state === "unknown" ? "unknown-point" : state);
}

const face = "system-ui, sans-serif";

function words(text, tones, weight = 600, size = 13, colour = tones.ink) {
  return new Text({
    text, font: `${weight} ${size}px ${face}`, fill: new Fill({ color: colour }),
    stroke: new Stroke({ color: tones.paper, width: 3.5 }), offsetY: -16,
  });
}

/** The name of a village, with how many others it stands for. */
export function nameStyle(feature, tones) {
  const more = feature.get("more");
  const label = more ? `${feature.get("name")} +${more}` : feature.get("name");
  return new Style({ text: words(label, tones) });
}

/** A place that others drew: a small ring with its name below. */
export function markStyle(feature, tones) {
  const ring = once("mark", tones, () => new Circle({ radius: 3.5, fill: new Fill({ color: tones.paper }), stroke: new Stroke({ color: tones.road, width: 2 }) }));
  const text = words(feature.get("name") ?? "", tones, 500, 11, tones.road);
  text.setOffsetY(13);
  return new Style({ image: ring, text });
}

const lines = {
  streams: (tones) => new Stroke({ color: tones.stream, width: 1, lineDash: [6, 3] }),
  rivers: (tones) => new Stroke({ color: tones.river, width: 2.4 }),
  roads: (tones) => new Stroke({ color: tones.road, width: 1.8 }),
  boundaries: (tones) => new Stroke({ color: tones.boundary, width: 1.6, lineDash: [10, 3, 2, 3] }),
};

export const lineStyle = (name, tones) => (lines[name] ? once(name, tones, () => new Style({ stroke: lines[name](tones) })) : undefined);

export function contourStyle(feature, tones) {
  const strong = feature.get("strong");
  if (!strong) return once("contour", tones, () => new Style({ stroke: new Stroke({ color: tones.contour, width: 0.7 }) }));
  const m = feature.get("m");
  return once(`contour ${m}`, tones, () => {
    const text = words(`${m} m`, tones, 500, 11, tones.contour);
    text.setPlacement("line");
    text.setOffsetY(0);
    return new Style({ stroke: new Stroke({ color: tones.contour, width: 1.4 }), text });
  });
}

/** The place asked about, and the ends of a line drawn by hand. */
export const siteStyle = (tones) => [
  new Style({ image: new Circle({ radius: 10, stroke: new Stroke({ color: "#ffffff", width: 5 }) }), stroke: new Stroke({ color: "#ffffff", width: 6 }) }),
  new Style({ image: new Circle({ radius: 10, stroke: new Stroke({ color: tones.site, width: 2.5 }), fill: new Fill({ color: "#ffffff01" }) }), stroke: new Stroke({ color: tones.site, width: 2.5 }) }),
  new Style({ image: new Circle({ radius: 2.5, fill: new Fill({ color: tones.site }) }) }),
];
