#!/usr/bin/env bash
# run3d.sh NAME [FINENESS]    for example: run3d.sh steel-box
# Solves the bay of NAME.boxes again with FreeFem++ in three dimensions and compares
# every number with those stored in NAME.expected, so that these stay reproducible.
# FINENESS is the `quick` one of NAME.expected unless given: under half a minute. The
# stored numbers are those of the finest run listed there: minutes.
# Writes no files. Ends with 0 if all agree, 1 if not, 2 on wrong usage and 77
# (the usual code for a skipped test) if FreeFem++ or its msh3 is not installed.
set -euo pipefail

here=$(cd "$(dirname "${BASH_SOURCE[0]}")" && pwd)
name=${1-}
name=${name%.boxes}

if [[ $# -lt 1 || $# -gt 2 || ! -f $here/$name.boxes || ! ${2-1} =~ ^[1-9](\.[0-9]+)?$ ]]; then
  echo "usage: run3d.sh NAME [FINENESS], FINENESS 1 or more, NAME one of:" >&2
  (cd "$here" && printf '  %s\n' *.boxes) >&2
  exit 2
fi
fineness=${2-$(awk '$1 == "quick" { print $2 }' "$here/$name.expected")}
if ! command -v FreeFem++ >/dev/null; then
  echo "run3d.sh: FreeFem++ is not installed (Debian package freefem++)" >&2
  exit 77
fi
# Debian's program looks for its plugins where Debian's package does not put them.
plugins=/usr/lib/freefem++
if [[ -f $plugins/msh3.so ]]; then
  export FF_LOADPATH="$plugins;;${FF_LOADPATH-}"
elif ! FreeFem++ -nw -ne -v 0 <(echo 'load "msh3"') >/dev/null 2>&1; then
  echo "run3d.sh: the plugin msh3 of FreeFem++ is not installed (Debian package libfreefem++)" >&2
  exit 77
fi

# From its own folder, because the script reads its files by name.
# -nw: no window, -ne: do not print the script, -v 0: only what the script prints.
if ! printed=$(cd "$here" && FreeFem++ -nw -ne -v 0 bay3d.edp "$name" "$fineness" 2>&1); then
  printf '%s\n' "$printed" >&2
  echo "run3d.sh: bay3d.edp failed" >&2
  exit 1
fi
grep -E '^(size|coldest)' <<<"$printed"
awk -f "$here/compare3d.awk" <(printf '%s\n' "$printed") "$here/$name.expected"
