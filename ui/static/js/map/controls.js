// The buttons, ticks and fields beside the map.
import { close } from "./panel.js";
import { whole } from "./sheet.js";
import { meantFields } from "./state.js";

export function controls(root, map, state, layers, ask) {
  const view = map.getView();
  const acts = {
    closer: () => view.animate({ zoom: view.getZoom() + 1, duration: 150 }),
    farther: () => view.animate({ zoom: view.getZoom() - 1, duration: 150 }),
    whole: () => whole(map, root),
    close: () => close(root.querySelector(".atlas-answer")),
  };
  for (const button of root.querySelectorAll("[data-act]")) {
    const act = acts[button.dataset.act];
    if (act) button.addEventListener("click", act);
  }
  ticks(root, state, layers);
  meant(root.querySelector(".atlas-meant"), state, layers);
  // Enter asks in the middle of the map, where its cross is.
  root.querySelector(".atlas-sheet").addEventListener("keydown", (event) => {
    if (event.key === "Enter") ask.at(view.getCenter());
    if (event.key === "Escape") acts.close();
  });
}

function ticks(root, state, layers) {
  for (const box of root.querySelectorAll("[name=layer]")) {
    box.checked = state.shown.has(box.value);
    box.addEventListener("change", () => {
      state.shown[box.checked ? "add" : "delete"](box.value);
      layers.show();
      state.write();
    });
  }
  const aged = root.querySelector("[name=age]");
  const legend = root.querySelector(".ages");
  const turn = () => { legend.hidden = !aged.checked; };
  aged.checked = state.aged;
  turn();
  aged.addEventListener("change", () => {
    state.aged = aged.checked;
    turn();
    layers.restyle();
    state.write();
  });
}

// meant filters as soon as something is chosen; without scripts the form is sent instead.
function meant(form, state, layers) {
  const read = () => {
    const all = new FormData(form);
    state.meant = new URLSearchParams();
    for (const field of meantFields) for (const value of all.getAll(field)) if (value) state.meant.append(field, value);
    form.classList.toggle("limited", [...state.meant].length > 0);
    layers.refilter();
    state.write();
  };
  form.addEventListener("change", read);
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    read();
  });
  form.addEventListener("reset", () => setTimeout(() => {
    for (const field of form.querySelectorAll("input")) field.type === "checkbox" ? (field.checked = false) : (field.value = "");
    read();
  }));
}
