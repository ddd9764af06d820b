// The sheet that the map is drawn on.
import { fromLonLat, interactions, Map, transformExtent, View } from "../../vendor/map.min.js";

/** @returns {number[]} an extent of the map from degrees: west, south, east, north */
export const extentOf = (box) => transformExtent(box, "EPSG:4326", "EPSG:3857");

/** @returns {number[]} degrees written as "west,south,east,north" */
export const boxOf = (text) => text.split(",").map(Number);

export function makeMap(root, state) {
  const view = new View({ center: [0, 0], zoom: 3, minZoom: 3, maxZoom: 18, enableRotation: false, smoothExtentConstraint: false });
  const target = root.querySelector(".atlas-sheet");
  const map = new Map({
    target, view, controls: [], pixelRatio: Math.min(devicePixelRatio, 2),
    interactions: interactions({ altShiftDragRotate: false, pinchRotate: false }),
  });
  whole(map, root, state);
  const centre = state.centre ?? state.at;
  if (centre) {
    view.setCenter(fromLonLat([centre[1], centre[0]]));
    view.setZoom(state.zoom ?? near);
  } else if (state.line) {
    const [lat1, lon1, lat2, lon2] = state.line;
    fit(map, [Math.min(lon1, lon2), Math.min(lat1, lat2), Math.max(lon1, lon2), Math.max(lat1, lat2)]);
  }
  return map;
}

const near = 12; // the zoom at which one place is shown, where the address names no other

const fit = (map, box) => map.getView().fit(extentOf(box), { size: map.getSize(), padding: [24, 16, 24, 16], maxZoom: 15 });

/** Shows the whole region, or the part of it that the address names. */
export function whole(map, root, state) {
  fit(map, state?.box?.length === 4 ? state.box : boxOf(root.dataset.extent));
}
