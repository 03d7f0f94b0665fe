#!/bin/bash
# The exit codes are a promise to scripts: 0 done, 2 usage, 3 the case is wrong, 4 the accuracy was not reached,
# 5 an output could not be written.
set -u
coldbay=$1 root=$2
folder=$(mktemp -d) || exit 1
trap 'rm -rf "$folder"' EXIT
cd "$folder" || exit 1
failed=0

# expect CODE COMMAND...: runs it quietly and compares its exit code; every failure must say something.
expect() {
  local wanted=$1 code
  shift
  "$@" >out 2>err </dev/null
  code=$?
  if [ "$code" -ne "$wanted" ]; then
    echo "exit $code, wanted $wanted: $*"
    head -5 err
    failed=1
  elif [ "$wanted" -ne 0 ] && [ ! -s err ] && [ ! -s out ]; then
    echo "exit $code without a word: $*"
    failed=1
  fi
}

cat >good.yaml <<'EOF'
section:
  width: 100 mm
  depth: 50 mm
  shapes:
    - {material: softwood, across: [0 mm, 100 mm], depth: [0 mm, 50 mm]}
air: {inside: {temperature: 20 °C}, outside: {temperature: 0 °C}}
EOF
sed 's/softwood/softwod/' good.yaml >bad.yaml

expect 0 "$coldbay" --help
expect 0 "$coldbay" predict --help
expect 0 "$coldbay" --version
expect 0 "$coldbay" check good.yaml
expect 0 "$coldbay" predict good.yaml
expect 0 "$coldbay" predict good.yaml --out results
expect 0 "$coldbay" materials
expect 0 "$coldbay" materials batt
expect 0 "$coldbay" check "$root/cases/box-gap.yaml"

cat >mine.yaml <<'END'
- {name: lime render, conductivity: 0.8 W/mK, thickness: 20 mm}
END
echo '- {name: lime render}' >bad-mine.yaml
expect 0 "$coldbay" materials lime --materials mine.yaml
expect 2 "$coldbay" materials lime
expect 3 "$coldbay" materials --materials bad-mine.yaml
expect 3 "$coldbay" check "$root/cases/box-gap.yaml" --materials missing.yaml
expect 0 "$coldbay" predict "$root/cases/three-fills.yaml" --materials mine.yaml --out with-mine
grep -q '"materials": {' with-mine/result.json || { echo "the file of materials is not on record"; failed=1; }

expect 2 "$coldbay"
expect 2 "$coldbay" frobnicate
expect 2 "$coldbay" predict
expect 2 "$coldbay" check
expect 2 "$coldbay" check good.yaml bad.yaml
expect 2 "$coldbay" predict good.yaml --colour
expect 2 "$coldbay" predict good.yaml --out
expect 2 "$coldbay" predict good.yaml --palette rainbow
expect 2 "$coldbay" materials unobtanium
# --out "$FORGOTTEN" is a slip, not a wish for no files.
expect 2 "$coldbay" predict good.yaml --out ""

expect 3 "$coldbay" check bad.yaml
expect 3 "$coldbay" predict bad.yaml --out bad-results
expect 3 "$coldbay" check missing.yaml
if [ -e bad-results ]; then
  echo "a wrong case left a folder"
  failed=1
fi

# Cells or memory that run out are an accuracy that was not reached: what was reached is written and said.
cat >sharp.yaml <<'END'
title: more than can be had
accuracy: {U: 0.001 %, surface: 0.0001 K}
air: {inside: {temperature: 20 °C}, outside: {temperature: 0 °C}}
section:
  width: 600 mm
  depth: 120 mm
  shapes:
    - {material: {conductivity: 0.035 W/mK}, across: [0 mm, 600 mm], depth: [0 mm, 120 mm]}
    - {material: {conductivity: 50 W/mK}, polygon: [[300 mm, 10 mm], [302 mm, 10 mm], [352 mm, 110 mm], [350 mm, 110 mm]]}
END
# A program built with sanitizers reserves more than any limit, and is left out.
if (ulimit -v 400000 && "$coldbay" --version) >/dev/null 2>&1; then
  small_memory() { (ulimit -v 300000 && "$coldbay" predict sharp.yaml --out sharp); }
  expect 4 small_memory
  grep -q 'NOT REACHED: U within' out || { echo "what was reached is not said"; failed=1; }
  grep -q '"reached": false' sharp/result.json || { echo "what was reached is not written"; failed=1; }
fi

expect 5 "$coldbay" predict good.yaml --out good.yaml
expect 5 "$coldbay" predict good.yaml --out good.yaml/below

exit $failed
