const every = 3000; // ms

/**
 * Waits for something that takes its time, and shows the page again once it is done: the
 * page does not jump under who reads it meanwhile.
 * @param {HTMLElement} part names the address that tells how far it is in data-wait
 */
function waits(part) {
  const bar = part.querySelector("progress");
  const look = async () => {
    const answer = await fetch(part.dataset.wait).catch(() => null);
    if (answer && answer.status !== 202) return location.reload();
    const { asked, total } = answer ? await answer.json() : {};
    if (bar && total) [bar.max, bar.value] = [total, asked];
    setTimeout(look, every);
  };
  setTimeout(look, every);
}

/** Shows this page again once the server no longer marks it as one to look at again. */
function looksAgain() {
  const look = async () => {
    const answer = await fetch(location.href).catch(() => null);
    const page = answer && new DOMParser().parseFromString(await answer.text(), "text/html");
    if (page && !page.querySelector("[data-again]")) return location.reload();
    setTimeout(look, every);
  };
  setTimeout(look, every);
}

const waited = document.querySelectorAll("[data-wait]");
for (const part of waited) waits(part);
if (waited.length === 0 && document.querySelector("[data-again]")) looksAgain();
