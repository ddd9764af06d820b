/**
 * The place under a point of the map, read between its edges. The server reads the click
 * itself; this is for showing, and off by less than a pixel.
 * @param {{west: number, east: number, north: number, south: number}} edges degrees
 * @param {number} fromLeft share of the width, 0 to 1
 * @param {number} fromTop share of the height, 0 to 1
 * @returns {{lat: number, lon: number}} degrees
 */
export function placeAt(edges, fromLeft, fromTop) {
  return {
    lat: edges.north + (edges.south - edges.north) * fromTop,
    lon: edges.west + (edges.east - edges.west) * fromLeft,
  };
}

/**
 * @param {{lat: number, lon: number}} place degrees
 * @returns {string} such as "0.4120° N, 0.1310° E"
 */
export function written({ lat, lon }, language) {
  const number = new Intl.NumberFormat(language, { minimumFractionDigits: 4, maximumFractionDigits: 4 });
  const west = language === "en" ? "W" : "O";
  const separator = language === "en" ? ", " : "; ";
  return `${number.format(Math.abs(lat))}° ${lat < 0 ? "S" : "N"}${separator}${number.format(Math.abs(lon))}° ${lon < 0 ? west : "E"}`;
}
