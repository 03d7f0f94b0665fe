"""The result files of `coldbay face`, read by other code than what wrote them. A table is (across, up, rows): places of
the middles of pixels [m], rows from the floor up [degC]."""
import csv
import struct


def table_of(path):
    """face.csv."""
    with open(path, encoding="utf-8", newline="") as file:
        lines = list(csv.reader(file))
    assert lines[0] == ["across [m]", "up [m]", "temperature [°C]"], lines[0]
    rows = {}
    for across, up, celsius in lines[1:]:
        rows.setdefault(float(up), {})[float(across)] = float(celsius)
    ups = sorted(rows)
    acrosses = sorted(rows[ups[0]])
    return acrosses, ups, [[rows[up][across] for across in acrosses] for up in ups]


def picture_of(path, like):
    """face-right.tif: little-endian, not compressed, 32-bit numbers, the top row first; of the places of another table."""
    data = path.read_bytes()
    directory = struct.unpack_from("<I", data, 4)[0]
    tags = {}
    for k in range(struct.unpack_from("<H", data, directory)[0]):
        entry = directory + 2 + 12 * k
        tag, kind, n = struct.unpack_from("<HHI", data, entry)
        code, size = {3: ("H", 2), 4: ("I", 4)}.get(kind, (None, 0))
        if code:
            at = entry + 8 if n * size <= 4 else struct.unpack_from("<I", data, entry + 8)[0]
            tags[tag] = struct.unpack_from(f"<{n}{code}", data, at)
    columns, rows = tags[256][0], tags[257][0]
    assert (columns, rows) == (len(like[0]), len(like[1])), (columns, rows)
    raw = b"".join(data[at:at + n] for at, n in zip(tags[273], tags[279]))
    values = struct.unpack(f"<{columns * rows}f", raw)
    return like[0], like[1], [list(values[columns * r:columns * (r + 1)]) for r in reversed(range(rows))]


def between(places, x):
    """The places on either side of x, and how far it is towards the second."""
    if x <= places[0]:
        return 0, 0, 0.0
    for k in range(len(places) - 1):
        if x < places[k + 1]:
            return k, k + 1, (x - places[k]) / (places[k + 1] - places[k])
    return len(places) - 1, len(places) - 1, 0.0


def celsius_at(table, across, up):
    """Bilinear between the pixels."""
    acrosses, ups, rows = table
    i, k, u = between(acrosses, across)
    j, m, v = between(ups, up)
    return (rows[j][i] * (1 - u) + rows[j][k] * u) * (1 - v) + (rows[m][i] * (1 - u) + rows[m][k] * u) * v


def within(table, window):
    """All temperatures of the pixels in a window."""
    acrosses, ups, rows = table
    (left, right), (floor, top) = window["across"], window["up"]
    return [celsius for up, row in zip(ups, rows) if floor <= up <= top
            for across, celsius in zip(acrosses, row) if left <= across <= right]
