#!/bin/bash
# A study gives the same bytes however it is run: on one thread or two, in shares, killed and gone on with. What is wrong with
# one is told, and a full disk loses nothing.
set -u
coldbay=$1 root=$2
folder=$(mktemp -d) || exit 1
trap 'rm -rf "$folder"' EXIT
cd "$folder" || exit 1
failed=0
fail() {
  echo "$1"
  failed=1
}
cp "$root/tests/program/slab.yaml" .
# 1200 variants of some milliseconds; the last 400 have a shape that runs backwards, and fail.
cat >study.yaml <<'END'
title: Slabs
base: slab.yaml
vary:
  - {name: filling, path: "section.shapes[2].across", values: {left: [0 mm, 40 mm], "=right": [60 mm, 100 mm], "@backwards": [80 mm, 60 mm]}}
  - {path: air.outside.temperature, from: -10 °C, to: 10 °C, points: 4}
  - {path: "section.shapes[1].material.conductivity", normal: {mean: 0.5 W/mK, deviation: 0.1 W/mK, from: 0.2 W/mK}}
  - {path: "section.shapes[2].material.conductivity", uniform: {from: 0.03 W/mK, to: 0.05 W/mK}}
draws: 100
seed: 11
sampling: latin hypercube
keep: [U, heat flow, coldest surface, temperature factor]
END
now() { date +%s%N; }

# One thread, then two.
begin=$(now)
"$coldbay" study study.yaml --out whole --jobs 1 >out 2>err
[ $? -eq 4 ] || fail "variants failed, and the exit code is not 4"
took=$(($(now) - begin)) # ns
grep -q "failed: 400 variants: 800-1199" err || fail "the failed variants are not told: $(cat err)"
rows=$(wc -l <whole/results.csv)
[ "$rows" -eq 1201 ] || fail "1200 variants and a header are not $rows lines"
head -1 whole/results.csv | grep -q '^variant,filling,air.outside.temperature \[°C\],.*,U \[W/m2K\],.*,failed' ||
  fail "the header: $(head -1 whole/results.csv)"
grep -q '^400,"'"'"'=right",-10,' whole/results.csv || fail "a text that looks like a formula is not made safe"
same() {
  cmp "whole/results.csv" "$1/results.csv" >&2 && cmp "whole/results.json" "$1/results.json" >&2 ||
    fail "$2: other results than on one thread"
}
"$coldbay" study study.yaml --out two --jobs 2 >/dev/null 2>&1
same two "two threads"
"$coldbay" study study.yaml --list >list 2>err || fail "--list failed"
grep -q '^1200 variants$' err || fail "--list does not count: $(cat err)"
[ "$(cut -d, -f1-4 whole/results.csv)" = "$(cut -d, -f1-4 list)" ] || fail "--list and the results name other variants"

# Shares of any number, one by one, in folders of their own or in one.
for i in 1 2 3; do "$coldbay" study study.yaml --out "share-$i" --share $i/3 >/dev/null 2>&1; done
"$coldbay" study study.yaml --out one --case 5 >/dev/null 2>&1 || fail "--case 5 failed"
[ "$(wc -l <one/results.csv)" -eq 2 ] || fail "--case 5 is not one row"
"$coldbay" collect share-1 share-3 --out some >/dev/null 2>err
[ $? -eq 4 ] || fail "two shares of three are called whole"
grep -q "missing: 400 variants: 1, 4, 7," err || fail "the missing ones are not told: $(cat err)"
"$coldbay" collect share-1 share-2 share-3 one --out joined >/dev/null 2>&1
same joined "three shares"
"$coldbay" collect some share-2 --out some >/dev/null 2>&1
same some "collected into one of them"
for i in 1 2; do "$coldbay" study study.yaml --out both --share $i/2 >/dev/null 2>&1 & done
wait
"$coldbay" collect both --out both >/dev/null 2>&1
same both "two shares at a time in one folder"

# Killed at ten random moments; where most runs ended before theirs, at earlier ones.
RANDOM=4711
kills=0
for try in 1 2 3 4 5 6 7 8 9 10 11 12 13 14 15 16 17 18 19 20; do
  [ $try -gt 10 ] && [ $kills -ge 3 ] && break
  [ $try -gt 10 ] && rm -rf killed && took=$((took * 7 / 10))
  "$coldbay" study study.yaml --out killed --jobs 2 >/dev/null 2>&1 &
  victim=$!
  wait_ns=$((took / 1000 * (RANDOM % 150) + 5000000))
  sleep "$(printf '%d.%09d' $((wait_ns / 1000000000)) $((wait_ns % 1000000000)))"
  kill -9 $victim 2>/dev/null && kills=$((kills + 1))
  wait $victim 2>/dev/null
done
before=$(cat killed/parts/*.rows 2>/dev/null | wc -l)
"$coldbay" study study.yaml --out killed --jobs 2 >/dev/null 2>err
same killed "killed $kills times"
[ "$kills" -ge 3 ] || fail "killed only $kills times: this tested nothing"
all=$(cat killed/parts/*.rows | wc -l)
[ "$all" -eq 1200 ] || fail "$all rows are kept of 1200: some were solved twice ($before before the last run)"
"$coldbay" study study.yaml --out killed >/dev/null 2>err
grep -q solved err && fail "what is there was solved again: $(cat err)"

# A torn row, and one that the disk has changed, are solved again.
cp -r whole torn
part=$(ls torn/parts/*.rows)
truncate -s -7 "$part"
sed -i '3s/,[0-9]\.[0-9]/,7.7/' "$part"
"$coldbay" study study.yaml --out torn --jobs 1 >/dev/null 2>err
grep -q "^solved 2 variants" err || fail "two rows are torn: $(cat err)"
same torn "torn rows"

# Folders of something else.
sed 's/seed: 11/seed: 12/' study.yaml >other.yaml
"$coldbay" study other.yaml --out whole >/dev/null 2>err
[ $? -eq 5 ] && grep -q "other inputs" err || fail "another study goes into the same folder"
"$coldbay" study other.yaml --out other --case 0 >/dev/null 2>&1
"$coldbay" collect share-1 other --out mixed >/dev/null 2>err
[ $? -eq 3 ] && grep -q "different inputs" err || fail "different inputs are mixed"
[ -e mixed ] && fail "a folder is made for what is not joined"
mkdir foreign
echo mine >foreign/notes.txt
"$coldbay" study study.yaml --out foreign >/dev/null 2>err
[ $? -eq 5 ] && [ "$(ls foreign)" = notes.txt ] || fail "a folder with other files is taken: $(cat err)"

# A full disk: files of at most 16 KiB.
(ulimit -f 16 && "$coldbay" study study.yaml --out full --jobs 2 >/dev/null 2>err)
[ $? -eq 5 ] || fail "a full disk is not exit 5: $(cat err)"
grep -q "^not written: .*rows: " err || fail "a full disk is not told: $(cat err)"
[ -e full/results.csv ] && fail "results of a study that ended early"
kept=$(cat full/parts/*.rows | wc -l)
[ "$kept" -gt 10 ] || fail "a full disk lost what was there"
"$coldbay" study study.yaml --out full --jobs 2 >/dev/null 2>err
grep -q "^solved $((1200 - kept)) variants" err || fail "after a full disk: $kept kept, and $(cat err)"
same full "a full disk"

# What is wrong is told, with its place, and nothing is made.
wrong() { # CODE WORDS: the study on stdin
  cat >wrong.yaml
  "$coldbay" study wrong.yaml --out wrong >/dev/null 2>err
  [ $? -eq "$1" ] || fail "not exit $1: $2"
  grep -qF "$2" err || fail "'$2' is not told: $(cat err)"
  [ -e wrong ] && fail "a wrong study makes a folder"
}
wrong 3 "did you mean 'section.width'?" <<<'{base: slab.yaml, keep: [U], vary: [{path: section.widht, values: [1 m, 2 m]}]}'
wrong 3 "has 2 items, and no number 3" <<<'{base: slab.yaml, keep: [U], vary: [{path: "section.shapes[3].depth", values: [1 m, 2 m]}]}'
wrong 3 "this range is empty" <<<'{base: slab.yaml, keep: [U], vary: [{path: section.width, from: 1 m, to: 1 m, points: 2}]}'
wrong 3 ":1:80: error: two columns would be called 'section.width'" <<<'{base: slab.yaml, keep: [U], vary: [{path: section.width, values: [1 m, 2 m]}, {name: section.width, path: section.depth, values: [1 m]}]}'
wrong 3 "error: '1 m' is not a temperature such as" <<<'{base: slab.yaml, keep: [U], vary: [{path: air.inside.temperature, values: [1 m, 2 m]}]}'
wrong 3 "no 'section.shapes[3].width'" <<<'{base: slab.yaml, keep: [U], vary: [{path: "section.shapes[3].width", values: [1 m]}, {path: section.widht, values: [1 m]}]}'
grep -q "did you mean 'section.width'" err || fail "one wrong path hides another: $(cat err)"
wrong 3 "already given" <<<'{base: slab.yaml, keep: [U], base: slab.yaml, vary: [{path: section.width, values: [1 m]}]}'
wrong 3 "missing.yaml: error: cannot be opened" <<<'{base: missing.yaml, keep: [U], vary: [{path: section.width, values: [1 m]}]}'
wrong 3 "more than 100000000 variants" <<<'{base: slab.yaml, keep: [U], vary: [{path: section.width, from: 1 m, to: 2 m, points: 20000}, {path: section.depth, from: 1 m, to: 2 m, points: 20000}]}'
printf 'section.width,section.depth\n100 mm,60 mm\n200 mm\n' >table.csv
wrong 3 "table.csv:3:1: error: this row has 1 field, and the header 2" <<<'{base: slab.yaml, keep: [U], vary: [{table: table.csv}]}'
"$coldbay" study study.yaml --out past --case 1200 >/dev/null 2>err
[ $? -eq 2 ] && grep -q "from 0 to 1199" err || fail "a variant past the last one"

# The study file in the README, beside its base and a table.
mkdir readme
cp "$root/cases/studies/one-fill.yaml" readme
awk '/^title: Fills, perfect and as found/ {on = 1} /^```$/ {on = 0} on' "$root/README.md" >readme/study.yaml
printf 'air.outside.temperature [°C],air.outside.film [m2K/W]\n-5,0.04\n2,0.05\n' >readme/climates.csv
"$coldbay" study readme/study.yaml --list >list 2>err || fail "the study in the README: $(cat err)"
grep -q "^1920 variants$" err && ! grep -q warning err || fail "the study in the README: $(cat err)"
head -1 list | grep -q ',air.outside.temperature \[°C\],air.outside.film \[m2K/W\],' || fail "units of a table: $(head -1 list)"
"$coldbay" study readme/study.yaml --out readme/one --case 1919 >/dev/null 2>err || fail "a variant of it: $(cat err)"

# Results come in the units that the base asks for. By hand: 5.678263 W/m2K are 1 Btu/h·ft2·°F [International Table].
sed 's/^title:.*/&\nunits: inch-pound/' slab.yaml >inch.yaml
sed 's/base: slab.yaml/base: inch.yaml/' study.yaml >inch-study.yaml
"$coldbay" study inch-study.yaml --out inch --case 7 >/dev/null 2>&1 || fail "a study in inch-pound units"
head -1 inch/results.csv | grep -q 'U \[Btu/h·ft2·°F\],heat flow \[Btu/h·ft\],coldest surface \[°F\]' || fail "units: $(head -1 inch/results.csv)"
paste -d, <(sed -n 2p inch/results.csv) <(sed -n 9p whole/results.csv) | awk -F, '
  function near(a, b) { return a - b < 1e-6 * a && b - a < 1e-6 * a }
  { if (!near($6, $16 / 5.678263337) || !near($7, $17 * 3.412141633 * 0.3048) || !near($8, 1.8 * $18 + 32)) { print "units: " $0; exit 1 } }' || failed=1

# The worked study says what its file says to expect.
# (a number that stands in words, `as: softwood 45 x {}`, is a number in the results)
"$coldbay" study "$root/cases/studies/three-strategies.yaml" --out worked >/dev/null 2>err || fail "the worked study: $(cat err)"
[ -s err ] && grep -q warning err && fail "warnings of the worked study: $(cat err)"
# whole FILL DEPTH: its U at 600 mm, in thousandths.
whole() { grep "^[0-9]*,\"\?$1\"\?,$2,600," worked/results.csv | sed "s/.*,$2,600,//" | awk -F, '{printf "%d", 1000 * $1}'; }
ranks=$(for fill in foam "foam, shrunk off a stud" fibre cellulose "fibre, cut narrow" "cellulose, settled"; do whole "$fill" 140; echo; done)
[ "$ranks" = "$(sort -n <<<"$ranks")" ] && [ "$(wc -w <<<"$ranks")" -eq 6 ] || fail "the ranks of the worked study: $ranks"
for fill in "fibre:fibre, cut narrow" "cellulose:cellulose, settled" "foam:foam, shrunk off a stud"; do
  shallow=$(($(whole "${fill#*:}" 95) * 1000 / $(whole "${fill%:*}" 95)))
  deep=$(($(whole "${fill#*:}" 195) * 1000 / $(whole "${fill%:*}" 195)))
  [ $deep -gt $shallow ] || fail "$fill: $deep of 1000 in the deep frame, $shallow in the shallow one"
done
exit $failed
