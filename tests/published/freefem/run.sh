#!/usr/bin/env bash
# run.sh SCRIPT_NAME     for example: run.sh steel-stud-gap
# Solves the section again with FreeFem++ and compares every number with the ones
# stored in cases/published/SCRIPT_NAME.yaml, so that these stay reproducible.
# Writes no files. Ends with 0 if all agree, 1 if not, 2 on wrong usage and 77
# (the usual code for a skipped test) if FreeFem++ is not installed.
set -euo pipefail

here=$(cd "$(dirname "${BASH_SOURCE[0]}")" && pwd)
name=${1-}
name=${name%.edp}
case_file=$here/../../../cases/published/$name.yaml

if [[ $# -ne 1 || ! -f $here/$name.edp ]]; then
  echo "usage: run.sh SCRIPT_NAME, one of:" >&2
  (cd "$here" && printf '  %s\n' *.edp) >&2
  exit 2
fi
if [[ ! -f $case_file ]]; then
  echo "run.sh: there is no case file $case_file" >&2
  exit 1
fi
if ! command -v FreeFem++ >/dev/null; then
  echo "run.sh: FreeFem++ is not installed (Debian package freefem++)" >&2
  exit 77
fi

# From its own folder, because the scripts include their shared parts by name.
# -nw: no window, -ne: do not print the script, -v 0: only what the script prints.
if ! printed=$(cd "$here" && FreeFem++ -nw -ne -v 0 "$name.edp" 2>&1); then
  printf '%s\n' "$printed" >&2
  echo "run.sh: $name.edp failed" >&2
  exit 1
fi
sums=$(awk -f "$here/section-sums.awk" "$case_file")

grep -E '^(level|last_change)' <<<"$printed"
awk -f "$here/compare.awk" <(printf '%s\n' "$printed") <(printf '%s\n' "$sums") "$case_file"
