#!/bin/bash
# results.nc of a study, read by the tools of the NetCDF library: its form, and the numbers of results.csv.
# Skipped (77) where they are not installed (Debian: netcdf-bin).
set -u
coldbay=$1 root=$2
command -v ncdump >/dev/null || { echo "no ncdump: skipped"; exit 77; }
folder=$(mktemp -d) || exit 1
trap 'rm -rf "$folder"' EXIT
cd "$folder" || exit 1
failed=0
fail() {
  echo "$1"
  failed=1
}
cp "$root/tests/program/slab.yaml" .
cat >study.yaml <<'END'
title: Platten, à la "carte"
base: slab.yaml
vary:
  - {name: Füllung, path: "section.shapes[2].across", values: {links: [0 mm, 40 mm], schmal – schräg: [40 mm, 60 mm], backwards: [80 mm, 60 mm]}}
  - {path: air.outside.temperature, values: [20 °F, 30 °F]}
  - {path: "section.shapes[1].material.conductivity", values: [0.5 W/mK, 0.6 W/mK]}
keep: [U, heat flow, coldest surface, temperature factor, surface uncertainty]
END
"$coldbay" study study.yaml --out a >/dev/null 2>&1
[ $? -eq 4 ] || fail "variants failed, and the exit code is not 4"
[ "$(ncdump -k a/results.nc)" = netCDF-4 ] || fail "no NetCDF-4: $(ncdump -k a/results.nc)"

# Its form [CF2023].
ncdump -h a/results.nc >header || fail "ncdump cannot read it"
while IFS= read -r line; do grep -qF "$line" header || fail "not in the header: $line"; done <<'END'
variant = 12 ;
int64 variant(variant) ;
char F_llung(variant, F_llung_length) ;
F_llung:long_name = "Füllung" ;
double air_outside_temperature(variant) ;
air_outside_temperature:units = "degF" ;
section_shapes_1_material_conductivity:units = "W m-1 K-1" ;
double U(variant) ;
U:units = "W m-2 K-1" ;
U:_FillValue = NaN ;
U:coordinates = "F_llung air_outside_temperature section_shapes_1_material_conductivity" ;
heat_flow:units = "W m-1" ;
coldest_surface:units = "degC" ;
temperature_factor:units = "1" ;
surface_uncertainty:units = "K" ;
surface_uncertainty:units_metadata = "temperature: difference" ;
:Conventions = "CF-1.11" ;
:title = "Platten, à la \"carte\"" ;
END

# The numbers of results.csv, to the last digit that stands there, in its order.
values() { ncdump -p 9,15 -v "$1" a/results.nc | sed -n "/^ $1 =/,/;/p" | sed -e "s/^ $1 =//" -e 's/;//' -e 's/, *$//' | tr ',' '\n' | sed -e 's/^ *//' -e '/^$/d'; }
csv() { # COLUMN: its numbers, NaN where empty
  python3 -c '
import csv, sys
with open("a/results.csv", newline="", encoding="utf-8") as file:
    for row in list(csv.reader(file))[1:]:
        print(row[int(sys.argv[1])] or "NaN")' "$1"
}
n=4
for name in U heat_flow coldest_surface temperature_factor; do
  paste -d' ' <(values $name) <(csv $n) | awk -v n=$name '
    { rows++
      off = $1 - $2
      size = $2 < 0 ? -$2 : $2
      if ($1 == "_" || $2 == "NaN" ? $1 != "_" || $2 != "NaN" : off > 1e-8 * size || -off > 1e-8 * size) print n, $1, "is not", $2 }
    END { if (rows != 12) print n, "has", rows, "rows" }' >differ # nine digits stand in results.csv
  [ -s differ ] && fail "$(cat differ)"
  n=$((n + 1))
done
ncdump -v F_llung a/results.nc | grep -qF '"schmal \342\200\223 schr\303\244g"' || # as ncdump writes UTF-8
  fail "a text is not what it was: $(ncdump -v F_llung a/results.nc | tail -n 14)"
ncdump -v failed a/results.nc | grep -qF "$(tail -n 1 a/results.csv | tr -d '\r' | sed 's/.*,//' | cut -c1-20)" || fail "why a variant failed is not told"

# More rows than are written at a time (8192): every one in its place.
cat >many.yaml <<'END'
base: slab.yaml
vary: [{path: air.outside.temperature, from: -10 °C, to: 10 °C, points: 9001}]
keep: [coldest surface]
END
"$coldbay" study many.yaml --out many >/dev/null 2>&1 || fail "many climates"
many() { ncdump -p 9,9 -v "$1" many/results.nc | sed -n "/^ $1 =/,/;/p" | sed -e "s/^ $1 =//" -e 's/;//' | tr -d ' ' | tr ',' '\n' | sed '/^$/d'; }
paste -d, <(many variant) <(many air_outside_temperature) <(many coldest_surface) <(tail -n +2 many/results.csv) | awk -F, '
  function off(a, b) { return a - b > 1e-8 * (b < 0 ? -b : b) || b - a > 1e-8 * (b < 0 ? -b : b) }
  $1 != $4 || off($2, $5) || off($3, $6) { print "row", NR, "is", $0; exit }
  END { if (NR < 9001) print NR, "rows" }' >differ
[ -s differ ] && fail "$(cat differ)"

# Same bytes, one thread or two; what a process that is no more has left is removed.
true & gone=$!
wait
touch "a/.results.nc.$(hostname)-$gone" "a/.results.nc.elsewhere-$gone"
sleep 1.1 # the library would write the second of the clock, if it did
"$coldbay" study study.yaml --out a --jobs 1 >/dev/null 2>&1
"$coldbay" study study.yaml --out b --jobs 1 >/dev/null 2>&1
cmp a/results.nc b/results.nc || fail "other bytes on one thread"
[ "$(find a -name '.*' -type f)" = "a/.results.nc.elsewhere-$gone" ] || fail "left over: $(find a -name '.*' -type f)"

# Nothing of it where the disk is full.
(ulimit -f 8 && "$coldbay" study study.yaml --out full >/dev/null 2>err)
[ $? -eq 5 ] || fail "a full disk is not exit 5: $(cat err)"
grep -q "^not written: .*results\.nc: File too large" err || fail "a full disk is not told: $(cat err)"
[ -z "$(find full -name '*results*')" ] || fail "half of it is left: $(find full -name '*results*')"
exit $failed
