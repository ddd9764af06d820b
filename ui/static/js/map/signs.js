// The signs of the map, cut from the one sheet that the legend shows too.
import { Icon, Style } from "../../vendor/map.min.js";

const side = 24; // CSS pixels of a sign on the sheet

// The order of the columns; the rows are the sign's own colours, then five ages.
const columns = ["producing", "low-yield", "bad-water", "dry", "refused", "collapsed", "failed", "unknown", "village", "works", "broken", "unknown-point"];

const sharp = () => Math.min(Math.ceil(devicePixelRatio * 1.15), 3);

function canvas(px) {
  const out = document.createElement("canvas");
  out.width = out.height = px;
  return out;
}

/** @returns {Promise<(key: string, age: number) => Style>} the style that draws a sign */
export async function loadSigns() {
  const sheet = new Image();
  sheet.src = "/static/mapsigns.svg";
  await sheet.decode();
  const styles = new Map();
  return (key, age = 0) => {
    const name = `${key} ${age}`;
    if (!styles.has(name)) styles.set(name, cut(sheet, columns.indexOf(key), age));
    return styles.get(name);
  };
}

function cut(sheet, column, row) {
  const k = sharp();
  const img = canvas(side * k);
  img.getContext("2d").drawImage(sheet, column * side, row * side, side, side, 0, 0, side * k, side * k);
  return new Style({ image: new Icon({ img, scale: 1.15 / k, declutterMode: "none" }) });
}

/** Which fifth of the ages a year falls into: up to 5, 15, 30 years ago, older, not known. */
export function ageOf(year, now = new Date().getFullYear()) {
  if (!year) return 5;
  const past = now - year;
  return past <= 5 ? 1 : past <= 15 ? 2 : past <= 30 ? 3 : 4;
}

const groups = new Map();

/**
 * Many things told as one: their number in a ring whose dark part is the share that works.
 * @param {number} n how many
 * @param {number} good how many of them give water
 * @param {{paper: string, ink: string, good: string, rest: string}} colours
 */
export function groupStyle(n, good, colours) {
  const label = new Intl.NumberFormat(document.documentElement.lang, { notation: "compact", maximumFractionDigits: n < 1e4 ? 1 : 0 }).format(n);
  const part = Math.round((32 * good) / n);
  const name = `${label} ${part} ${colours.paper}${colours.good}`;
  if (!groups.has(name)) groups.set(name, new Style({ image: ring(label, part / 32, colours) }));
  return groups.get(name);
}

function ring(label, part, colours) {
  const k = sharp();
  const r = 11 + 2.6 * Math.max(label.length - 1, 0);
  const img = canvas(Math.ceil(2 * (r + 4)) * k);
  const pen = img.getContext("2d");
  pen.scale(k, k);
  const middle = img.width / k / 2;
  const arc = (from, to, width, colour) => {
    pen.beginPath();
    pen.arc(middle, middle, r, (from - 0.25) * 2 * Math.PI, (to - 0.25) * 2 * Math.PI);
    pen.lineWidth = width;
    pen.strokeStyle = colour;
    pen.stroke();
  };
  pen.beginPath();
  pen.arc(middle, middle, r + 2.5, 0, 2 * Math.PI);
  pen.fillStyle = colours.paper;
  pen.fill();
  arc(0, 1, 1.2, colours.rest);
  arc(0, part, 4, colours.good);
  pen.fillStyle = colours.ink;
  pen.font = "600 12px system-ui, sans-serif";
  pen.textAlign = "center";
  pen.textBaseline = "middle";
  pen.fillText(label, middle, middle + 0.5);
  return new Icon({ img, scale: 1 / k });
}
