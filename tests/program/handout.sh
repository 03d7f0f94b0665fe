#!/bin/bash
# `coldbay handout`: the page in a browser, as read on a screen, by keyboard, on a phone and on paper; and that the
# same case gives the same bytes. Needs chromium, chromium-driver, python3-selenium and poppler-utils.
set -u
coldbay=$1 root=$2
for program in chromium chromedriver pdftoppm pdfinfo pdftotext; do
  command -v $program >/dev/null || { echo "skipped: there is no $program"; exit 77; }
done
/usr/bin/python3 -c 'import selenium.webdriver' 2>/dev/null || { echo "skipped: there is no python3-selenium"; exit 77; }
folder=$(mktemp -d) || exit 1
trap 'rm -rf "$folder"' EXIT
cd "$folder" || exit 1
failed=0
complain() {
  echo "$1"
  failed=1
}

# Names that are markup, quotes, an emoji, written from right to left, and five hundred letters long.
long=$(printf 'insulation%.0s' {1..40})
cat >hostile.yaml <<EOF
title: "</title></script><script>window.pwned=1</script><img src=x onerror=\"window.pwned=1\"> \"q\" 'r' &amp; 😀 קיר مبنى $long"
air: {inside: {temperature: 20 °C, humidity: 50 %}, outside: {temperature: -5 °C}}
wall:
  height: 600 mm
  layers:
    - {material: {conductivity: 0.25 W/mK, name: "<svg onload=window.pwned=1> \"board\""}, thickness: 12.5 mm}
    - frame
    - {material: {conductivity: 0.13 W/mK, name: "קיר & 😀 $long"}, thickness: 11 mm}
  frame: {member: softwood 38 x 89 mm, spacing: 400 mm}
  bays: [{batt: R-13, gap: {right: 20 mm}}, batt R-13]
sections: [plan at 300 mm]
EOF
cp "$root/cases/right-and-wrong.yaml" wall.yaml
cp "$root/cases/faults/gap.yaml" strip.yaml

make_page() { # NAME, options of the handout
  local name=$1
  shift
  "$coldbay" handout "$name.yaml" --out "$name.html" --within 0.1 "$@" >/dev/null 2>"$name.txt" ||
    { complain "the handout of $name ended with $?"; cat "$name.txt"; }
  "$coldbay" face "$name.yaml" --out "$name" --within 0.1 >/dev/null 2>&1 || complain "the face of $name ended with $?"
}
make_page wall --paper a4
make_page strip --language es --paper letter
make_page hostile
[ $failed = 0 ] || exit 1

cp wall.html first.html
"$coldbay" handout wall.yaml --out wall.html --within 0.1 --paper a4 >/dev/null 2>&1 || complain "its own page is in its way"
cmp wall.html first.html || complain "the same case gave other bytes"
"$coldbay" handout wall.yaml >/dev/null 2>&1
[ $? = 2 ] || complain "a handout without --out should end with 2"
"$coldbay" handout wall.yaml --out other.html --paper foolscap >/dev/null 2>&1
[ $? = 2 ] || complain "--paper foolscap should end with 2"

PYTHONDONTWRITEBYTECODE=1 /usr/bin/python3 "$root/tests/program/handout_browser.py" "$folder" || failed=1
exit $failed
