# Compares what a FreeFem++ script printed (first file) with the case file's
# section sums (second file, from section-sums.awk) and with the numbers stored
# in its published block (third file, the case itself). One line per number;
# ends with 1 if any is off, missing or unknown.
#
# Tolerances, each for a stated reason:
#   U      0.02 %    twice the 0.01 % to which every script must converge, so that
#                    another version of the mesh generator or the linear solver
#                    passes and another section does not
#   probe  0.003 K   1.5 times the 0.002 K every script must converge to, which
#                    leaves room for the digits stored
#   sums   0.005 %   rectangles agree to rounding; a slanted edge and a circle are
#                    sampled at 0.5 mm here, which was seen to cost 0.001 %
#   place  1e-6 mm   the same numbers, written down twice

function line(ok, what, got, want, limit) {
  printf "%-4s %-32s %14.7g %14.7g   %s\n", ok ? "ok" : "BAD", what, got, want, limit
  if (!ok) bad = 1
}
function off(a, b) { return a > b ? a - b : b - a }
function compare_sum(what, got, want) {
  line(off(got, want) <= 5e-5 * want, what, got, want, "within 0.005 %")
}

FNR == 1 { file++ }

file == 1 && $1 == "u_value_W_per_m2K" { got["u_value"] = $2 }
file == 1 && $1 == "probe"    { got["probe " $2] = $3 }
file == 1 && $1 == "integral" { sum[$2] = $3 }
file == 1 && $1 == "position" { px[$2] = $3; py[$2] = $4 }

file == 2 && $1 == "integral" { sums++; compare_sum("integral of " $2, sum[$2], $3) }
file == 2 && $1 == "bracket"  { low = $2; high = $3 }
file == 2 && $1 == "position" {
  line($2 in px && off(px[$2], $3) < 1e-6 && off(py[$2], $4) < 1e-6,
       "place of " $2 ", across", px[$2], $3, "within 1e-6 mm")
}

file == 3 && /^published:/ { published = 1 }
file == 3 && published && /- \{what:/ {
  what = $0; sub(/.*what: /, "", what);   sub(/,.*/, "", what)
  want = $0; sub(/.*value: /, "", want);  sub(/ .*/, "", want)
  stored[what] = 1
  if (!(what in got)) { print "BAD  " what " is stored but was not printed"; bad = 1 }
  else if (what == "u_value") line(off(got[what], want) <= 2e-4 * want, what, got[what], want + 0, "within 0.02 %")
  else line(off(got[what], want) <= 0.003, what, got[what], want + 0, "within 0.003 K")
}

END {
  for (what in got) if (!(what in stored)) { print "BAD  " what " was printed but is not stored"; bad = 1 }
  if (sums != 4 || !("u_value" in stored)) { print "BAD  the case file could not be read"; bad = 1 }
  # A solution outside these bounds is wrong whatever its convergence says.
  line(got["u_value"] > low,  "u_value above parallel path", got["u_value"], low, "bound")
  line(got["u_value"] < high, "u_value below isothermal planes", got["u_value"], high, "bound")
  exit bad
}
