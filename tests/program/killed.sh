#!/bin/bash
# Killed at any moment, a run leaves a folder that is absent, empty or complete; the next run puts things right.
set -u
coldbay=$1 root=$2
folder=$(mktemp -d) || exit 1
trap 'rm -rf "$folder"' EXIT
cd "$folder" || exit 1
failed=0
case=$root/cases/three-fills.yaml

now() { date +%s%N; }
begin=$(now)
"$coldbay" predict "$case" --out whole >/dev/null 2>&1 || { echo "the run that is not killed failed"; exit 1; }
took=$(($(now) - begin)) # ns

# state_of FOLDER: absent, empty, complete, or what is there.
state_of() {
  if [ ! -e "$1" ]; then
    echo absent
  elif [ -z "$(ls -A "$1")" ]; then
    echo empty
  elif diff -r whole "$1" >/dev/null 2>&1; then
    echo complete
  else
    echo "partial: $(ls -A "$1" | tr '\n' ' ')"
  fi
}

# Most moments lie in the last fifth of a run, where the files are written. On a busy machine the first run may
# have taken longer than those that follow: where too few were caught in time, half of it is tried.
unfinished=0
kill_at_moments() {
  for step in 5 20 35 50 65 75 80 82 84 86 88 90 92 94 96 98 100 102 105 110; do
    rm -rf results
    "$coldbay" predict "$case" --out results >/dev/null 2>&1 &
    victim=$!
    sleep "$(printf '%d.%09d' $((took * step / 100 / 1000000000)) $((took * step / 100 % 1000000000)))"
    kill -9 $victim 2>/dev/null
    wait $victim 2>/dev/null
    state=$(state_of results)
    case $state in
      absent | empty) unfinished=$((unfinished + 1)) ;;
      complete) ;;
      *)
        echo "killed at $step % of a run: $state"
        failed=1
        ;;
    esac
    if [ "$step" = 50 ] || [ "$step" = 96 ]; then
      "$coldbay" predict "$case" --out results >/dev/null 2>&1 || { echo "the run after a killed one failed"; failed=1; }
      [ "$(state_of results)" = complete ] || { echo "after a killed run: $(state_of results)"; failed=1; }
    fi
  done
}
for _ in 1 2 3 4 5 6; do
  kill_at_moments
  [ $unfinished -ge 3 ] && break
  took=$((took / 2))
done
[ $unfinished -ge 3 ] || { echo "only $unfinished runs were killed before their end: this tested nothing"; failed=1; }

# Over older results: each file is the old one or the new one, whole.
sed 's/20 °C/21 °C/' "$case" >warmer.yaml
"$coldbay" predict warmer.yaml --out warmer >/dev/null 2>&1 || { echo "the warmer case failed"; exit 1; }
for step in 50 80 85 90 95 100; do
  rm -rf results
  cp -r whole results
  "$coldbay" predict warmer.yaml --out results >/dev/null 2>&1 &
  victim=$!
  sleep "$(printf '%d.%09d' $((took * step / 100 / 1000000000)) $((took * step / 100 % 1000000000)))"
  kill -9 $victim 2>/dev/null
  wait $victim 2>/dev/null
  for file in whole/*; do
    name=${file#whole/}
    cmp -s "results/$name" "$file" || cmp -s "results/$name" "warmer/$name" ||
      { echo "killed at $step %: $name is neither old nor new"; failed=1; }
  done
done
exit $failed
