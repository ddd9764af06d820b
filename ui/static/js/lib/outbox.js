// What was written in the field and has not arrived yet. It stands in the browser's own
// storage until the server has answered that it is on its disk; the server knows what it
// has had before, so that sending twice adds nothing.

const drafts = "waterstrike draft ";
const waits = "waterstrike sends ";

/** @param {string} name of the form @returns {{at: number, fields: [string, string][]} | null} */
export function draft(name) {
  return read(drafts + name);
}

/** @returns {boolean} false where the browser keeps nothing */
export function keepDraft(name, fields) {
  return write(drafts + name, { at: Date.now(), fields });
}

export function dropDraft(name) {
  localStorage.removeItem(drafts + name);
}

/** @returns {boolean} false where the browser keeps nothing */
export function queue(id, { address, page, label, body }) {
  return write(waits + id, { at: Date.now(), address, page, label, body });
}

/** @returns {{id: string, at: number, address: string, page: string, label: string, body: string, refused?: string}[]} the oldest first */
export function waiting() {
  const all = [];
  for (let i = 0; i < localStorage.length; i++) {
    const key = localStorage.key(i);
    if (key.startsWith(waits)) all.push({ id: key.slice(waits.length), ...read(key) });
  }
  return all.sort((a, b) => a.at - b.at);
}

export function drop(id) {
  localStorage.removeItem(waits + id);
}

/**
 * Sends one. It is dropped only once the server has it.
 * @returns {Promise<{address?: string, refused?: string, status: number}>} status 0: no connection
 */
export async function send(one) {
  let answer;
  try {
    answer = await fetch(one.address, {
      method: "POST",
      headers: { "Content-Type": "application/x-www-form-urlencoded", Accept: "application/json" },
      body: one.body,
    });
  } catch {
    return { status: 0 };
  }
  const told = await answer.json().catch(() => ({}));
  if (answer.ok && told.address) {
    const now = read(waits + one.id);
    if (now && now.body === one.body) drop(one.id); // not what was written since
    return { status: answer.status, address: told.address };
  }
  if (answer.status === 401 || answer.status >= 500 || answer.status === 429) return { status: answer.status };
  const refused = told.detail || String(answer.status);
  write(waits + one.id, { ...read(waits + one.id), refused });
  return { status: answer.status, refused };
}

/** Sends all that waits and was not refused, one after another. */
export async function flush(each = () => {}) {
  for (const one of waiting()) {
    if (!one.refused) each(one, await send(one));
  }
}

function read(key) {
  try {
    return JSON.parse(localStorage.getItem(key));
  } catch {
    return null;
  }
}

function write(key, value) {
  try {
    localStorage.setItem(key, JSON.stringify(value));
    return true;
  } catch {
    return false;
  }
}
