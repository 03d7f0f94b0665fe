# Compares what bay3d.edp printed (first file) with the numbers stored in NAME.expected
# (second file). One line per number; ends with 1 if any is off, missing or unknown.
#
# Tolerances, each for a stated reason. The stored numbers are those of the finest
# run; they must hold for the quick one too, which was seen to be off by what
# NAME.expected lists: 0.012 % and 0.009 K at most.
#   heat      0.03 %   twice that
#   probe     0.02 K   twice that
#   integral  1e-8     of its size: both sums are exact, ten digits are stored
#   place     1e-9 m   the probes are read from the second file

function off(a, b) { return a > b ? a - b : b - a }
function line(ok, what, got, want, limit) {
  printf "%-4s %-24s %14.8g %14.8g   %s\n", ok ? "ok" : "BAD", what, got, want, limit
  if (!ok) bad = 1
}

FNR == 1 { file++ }

file == 1 && ($1 == "integral" || $1 == "heat") { got[$1] = $2 }
file == 1 && $1 == "probe" { got[$2] = $5; x[$2] = $3; y[$2] = $4 }

file == 2 && ($1 == "integral" || $1 == "heat") {
  stored[$1] = 1
  within = $1 == "heat" ? 3e-4 : 1e-8
  line($1 in got && off(got[$1], $2) <= within * $2, $1, got[$1], $2, "within " 100 * within " %")
}
file == 2 && $1 == "probe" {
  stored[$2] = 1
  line($2 in got && off(got[$2], $5) <= 0.02 && off(x[$2], $3) < 1e-9 && off(y[$2], $4) < 1e-9,
       $2, got[$2], $5, "within 0.02 K")
}

END {
  for (what in got) if (!(what in stored)) { print "BAD  " what " was printed but is not stored"; bad = 1 }
  if (!("heat" in stored) || !("integral" in stored)) { print "BAD  the stored numbers could not be read"; bad = 1 }
  exit bad
}
