#!/bin/bash
# `coldbay outlook`: what it says with and without weather, and weather files that are wrong.
set -u
coldbay=$1
source=$2
folder=$(mktemp -d) || exit 1
trap 'rm -rf "$folder"' EXIT
cd "$folder" || exit 1
failed=0
complain() {
  echo "$1"
  failed=1
}

cat >case.yaml <<'EOF'
title: Two bays
air: {inside: {temperature: 20 °C}, outside: {temperature: -5 °C}}
camera: {distance: 1.5 m, noise: 0.1 K}
wall:
  height: 600 mm
  layers: [gypsum board 12.5 mm, frame, osb 11 mm]
  frame: {member: softwood 38 x 89 mm, spacing: 400 mm}
  bays: [batt R-13, nothing]
sections: [plan at 300 mm]
EOF

"$coldbay" outlook case.yaml --weather "$source/cases/weather-example.csv" --out out >said.txt 2>/dev/null ||
  complain "outlook ended with $?"
for words in 'settled after' 'normal here' 'camera' 'bay 2 .*colder' 'not modelled' 'Jan'; do
  grep -q "$words" said.txt || complain "it does not say '$words'"
done
grep -q '"mornings"' out/outlook.json || complain "outlook.json has no mornings"
"$coldbay" outlook case.yaml >said.txt 2>/dev/null || complain "without weather it ended with $?"
grep -q 'Jan' said.txt && complain "mornings without weather"

# Decimal commas, a byte order mark and other line ends read the same.
{
  printf '\xef\xbb\xbf'
  sed 's/,/;/g; s/\([0-9]\)\.\([0-9]\)/\1,\2/g; s/$/\r/' "$source/cases/weather-example.csv"
} >other.csv
"$coldbay" outlook case.yaml --weather "$source/cases/weather-example.csv" 2>/dev/null | grep -v weather-example >a
"$coldbay" outlook case.yaml --weather other.csv 2>/dev/null | grep -v other.csv >b
cmp -s a b || complain "decimal commas read otherwise"

# A missing hour is told with its line.
sed 5d "$source/cases/weather-example.csv" >hole.csv
message=$("$coldbay" outlook case.yaml --weather hole.csv 2>&1 >/dev/null)
[ $? = 3 ] || complain "a missing hour should end with 3"
case $message in *hole.csv:5:1:*) ;; *) complain "a missing hour: $message" ;; esac
"$coldbay" outlook case.yaml --weather nowhere.csv >/dev/null 2>&1
[ $? = 3 ] || complain "no file should end with 3"
exit $failed
