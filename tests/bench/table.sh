#!/usr/bin/env bash
# table.sh [BENCHMARK_PROGRAM]     by default build/tests/coldbay_bench, built as Release
# Runs the benchmarks (a quarter of an hour or so; leave the machine alone meanwhile) and writes the table
# in the Performance section of DEVELOPERS.md, between its two markers. Medians of three.
# Solves that failed are named below the table, and the exit code is 1.
# With BENCH_JSON=FILE it runs nothing and takes the results from there; with BENCH_FILTER=REGEX it runs
# and shows only those.
set -euo pipefail
export LC_ALL=C

root=$(cd "$(dirname "${BASH_SOURCE[0]}")/../.." && pwd)
program=${1:-$root/build/tests/coldbay_bench}
document=$root/DEVELOPERS.md
begin='<!-- performance: begin -->'
end='<!-- performance: end -->'

for marker in "$begin" "$end"; do
  [ "$(grep -cFx -- "$marker" "$document")" = 1 ] || {
    echo "table.sh: $document should have one line '$marker'" >&2
    exit 1
  }
done

scratch=$(mktemp -d)
trap 'rm -rf "$scratch"' EXIT
failed=0
results=${BENCH_JSON:-$scratch/results.json}
if [ -z "${BENCH_JSON:-}" ]; then
  [ -x "$program" ] || { echo "table.sh: there is no program $program" >&2; exit 1; }
  # The small sizes of the peers are there for ctest alone.
  large='BM_(Peer|Rasterise|ReadFive).*/[0-9]{6,}/'
  filter=${BENCH_FILTER:-"BM_Solve|BM_Forecast|$large"}
  "$program" --benchmark_filter="$filter" --benchmark_repetitions=3 --benchmark_report_aggregates_only=true \
    --benchmark_out_format=json --benchmark_out="$results" 2> >(tee "$scratch/said" >&2) >&2 || failed=1
fi

machine=$(sed -n 's/^model name[[:space:]]*: //p' /proc/cpuinfo | head -n 1)

# The JSON has one "key": value per line. Names are BM_WHAT/FAMILY/SIZE/real_time.
awk -v machine="${machine:-unknown processor}" '
  function grouped(n,   s, tail) {  # 3303016 -> 3,303,016
    s = sprintf("%.0f", n)
    for (; length(s) > 3; s = substr(s, 1, length(s) - 3)) tail = "," substr(s, length(s) - 2) tail
    return s tail
  }
  function figures(x) { return x >= 10 ? grouped(x) : sprintf("%.1f", x) }
  function duration(ms) {
    if (ms >= 1000) return sprintf(ms >= 10000 ? "%.0f s" : "%.2g s", ms / 1000)
    return ms >= 10 ? sprintf("%.0f ms", ms) : sprintf("%.2g ms", ms)
  }
  BEGIN {
    what["BM_Solve"] = "**solve**"; what["BM_SolveBlock"] = "**solve**"
    what["BM_PeerLdlt"] = "Eigen, sparse Cholesky"
    what["BM_PeerCgDiagonal"] = "Eigen, CG with the diagonal"
    what["BM_PeerPfmg"] = "hypre, CG with PFMG"
    what["BM_PeerSmg"] = "hypre, CG with SMG"
    what["BM_Rasterise"] = "rasterise"; what["BM_Forecast"] = "whole forecast, all its grids"
    what["BM_ReadFiveWriteOne"] = "read five doubles, write one"
    on["uniform"] = "even"; on["graded"] = "graded"; on["steel_rod"] = "steel rod"
  }
  function label(name,   part) {
    split(name, part, "/")
    if (part[1] == "BM_ReadFiveWriteOne") {
      sub("threads:", "", part[3])
      return what[part[1]] ", threads: " part[3] " | -"
    }
    return what[part[1]] " | " (part[2] in on ? on[part[2]] : "graded")
  }
  function finish() {
    if (v["aggregate_name"] == "median") {
      rows = rows "| " label(v["run_name"]) " | " grouped(v["cells"]) " | " duration(v["real_time"]) " | " \
        figures(v["ns_per_cell"]) " | " ("solver_iterations" in v ? sprintf("%d", v["solver_iterations"]) : "-") " | " \
        ("bytes_per_cell" in v ? figures(v["bytes_per_cell"]) : "-") " |\n"
      if (v["run_name"] ~ /^BM_Solve/) add_to_fit(v["run_name"], log(v["cells"]), log(v["real_time"]))
    }
    split("", v)
  }
  function add_to_fit(name, x, y,   part) {
    split(name, part, "/")
    f = part[2]
    if (!(f in n)) order[++families] = f
    ++n[f]; sx[f] += x; sy[f] += y; sxx[f] += x * x; sxy[f] += x * y
  }
  function power(f) { return (n[f] * sxy[f] - sx[f] * sy[f]) / (n[f] * sxx[f] - sx[f] * sx[f]) }

  /^ *"[a-z_]+": / {
    key = $1; gsub(/[":]/, "", key)
    value = $0; sub(/^ *"[a-z_]+": /, "", value); sub(/,$/, "", value); gsub(/^"|"$/, "", value)
    if (key == "date") date = substr(value, 1, 10)
    if (key == "num_cpus") cores = value
    if (key == "compiler") compiler = value
    v[key] = value ~ /^[-+.0-9eE]+$/ ? value + 0 : value
  }
  /"benchmarks": \[/ { split("", v) }
  /^    \}/ { finish() }
  END {
    if (rows == "") { print "table.sh: there are no results" > "/dev/stderr"; exit 1 }
    printf "%s, %d cores, compiled by %s, %s. Medians of three.\n\n", machine, cores, compiler, date
    print "| what | grid | cells | time | ns a cell | iterations | bytes a cell |"
    print "|---|---|---|---|---|---|---|"
    printf "%s", rows
    for (i = 1; i <= families; ++i)
      if (n[order[i]] > 2) {
        growth = growth (growth == "" ? "" : ", ") on[order[i]] sprintf(" %.2f", power(order[i]))
      }
    if (growth != "") printf "\nFitted, the time of a solve grows as cells to the power of: %s.\n", growth
  }' "$results" >"$scratch/table.md"

if [ "$failed" = 1 ]; then
  { echo; sed -n 's/^ERROR OCCURRED in /Failed: /p' "$scratch/said" | sort -u; } >>"$scratch/table.md"
fi
if [ -n "${BENCH_FILTER:-}" ]; then
  cat "$scratch/table.md"
  exit "$failed"
fi
awk -v begin="$begin" -v end="$end" -v table="$scratch/table.md" '
  $0 == end { inside = 0 }
  !inside
  $0 == begin { inside = 1; while ((getline line < table) > 0) print line }' "$document" >"$scratch/document.md"
cat "$scratch/document.md" >"$document"
echo "table.sh: wrote the Performance table of DEVELOPERS.md"
exit "$failed"
