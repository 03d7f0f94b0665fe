# Reads a case in the direct form and works out, without solving anything, what a
# numerical solution of it has to respect. Prints
#   integral NAME VALUE     over the section, as the .edp scripts print them
#   bracket LOW HIGH        [W/(m2 K)] bounds on the U-value
#   position NAME ACROSS DEPTH   of each probe [mm]
#
# LOW, parallel path: no heat moves sideways, each column is a wall of its own.
# HIGH, isothermal planes: heat moves sideways freely at every depth.
# Forbidding sideways flow can only hinder, allowing it can only help, so that
# these are true bounds however the materials lie.
#
# Understands what these cases use: one shape a line, conductivities in W/mK,
# lengths in mm, films in m2K/W, no unit other than those.

function numbers(text, out,    n) {
  n = 0
  while (match(text, /-?[0-9]+(\.[0-9]+)?/)) {
    out[++n] = substr(text, RSTART, RLENGTH) + 0
    text = substr(text, RSTART + RLENGTH)
  }
  return n
}
function after(text, key) { return substr(text, index(text, key) + length(key)) }
function first(text, key,    found) { numbers(after(text, key), found); return found[1] }
function range(text, key,    rest) { rest = after(text, key); return substr(rest, 1, index(rest, "]")) }

# Adds a grid line unless it is there already.
function add(list, n, value,    i) {
  for (i = 1; i <= n; i++) if (list[i] == value) return n
  list[n + 1] = value
  return n + 1
}
# Sorts by insertion, then returns cell middles and widths no wider than `step`:
# exact for rectangles, a fine sample for a slanted edge or a circle.
function cells(list, n, step, middle, size,    i, j, v, m, parts) {
  for (i = 2; i <= n; i++) {
    v = list[i]
    for (j = i - 1; j >= 1 && list[j] > v; j--) list[j + 1] = list[j]
    list[j + 1] = v
  }
  m = 0
  for (i = 1; i < n; i++) {
    parts = int((list[i + 1] - list[i]) / step) + 1
    for (j = 0; j < parts; j++) {
      size[++m] = (list[i + 1] - list[i]) / parts
      middle[m] = list[i] + (j + 0.5) * size[m]
    }
  }
  return m
}
# Counts the edges that a ray towards larger `across` crosses.
function in_polygon(s, x, y,    i, j, odd) {
  odd = 0
  j = corners[s]
  for (i = 1; i <= corners[s]; i++) {
    if ((py[s, i] > y) != (py[s, j] > y) &&
        x < px[s, i] + (y - py[s, i]) * (px[s, j] - px[s, i]) / (py[s, j] - py[s, i])) odd = !odd
    j = i
  }
  return odd
}
function inside(s, x, y) {
  if (kind[s] == "circle") return (x - cx[s])^2 + (y - cy[s])^2 < r[s]^2
  if (kind[s] == "polygon") return in_polygon(s, x, y)
  return x > x0[s] && x < x1[s] && y > y0[s] && y < y1[s]
}

{ sub(/(^|[ \t])#.*/, "") }                       # a comment is not part of the case
/^[a-z]/                   { block = $1 }
block == "section:" && /^  width:/ { width = first($0, "width:"); nx = add(xs, nx, 0); nx = add(xs, nx, width) }
block == "section:" && /^  depth:/ { depth = first($0, "depth:"); ny = add(ys, ny, 0); ny = add(ys, ny, depth) }
block == "air:" && /film:/ { films += first($0, "film:") }
block == "probes:" && /\[/ { name = $1; sub(/:$/, "", name); numbers(range($0, "["), p)
                             print "position", name, p[1], p[2] }
/- \{material:/ {
  s = ++shapes
  k[s] = first($0, "conductivity:")
  if (/polygon:/) {
    kind[s] = "polygon"; step = 0.5
    n = numbers(after($0, "polygon:"), p)
    corners[s] = n / 2
    for (i = 1; i <= corners[s]; i++) {
      px[s, i] = p[2*i - 1]; py[s, i] = p[2*i]
      nx = add(xs, nx, px[s, i]); ny = add(ys, ny, py[s, i])
    }
  } else if (/circle:/) {
    kind[s] = "circle"; step = 0.5
    numbers(range($0, "centre:"), p); cx[s] = p[1]; cy[s] = p[2]
    r[s] = first($0, "radius:")
  } else {
    kind[s] = "rectangle"
    numbers(range($0, "across:"), p); x0[s] = p[1]; x1[s] = p[2]
    numbers(range($0, "depth:"), p);  y0[s] = p[1]; y1[s] = p[2]
    nx = add(xs, nx, x0[s]); nx = add(xs, nx, x1[s])
    ny = add(ys, ny, y0[s]); ny = add(ys, ny, y1[s])
  }
}
END {
  if (!step) step = 50                            # rectangles alone need no sampling
  mm = 0.001
  columns = cells(xs, nx, step, x, w)
  rows = cells(ys, ny, step, y, d)
  for (j = 1; j <= rows; j++) across_sum[j] = 0
  for (i = 1; i <= columns; i++) {
    R = films
    for (j = 1; j <= rows; j++) {
      for (s = shapes; s >= 1 && !inside(s, x[i], y[j]); s--) ;     # the last one painted shows
      if (s < 1) { print "nothing painted at " x[i] ", " y[j] > "/dev/stderr"; exit 1 }
      area = w[i] * d[j] * mm * mm
      integral_k += k[s] * area
      integral_r += area / k[s]
      moment_x += x[i] * mm * area / k[s]
      moment_y += y[j] * mm * area / k[s]
      R += d[j] * mm / k[s]
      across_sum[j] += k[s] * w[i]
    }
    low += w[i] / width / R
  }
  R = films
  for (j = 1; j <= rows; j++) R += d[j] * mm / (across_sum[j] / width)
  printf "integral k %.9g\nintegral 1/k %.9g\n", integral_k, integral_r
  printf "integral x/k %.9g\nintegral depth/k %.9g\n", moment_x, moment_y
  printf "bracket %.6f %.6f\n", low, 1 / R
}
