// What the map shows, read from the address and written back to it.
import { toLonLat } from "../../vendor/map.min.js";

/** The fields that say which bores are meant; the server reads the same ones. */
export const meantFields = ["outcome", "method", "from", "to", "least", "most"];

const pair = (text) => {
  const numbers = (text ?? "").split(",").map(Number);
  return text && numbers.length > 1 && numbers.every(Number.isFinite) ? numbers : null;
};

const short = (v) => String(Math.round(v * 1e5) / 1e5);

export class State {
  #usual;

  /** @param {HTMLElement} root holds the layers that are usually shown, ticked */
  constructor(root) {
    const q = new URLSearchParams(location.search);
    this.lang = document.documentElement.lang;
    this.box = pair(q.get("box")); // degrees: west, south, east, north
    this.centre = pair(q.get("c")); // latitude, longitude
    this.zoom = Number(q.get("z")) || null;
    this.at = pair(q.get("p")); // the place asked about
    this.line = pair(q.get("line")); // latitude, longitude, latitude, longitude
    this.surface = q.get("s") ?? "";
    this.sure = q.get("sure") === "yes";
    this.by = q.get("m") ?? ""; // method of the surface; the best at each place where none
    this.aged = q.get("age") === "yes";
    this.#usual = [...root.querySelectorAll("[name=layer]:checked")].map((box) => box.value);
    this.shown = new Set(q.has("on") ? q.get("on").split(",") : this.#usual);
    this.meant = new URLSearchParams();
    for (const field of meantFields) for (const value of q.getAll(field)) if (value) this.meant.append(field, value);
  }

  /** Keeps where the map is. */
  moved(view) {
    const [lon, lat] = toLonLat(view.getCenter());
    this.centre = [lat, lon];
    this.zoom = view.getZoom();
    const [west, south, east, north] = view.calculateExtent();
    this.box = [...toLonLat([west, south]), ...toLonLat([east, north])];
    this.write();
  }

  /** The address of tiles or lists of the bores that are meant. */
  withMeant(path) {
    const q = this.meant.toString();
    return q ? `${path}?${q}` : path;
  }

  write() {
    const q = new URLSearchParams({ lang: this.lang });
    if (this.centre) q.set("c", this.centre.map(short).join(","));
    if (this.zoom) q.set("z", this.zoom.toFixed(2));
    if ([...this.shown].sort().join() !== [...this.#usual].sort().join()) q.set("on", [...this.shown].join(","));
    if (this.aged) q.set("age", "yes");
    if (this.surface) q.set("s", this.surface);
    if (this.surface && this.sure) q.set("sure", "yes");
    if (this.surface && this.by) q.set("m", this.by);
    if (this.at) q.set("p", this.at.map(short).join(","));
    if (this.line) q.set("line", this.line.map(short).join(","));
    for (const [field, value] of this.meant) q.append(field, value);
    history.replaceState(null, "", `${location.pathname}?${q}`);
    for (const link of document.querySelectorAll(".languages a")) {
      q.set("lang", link.lang);
      link.search = q;
    }
    for (const link of document.querySelectorAll("a.to-list")) {
      const list = new URLSearchParams([...this.meant, ["lang", this.lang]]);
      if (this.box) list.set("box", this.box.map(short).join(","));
      link.search = list;
    }
  }
}
