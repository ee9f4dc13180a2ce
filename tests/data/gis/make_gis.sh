#!/usr/bin/env bash
# Writes the areas of the demo zones in other formats, with ogr2ogr of GDAL (Debian package gdal-bin), into the folder that is given.
set -euo pipefail
out=${1:?give the folder to write into}
zones="$(cd "$(dirname "${BASH_SOURCE[0]}")/../../.." && pwd)/demo-data/zones/marrowick.json"
write() {
  local name=$1
  shift
  ogr2ogr -q -where "OGR_GEOMETRY IN ('POLYGON', 'MULTIPOLYGON')" -select id,name "$@" "$out/$name" "$zones"
}
write marrowick.shp -nlt MULTIPOLYGON -lco ENCODING=UTF-8
write marrowick.kml -f LIBKML 2>/dev/null || write marrowick.kml -f KML
write marrowick.gpkg -nlt MULTIPOLYGON -nln marrowick -lco SPATIAL_INDEX=NO
write marrowick-utm.shp -nlt MULTIPOLYGON -t_srs EPSG:32626 -lco ENCODING=UTF-8
