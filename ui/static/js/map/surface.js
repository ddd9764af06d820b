// A surface over the land: chance, depths, evidence, each with how sure it is one tick away.
import { TileLayer, XYZ } from "../../vendor/map.min.js";

const every = 2500; // ms between looks while the server works tiles out

export function surfaces(root, state) {
  const form = root.querySelector(".atlas-surface");
  const layer = new TileLayer({ visible: false, opacity: 0.8 });
  if (!form) return layer;
  const key = form.querySelector(".surface-key");
  let timer = 0;
  let shown = "";

  const byMethod = () => ["chance", "refusal"].includes(state.surface); // water stands where it stands
  const ranged = () => state.surface !== "evidence"; // that is a count, known for sure

  const address = () => {
    const q = new URLSearchParams({ of: state.surface + (state.sure && ranged() ? "-range" : ""), lang: state.lang });
    if (state.by && byMethod()) q.set("method", state.by);
    return `/surface.json?${q}`;
  };

  function explain(legend) {
    const row = ({ colour, words }) => {
      const item = document.createElement("li");
      const swatch = document.createElement("span");
      swatch.className = "swatch";
      swatch.style.background = colour;
      item.append(swatch, words);
      return item;
    };
    const list = document.createElement("ul");
    list.append(...[...legend.classes, legend.few].map(row));
    const name = Object.assign(document.createElement("strong"), { textContent: legend.name });
    const meaning = Object.assign(document.createElement("p"), { textContent: legend.meaning });
    const progress = Object.assign(document.createElement("progress"), { max: legend.total || 1, value: legend.done });
    progress.ariaLabel = form.dataset.working;
    progress.hidden = legend.done >= legend.total;
    key.replaceChildren(name, list, meaning, progress);
  }

  async function look() {
    clearTimeout(timer);
    if (!state.surface) return;
    const answer = await fetch(address()).catch(() => null);
    if (!answer?.ok) return;
    const legend = await answer.json();
    const tiles = `${legend.tiles}${legend.tiles.includes("?") ? "&" : "?"}v=${legend.version}`;
    if (tiles !== shown) {
      const { least, most } = legend;
      if (layer.getSource()) layer.getSource().setUrl(tiles);
      else layer.setSource(new XYZ({ url: tiles, minZoom: least, maxZoom: most, transition: 0 }));
      shown = tiles;
    }
    explain(legend);
    timer = setTimeout(look, every);
  }

  function read() {
    const fields = new FormData(form);
    [state.surface, state.sure, state.by] = [fields.get("s"), fields.get("sure") === "yes", form.m?.value ?? ""];
    form.querySelector(".surface-more").hidden = !state.surface;
    form.sure.disabled = !ranged();
    if (form.m) form.m.disabled = !byMethod();
    layer.setVisible(state.surface !== "");
    state.write();
    look();
  }

  form.s.value = state.surface;
  form.sure.checked = state.sure;
  if (form.m) form.m.value = state.by;
  form.addEventListener("change", read);
  form.addEventListener("submit", (event) => event.preventDefault());
  if (state.surface) read();
  return layer;
}
