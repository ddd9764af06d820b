// A click or long press asks for the short answer at that place.
import { Feature, fromLonLat, Point, toLonLat, VectorLayer, VectorSource } from "../../vendor/map.min.js";
import { failed, show } from "./panel.js";
import { colours, siteStyle } from "./styles.js";

export function asking(map, panel, state) {
  const source = new VectorSource();
  map.addLayer(new VectorLayer({ source, style: siteStyle(colours()), zIndex: 10 }));
  let former = null;

  async function load(lat, lon) {
    former?.abort();
    former = new AbortController();
    const { signal } = former;
    show(panel, null);
    const q = new URLSearchParams({ lat: lat.toFixed(5), lon: lon.toFixed(5), lang: state.lang });
    try {
      const answer = await fetch(`/spot?${q}`, { signal, headers: { Accept: "application/problem+json, */*" } });
      show(panel, answer.ok ? await answer.text() : failed((await answer.json()).detail));
    } catch (reason) {
      if (!signal.aborted) show(panel, failed(panel.dataset.failed));
    }
  }

  function mark(lat, lon) {
    state.at = [lat, lon];
    state.line = null;
    state.write();
    source.clear();
    source.addFeature(new Feature(new Point(fromLonLat([lon, lat]))));
    return load(lat, lon);
  }

  panel.addEventListener("close", () => {
    source.clear();
    state.at = null;
    state.write();
  });
  return {
    at: (coordinate) => mark(...toLonLat(coordinate).reverse()),
    place: mark,
    again: () => mark(...state.at),
    clear: () => source.clear(),
  };
}
