// The panel beside the map that answers stand in.

/**
 * Shows a part of a page that the server made, or that it is on its way.
 * @param {HTMLElement} panel
 * @param {string | Node | null} content null while it is on its way
 */
export function show(panel, content) {
  const body = panel.querySelector(".atlas-body");
  panel.hidden = false;
  panel.setAttribute("aria-busy", String(content === null));
  if (content === null) body.textContent = panel.dataset.working;
  else if (typeof content === "string") body.innerHTML = content;
  else body.replaceChildren(content);
  panel.scrollIntoView({ block: "nearest" }); // on a phone it lies below the map
}

/** @returns {Node} what says that something failed */
export function failed(words) {
  const p = document.createElement("p");
  p.className = "alert";
  p.textContent = words;
  return p;
}

/** Closes the panel, and tells whoever shows something with it. */
export function close(panel) {
  panel.hidden = true;
  panel.dispatchEvent(new Event("close"));
}
