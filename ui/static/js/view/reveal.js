/**
 * Makes a button show and hide the password that stands beside it.
 * @param {HTMLButtonElement} button names the field in data-reveal, its other word in data-hide
 */
function reveals(button) {
  const field = document.getElementById(button.dataset.reveal);
  const show = button.textContent;
  const turn = (shown) => {
    field.type = shown ? "text" : "password";
    button.setAttribute("aria-pressed", String(shown));
    button.textContent = shown ? button.dataset.hide : show;
  };
  button.addEventListener("click", () => turn(field.type === "password"));
  field.form.addEventListener("submit", () => turn(false)); // so that the browser knows it for a password
}

for (const button of document.querySelectorAll("[data-reveal]")) reveals(button);
