// The layers of the map, from the bottom to the top.
import { MVT, TileLayer, VectorTileLayer, VectorTileSource, XYZ } from "../../vendor/map.min.js";
import { boxOf, extentOf } from "./sheet.js";
import { surfaces } from "./surface.js";
import { boreStyle, colours, contourStyle, lineStyle, markStyle, nameStyle, pointStyle } from "./styles.js";

const deepest = 14; // tiles are made down to this zoom

const tiles = (url, kept) => new VectorTileSource({ format: new MVT({ layers: kept }), url, maxZoom: deepest });

const vector = (source, style, options = {}) => new VectorTileLayer({ source, style, renderBuffer: 64, ...options });
const noLines = { renderMode: "vector" }; // signs and names alone: without it an empty picture of each tile would be laid over the map whenever it moves

function picture(url, box, options = {}) {
  const { least = 0, most = deepest, ...rest } = options;
  const source = new XYZ({ url, minZoom: least, maxZoom: most, transition: 0 });
  return new TileLayer({ source, extent: extentOf(boxOf(box)), ...rest });
}

/** The pictures of others that lie in the data folder, each with its own tick box. */
function charts(root) {
  const found = [...root.querySelectorAll("[name=layer][data-chart]")].map((box) => {
    const { chart, extent, least, most } = box.dataset;
    return [box.value, picture(`/tiles/charts/${chart}/{z}/{x}/{y}`, extent, { least: +least, most: +most })];
  });
  return Object.fromEntries(found);
}

/**
 * @returns {{all: object[], show: () => void, refilter: () => void, restyle: () => void}}
 * the layers, with what brings them up to the state
 */
export function layersOf(root, state, signs) {
  let tones = colours();
  const named = charts(root);
  const surface = surfaces(root, state);
  const { relief } = root.dataset;
  if (relief) {
    named.shade = picture("/tiles/shade/{z}/{x}/{y}", relief, { least: 5 });
    named.contours = vector(tiles("/tiles/contours/{z}/{x}/{y}", ["contours"]), (f) => contourStyle(f, tones), { extent: extentOf(boxOf(relief)), minZoom: 9 });
  }
  const source = tiles("/tiles/places/{z}/{x}/{y}"); // one for all of these, so that each tile comes once
  // Kinds that lie at one height share a layer: each layer costs time whenever the map moves.
  const places = (styles, options) => vector(source, (f) => (state.shown.has(f.get("layer")) ? styles(f.get("layer"), f) : undefined), options);
  const lines = places((of) => lineStyle(of, tones));
  const spots = places((of, f) => ({ points: pointStyle, villages: () => signs("village") })[of]?.(f, signs, tones), noLines);
  const names = places((of, f) => ({ villages: nameStyle, marks: markStyle })[of]?.(f, tones), { ...noLines, declutter: true }); // over all signs, which lie over the houses
  named.bores = vector(tiles(state.withMeant("/tiles/bores/{z}/{x}/{y}"), ["bores", "groups"]), (f) => boreStyle(f, signs, state, tones), noLines);
  const { shade, contours, bores, ...charted } = named, shared = [lines, spots, names];
  const all = [...Object.values(charted), surface, shade, contours, lines, spots, bores, names].filter(Boolean);
  const show = () => {
    Object.entries(named).forEach(([name, layer]) => layer.setVisible(state.shown.has(name)));
    shared.forEach((layer) => layer.changed());
  };
  show();
  matchMedia("(prefers-color-scheme: dark)").addEventListener("change", () => {
    tones = colours();
    [...shared, ...Object.values(named)].forEach((layer) => layer.changed());
  });
  return {
    all, show,
    refilter: () => named.bores.getSource().setUrl(state.withMeant("/tiles/bores/{z}/{x}/{y}")),
    restyle: () => named.bores.changed(),
  };
}
