// Holds the modules of static/js/hole against the vectors of testdata/livehole.
import { readFileSync } from "node:fs";
import { answer } from "../static/js/hole/answer.js";

const read = (name) => JSON.parse(readFileSync(new URL(`../../testdata/livehole/${name}`, import.meta.url)));

function differences(want, got, at) {
  if (typeof want === "number") return typeof got === "number" && Math.abs(want - got) <= 1e-9 ? [] : [`${at}: ${got}, want ${want}`];
  if (want === null || typeof want !== "object") return want === got ? [] : [`${at}: ${got}, want ${want}`];
  if (got === null || typeof got !== "object") return [`${at}: ${got}`];
  const names = new Set([...Object.keys(want), ...Object.keys(got)]);
  return [...names].flatMap((name) => differences(want[name], got[name], `${at}.${name}`));
}

const pack = read("pack.json"), vectors = read("vectors.json");
const wrong = vectors.flatMap(({ what, log, answer: want }) => differences(want, answer(pack, log), what));
for (const line of wrong.slice(0, 20)) console.log(line);
if (wrong.length > 0) process.exit(1);
console.log(`${vectors.length} answers are the same`);
