// The map: what it shows is in the address, so that a view can be kept and passed on.
import { asking } from "./map/ask.js";
import { controls } from "./map/controls.js";
import { finding } from "./map/find.js";
import { layersOf } from "./map/layers.js";
import { scaleBar } from "./map/scale.js";
import { sectioning } from "./map/section.js";
import { makeMap } from "./map/sheet.js";
import { loadSigns } from "./map/signs.js";
import { State } from "./map/state.js";

const root = document.querySelector(".atlas");

async function start() {
  const state = new State(root);
  const map = makeMap(root, state);
  const signs = await loadSigns();
  const layers = layersOf(root, state, signs);
  for (const layer of layers.all) map.addLayer(layer);
  const panel = root.querySelector(".atlas-answer");
  const ask = asking(map, panel, state);
  const section = sectioning(map, panel, root, state);
  map.on("singleclick", (event) => (section.takes() ? section.point(event.coordinate) : ask.at(event.coordinate)));
  map.getViewport().addEventListener("contextmenu", (event) => { // a long press
    event.preventDefault();
    ask.at(map.getEventCoordinate(event));
  });
  controls(root, map, state, layers, ask);
  finding(root.querySelector(".atlas-find"), map, ask);
  scaleBar(root.querySelector(".atlas-scale"), map);
  map.on("moveend", () => state.moved(map.getView()));
  map.once("rendercomplete", () => { root.dataset.ready = performance.now().toFixed(); });
  if (state.at) ask.again();
  if (state.line) section.again();
  root.map = map; // for whoever measures it
}

if (root) start();
