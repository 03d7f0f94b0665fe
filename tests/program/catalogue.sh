#!/usr/bin/env bash
# cases/README.md is what the program makes of cases/faults today, and every case there expects what it shows.
# Its pictures are there, and of the size that the program draws: their bytes are the compressor's affair.
set -euo pipefail
coldbay=$1 root=$2
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
fail() { echo "FAILED: $*" >&2; exit 1; }

mkdir "$work/cases"
cp -r "$root/cases/faults" "$work/cases/"
cd "$work"
"$coldbay" catalogue cases/faults/*.yaml --out cases 2>/dev/null
diff -u "$root/cases/README.md" cases/README.md ||
  fail "cases/README.md is not what the program makes: coldbay catalogue cases/faults/*.yaml --out cases"

size() { od -An -tx1 -j16 -N8 "$1"; }  # width and height, of the PNG header
for picture in cases/pictures/*.png; do
  there=$root/$picture
  [ -f "$there" ] || fail "$picture is missing"
  [ "$(size "$there")" = "$(size "$picture")" ] || fail "$picture has another size"
done

for file in cases/faults/*.yaml; do
  name=$(basename "$file" .yaml)
  row=$(grep -F "](#$name)" cases/README.md)
  IFS='|' read -r _ _ share of face _ <<<"$row"
  expected="# Expect:$share""of the heat of$of; at its worst the room face is${face% } than built right."
  grep -qxF "$(sed 's/ ;/;/' <<<"$expected")" "$file" || fail "$file expects something else than it shows: $expected"
done

# Twice over the same folder is no harm; a README of somebody else's stays.
"$coldbay" catalogue cases/faults/gap.yaml --out cases 2>/dev/null
echo "mine" >cases/README.md
code=0
"$coldbay" catalogue cases/faults/gap.yaml --out cases 2>/dev/null || code=$?
[ $code -eq 5 ] && [ "$(cat cases/README.md)" = mine ] || fail "a page of somebody else's was replaced, or exit code $code"

# A sound wall has nothing to show.
code=0
"$coldbay" catalogue "$root/cases/three-fills.yaml" --out other 2>"$work/err" || code=$?
[ $code -eq 3 ] || fail "a wall without a fault: exit code $code"
grep -q "no fault" "$work/err" || fail "a wall without a fault is not named so"
[ ! -e other ] || fail "something was left behind"
echo "ok"
