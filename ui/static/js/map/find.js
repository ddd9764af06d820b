// Search by name or by coordinates in any form that the server reads.
import { fromLonLat } from "../../vendor/map.min.js";

const near = 13; // the zoom at which a place found is shown

export function finding(form, map, ask) {
  const list = form.querySelector(".found");

  function go({ lat, lon }) {
    list.replaceChildren();
    const view = map.getView();
    view.setCenter(fromLonLat([lon, lat]));
    view.setZoom(Math.max(view.getZoom(), near));
    ask.place(lat, lon);
  }

  function choice(place) {
    const item = document.createElement("li");
    const button = document.createElement("button");
    button.type = "button";
    button.append(Object.assign(document.createElement("strong"), { textContent: place.name }), ` ${place.kind}`);
    button.addEventListener("click", () => go(place));
    item.append(button);
    return item;
  }

  form.addEventListener("submit", async (event) => {
    event.preventDefault();
    const q = new URLSearchParams({ q: new FormData(form).get("q"), lang: document.documentElement.lang });
    const answer = await fetch(`/find.json?${q}`).catch(() => null);
    const found = answer?.ok ? (await answer.json()).found : [];
    if (found.length === 1) return go(found[0]);
    list.replaceChildren(...found.map(choice));
    if (found.length === 0) list.append(Object.assign(document.createElement("li"), { textContent: form.dataset.none }));
  });
}
