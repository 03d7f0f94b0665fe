#!/bin/bash
# Results that could not be printed are an output that could not be written: exit 5 and a message, never a crash.
# Messages that could not be printed stop nothing.
set -u
coldbay=$1 root=$2
[ -c /dev/full ] || { echo "no /dev/full here"; exit 77; }
folder=$(mktemp -d) || exit 1
trap 'rm -rf "$folder"' EXIT
failed=0
cd "$root" || exit 1 # so that no blank of its path stands in a case's name
case=cases/three-fills.yaml

# expect CODE NAME: compares with $?, and looks for a message where one can be.
expect() {
  local code=$? wanted=$1
  if [ $code -ne "$wanted" ]; then
    echo "exit $code, wanted $wanted: $2"
    failed=1
  fi
}

for command in "predict $case" "check $case" materials verify --help; do
  # shellcheck disable=SC2086  # split on purpose
  "$coldbay" $command >/dev/full 2>"$folder/err"
  expect 5 "$command > /dev/full"
  grep -q "written" "$folder/err" || { echo "no message: $command > /dev/full"; failed=1; }
done
"$coldbay" check "$case" >&- 2>/dev/null
expect 5 "check with stdout closed"

"$coldbay" check "$case" >/dev/null 2>/dev/full
expect 0 "check 2> /dev/full"
"$coldbay" check "$folder/missing.yaml" 2>/dev/full
expect 3 "check of a missing file 2> /dev/full"
"$coldbay" predict "$case" --out "$folder" >/dev/null 2>/dev/full
code=$?
if [ $code -ne 0 ] && [ $code -ne 5 ]; then
  echo "exit $code, wanted 0 or 5: predict 2> /dev/full"
  failed=1
fi
[ -s "$folder/result.json" ] || { echo "no result.json when stderr is full"; failed=1; }
exit $failed
