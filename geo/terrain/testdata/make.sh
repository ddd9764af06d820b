#!/usr/bin/env bash
# Writes the fixtures of tiff/ with GDAL: make.sh, in this folder. The values are invented:
# (7 row + 3 column + row column) mod 250, and none at row 2 column 3 and row 10 column 20.
set -euo pipefail
cd "$(dirname "$0")"
{
  printf 'ncols 23\nnrows 17\nxllcorner 0.1\nyllcorner 0.2\ncellsize 0.001\nNODATA_value 255\n'
  awk 'BEGIN { for (r = 0; r < 17; r++) { for (c = 0; c < 23; c++)
    printf "%s%d", c ? " " : "", (r == 2 && c == 3 || r == 10 && c == 20) ? 255 : (7*r + 3*c + r*c) % 250; print "" } }'
} >plain.asc
to() { gdal_translate -q -a_srs EPSG:4326 "${@:2}" plain.asc "tiff/$1.tif"; rm -f "tiff/$1.tif.aux.xml"; }
for type in Byte UInt16 Int16 UInt32 Int32 Float32 Float64; do to "${type,,}" -ot $type; done
for how in LZW DEFLATE PACKBITS; do
  to "${how,,}" -ot Int16 -co COMPRESS=$how
  to "${how,,}_tiled" -ot Float32 -co COMPRESS=$how -co TILED=YES -co BLOCKXSIZE=16 -co BLOCKYSIZE=16
done
for type in Byte Int16 Int32 Float32; do to "predictor2_${type,,}" -ot $type -co COMPRESS=LZW -co PREDICTOR=2; done
for type in Float32 Float64; do to "predictor3_${type,,}" -ot $type -co COMPRESS=DEFLATE -co PREDICTOR=3; done
to big_endian -ot Int16 -co ENDIANNESS=BIG -co COMPRESS=LZW -co PREDICTOR=2
to bigtiff -ot Int16 -co BIGTIFF=YES -co BLOCKYSIZE=4
gdal_translate -q -mo AREA_OR_POINT=Point -a_srs EPSG:4326 -ot Int16 plain.asc tiff/point.tif
gdal_translate -q -a_srs EPSG:32631 -a_ullr 500000 22117 500230 21947 -ot Int16 plain.asc tiff/utm.tif
gdal_translate -q -a_srs EPSG:3857 -ot Int16 plain.asc tiff/refused_mercator.tif
gdal_translate -q -b 1 -b 1 -a_srs EPSG:4326 -ot Int16 plain.asc tiff/refused_two_bands.tif
gdal_translate -q -a_srs EPSG:4326 -ot Float32 -co COMPRESS=ZSTD plain.asc tiff/refused_zstd.tif
gdal_translate -q -a_srs EPSG:4326 -ot Int16 -co SPARSE_OK=TRUE -co TILED=YES -co BLOCKXSIZE=16 -co BLOCKYSIZE=16 plain.asc tiff/tiled_edge.tif
rm -f tiff/*.aux.xml
