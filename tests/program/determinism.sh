#!/bin/bash
# The same case and the same build give the same bytes; a date only where SOURCE_DATE_EPOCH asks for one.
set -u
coldbay=$1 root=$2
folder=$(mktemp -d) || exit 1
trap 'rm -rf "$folder"' EXIT
fail() {
  echo "$1"
  exit 1
}
unset SOURCE_DATE_EPOCH
cp "$root/cases/box-gap.yaml" "$folder/case.yaml" || exit 1
cd "$folder" || exit 1

"$coldbay" predict case.yaml --out first >first.txt 2>/dev/null || fail "the first run failed"
mkdir elsewhere
(cd elsewhere && LC_ALL=de_DE.UTF-8 TZ=Asia/Tokyo "$coldbay" predict ../case.yaml --out ../second >../second.txt 2>/dev/null) ||
  fail "the second run failed"
diff -r first second || fail "two runs of one case differ"
cmp first.txt second.txt || fail "two runs of one case say different things"
grep -q '"date"' first/result.json && fail "a date without SOURCE_DATE_EPOCH"

SOURCE_DATE_EPOCH=86400 "$coldbay" predict case.yaml --out dated >/dev/null 2>&1 || fail "the run with a date failed"
grep -q '"date": "1970-01-02T00:00:00Z"' dated/result.json || fail "SOURCE_DATE_EPOCH=86400 is 1970-01-02"
for picture in first/*.png; do
  cmp "$picture" "dated/${picture#first/}" || fail "pictures carry no date"
done
for bad in x 1x 99999999999999999999 ""; do
  SOURCE_DATE_EPOCH=$bad "$coldbay" predict case.yaml >/dev/null 2>&1 || fail "SOURCE_DATE_EPOCH='$bad' is not ours to fail on"
done

# The input's checksum is the one everybody computes.
sum=$(sha256sum case.yaml | cut -d ' ' -f 1)
grep -q "\"sha256\": \"$sum\"" first/result.json || fail "the checksum in result.json is not that of the case"

if command -v python3 >/dev/null; then
  python3 -m json.tool first/result.json >/dev/null || fail "result.json is not JSON"
  cat >odd.yaml <<'EOF'
title: "</title><script>alert('1')</script> \"quoted\" \e[31m\u0007 \\ ½"
section:
  width: 100 mm
  depth: 50 mm
  shapes:
    - {material: {conductivity: 0.5 W/mK, name: "a \"b\"\\\n<i>"}, across: [0 mm, 100 mm], depth: [0 mm, 50 mm]}
air: {inside: {temperature: 20 °C}, outside: {temperature: 0 °C}}
probes: {"p \"1\"\n": [0 mm, 0 mm]}
EOF
  "$coldbay" predict odd.yaml --out odd >odd.txt 2>/dev/null || fail "odd names made the run fail"
  python3 - <<'EOF' || fail "odd names did not survive into result.json"
import json
r = json.load(open("odd/result.json", encoding="utf-8"))
# all but control characters, which are spaces: they could order a terminal about
assert r["title"] == "</title><script>alert('1')</script> \"quoted\"  [31m  \\ ½", r["title"]
assert list(r["probes_C"]) == ['p "1" '], r["probes_C"]
assert r["materials"][0]["name"] == 'a "b"\\ <i>', r["materials"]
EOF
fi
exit 0
