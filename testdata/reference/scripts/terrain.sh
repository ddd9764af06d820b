#!/usr/bin/env bash
# Reference grids for geo/terrain: terrain.sh FOLDER, where FOLDER holds demo.asc (the
# demo region's elevations, sampled by geo/demoland). Needs R, SAGA GIS, GRASS GIS, GDAL.
set -euo pipefail
cd "$1"

# R's volcano, 10 m cells, first row north; and the same with every tie broken.
Rscript --vanilla - <<'R'
put <- function(z, name, digits) {
  cat("ncols", ncol(z), "\nnrows", nrow(z), "\nxllcorner 0\nyllcorner 0\ncellsize 10\nNODATA_value -9999\n", file = name)
  write.table(formatC(z, digits = digits, format = "f"), name, append = TRUE, quote = FALSE, row.names = FALSE, col.names = FALSE)
}
put(volcano, "volcano.asc", 0)
r <- row(volcano); c <- col(volcano)
put(volcano + 0.9 * sin(1.7 * r + 0.3 * c) * cos(2.3 * c - 0.1 * r), "rough.asc", 4)
R

tool() { saga_cmd --flags=s "$@" >/dev/null; }
out() { tool io_grid 0 -GRID "$1.sgrd" -FILE "$2" -FORMAT 1 -GEOREF 0 -PREC "$3"; rm -f "${2%.asc}.prj" "${2%.asc}.aux.xml"; }

threshold_volcano=50 threshold_rough=50 threshold_demo=100
for name in volcano rough demo; do
  at=threshold_$name
  tool io_grid 1 -FILE $name.asc -GRID z.sgrd -GRID_TYPE 3
  tool ta_preprocessor 5 -ELEV z.sgrd -FILLED filled.sgrd -MINSLOPE 0
  tool ta_hydrology 0 -ELEVATION filled.sgrd -FLOW acc.sgrd -FLOW_UNIT 0 -METHOD 0
  out filled ${name}_filled.asc 4
  out acc ${name}_cells_saga.asc 0
  tool grid_calculus 1 -GRIDS acc.sgrd -RESULT channels.sgrd -FORMULA "ifelse(lt(g1,${!at}),nodata(),g1)"
  tool ta_channels 4 -ELEVATION filled.sgrd -CHANNELS channels.sgrd -METHOD 0 -BOUNDARY 1 \
    -DISTANCE d.sgrd -DISTVERT hand.sgrd -DISTHORZ h.sgrd -PASSES p.sgrd
  out hand ${name}_hand_saga.asc 4
  [ $name = demo ] || gdaldem slope -q -compute_edges $name.asc ${name}_slope_gdal.asc -of AAIGrid -co DECIMAL_PRECISION=6 -p
done

# GRASS: slope and distance in true metres.
grass_run() { grass --tmp-location "$1" --exec bash -c "$2" >grass.log 2>&1 || { cat grass.log; return 1; }; }
for name in volcano rough demo; do
  at=threshold_$name
  if [ $name = demo ]; then crs=EPSG:4326 metric=geodesic; else crs=EPSG:32631 metric=euclidean; fi
  grass_run $crs "
    r.in.gdal -o input=$name.asc output=z --o && g.region raster=z &&
    r.slope.aspect -e elevation=z slope=s format=percent precision=DCELL &&
    r.out.gdal -f input=s output=${name}_slope_grass.asc format=AAIGrid createopt=DECIMAL_PRECISION=7 nodata=-9999 type=Float64 --o &&
    r.in.gdal -o input=${name}_cells_saga.asc output=acc --o &&
    r.mapcalc 'net = if(acc >= ${!at}, 1, null())' &&
    r.grow.distance -m input=net distance=d metric=$metric &&
    r.out.gdal -f input=d output=${name}_distance_grass.asc format=AAIGrid createopt=DECIMAL_PRECISION=3 nodata=-9999 type=Float64 --o"
done
rm -f -- grass.log *.sgrd *.sdat *.mgrd *.prj *.aux.xml z.* acc.* filled.* channels.* hand.* d.* h.* p.*
