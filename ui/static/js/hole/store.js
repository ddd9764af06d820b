// What the phone keeps: for each site its pack, the log, and the logs before each entry.
const prefix = "waterstrike-hole:";

/** @param {{lat: number, lon: number}} at degrees */
export const keyOf = ({ lat, lon }) => `${prefix}${lat.toFixed(5)},${lon.toFixed(5)}`;

export function load(key) {
  const text = localStorage.getItem(key);
  return text === null ? null : JSON.parse(text);
}

/** @returns {boolean} false where the storage is full */
export function save(key, hole) {
  try {
    localStorage.setItem(key, JSON.stringify(hole));
    return true;
  } catch {
    return false;
  }
}

export const remove = (key) => localStorage.removeItem(key);

/** The holes that are kept, by key. */
export const kept = () => Object.keys(localStorage).filter((key) => key.startsWith(prefix)).sort().map((key) => [key, load(key)]);

/** Hands a log over as a file. */
export function download(hole) {
  const { lat, lon } = hole.pack.at, link = document.createElement("a");
  const text = JSON.stringify({ at: hole.pack.at, village: hole.pack.village, log: hole.log }, null, 2);
  link.href = URL.createObjectURL(new Blob([text], { type: "application/json" }));
  link.download = `hole-${lat.toFixed(5)}-${lon.toFixed(5)}.json`;
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 60_000);
}

/** A log of which nothing is drilled yet. */
export const empty = (pack) => ({
  schema: "waterstrike.holelog.1", method: pack.methods[0].code, month: new Date().getMonth() + 1, depthM: 0, layers: [],
});

/** The log with so many metres more of a class; a layer goes on as long as it is named the same. */
export function drilled(log, name, metres, minutes) {
  const layers = log.layers.slice(), last = layers.at(-1), baseM = log.depthM + metres;
  if (last && last.class === name && last.minutesPerM === minutes) layers[layers.length - 1] = { ...last, baseM };
  else layers.push({ topM: log.depthM, baseM, class: name, ...(minutes > 0 ? { minutesPerM: minutes } : {}) });
  const { refused, ...on } = log; // whoever drilled on was not stopped for good
  return { ...on, depthM: baseM, layers };
}
