"""The pages that handout.sh made, in a browser: handout_browser.py FOLDER. Prints every complaint; 1 where there are any.

What a page reads is held against the result files of `coldbay face` for the same case (handout_results.py).
"""
import base64
import json
import re
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from selenium.common.exceptions import WebDriverException
from selenium.webdriver.common.by import By
from selenium.webdriver.common.keys import Keys

from handout_driver import (HEIGHT, ask, box_of, browser, click, control, degrees, in_view, load, place_at, point, press,
                            read_at_cross, settle, text_of, type_into, window)
from handout_results import celsius_at, picture_of, table_of, within

# Page and file come from one solution; between lie the samples of the page and pixels of 5 mm, both bilinear.
WITHIN_K = 0.05
HALF_A_TENTH = 0.0501  # what is shown has one decimal
PAPER_POINTS = {"a4": (595.3, 841.9), "letter": (612.0, 792.0)}  # ISO 216; ANSI/ASME Y14.1, 8.5 x 11 in: from memory
complaints = []


def check(true, complaint):
    if not true:
        complaints.append(complaint)
    return true


def attempt(look, driver, page, *arguments):
    """One check; where it cannot even be made, that is a complaint, and the others go on."""
    try:
        look(driver, page, *arguments)
    except (WebDriverException, LookupError, TypeError, ValueError) as error:
        complaints.append(f"{page.name}: {look.__name__} could not be made: {type(error).__name__} {str(error)[:200]}")


def check_quiet(driver, page):
    for entry in driver.get_log("browser"):
        complaints.append(f"{page.name}: the console says {entry['message'][:200]}")
    asked = 0
    for entry in driver.get_log("performance"):
        message = json.loads(entry["message"])["message"]
        if message["method"] == "Network.requestWillBeSent":
            url = message["params"]["request"]["url"]
            asked += url == page.as_uri()
            check(url == page.as_uri() or url.startswith("data:"), f"{page.name}: asks for {url[:200]}")
    check(asked > 0, f"{page.name}: not even the page itself was asked for: the log is empty")
    check(driver.execute_script("return window.pwned") is None, f"{page.name}: a name in the case was run as a script")


def check_drawn(driver, page, views, where):
    broken = driver.execute_script("return [...document.images].filter(i => !i.complete || !i.naturalWidth).length")
    check(broken == 0, f"{page.name}, {where}: {broken} pictures are broken")
    for view, data in views.items():
        # A wall's own sheet leaves out what it has no room for; a fault's shows all three.
        shown = [shows for shows in ("built", "right", "difference")
                 if shows == "built" or ("right" in data and ("-bay-" in view or box_of(driver, view, shows)))]
        for shows in shown:
            if check(box_of(driver, view, shows), f"{page.name}, {where}: {view} has no picture of {shows}"):
                n = ask(driver, "probe.colours(arguments[0], arguments[1])", view, shows)
                # Between studs and bays lie many of the 256 steps of the scale.
                check(n >= 8, f"{page.name}, {where}: {view}, {shows}: {n} colours are no picture")
                apart = ask(driver, "probe.apart(arguments[0], arguments[1])", view, shows)
                # [px] of rounding to whole pixels.
                check(apart <= 1, f"{page.name}, {where}: {view}, {shows}: printed and drawn are {apart} px apart")


def check_readings(driver, page, views, tables):
    for view in list(views)[:4]:
        data, box = views[view], box_of(driver, view)
        (left, top), (right, floor) = place_at(data, 0, 0), place_at(data, 1, 1)
        # A pointer stands on whole pixels, the edges of a picture need not.
        beside = 1.5 * max((right - left) / box.size["width"], (top - floor) / box.size["height"])
        for x, y in [(0.08, 0.1), (0.3, 0.35), (0.5, 0.5), (0.55, 0.97), (0.77, 0.7), (0.97, 0.03)]:
            point(driver, box, x, y)
            read, where = read_at_cross(driver, view), f"{page.name}: {view} at {x}, {y}"
            if not check("built" in read, f"{where}: nothing is read"):
                continue
            across, up = place_at(data, x, y)
            check(abs(read["across"] - across) <= beside and abs(read["up"] - up) <= beside,
                  f"{where}: reads at {read['across']}, {read['up']} instead of {across}, {up}")
            for name in ("built", "right"):
                if name in data:
                    celsius = celsius_at(tables[name], read["across"], read["up"])
                    check(abs(read[name] - celsius) <= WITHIN_K, f"{where}: {name} {read[name]}, in the file {celsius}")
            shown = degrees(text_of(driver, view, ".viewer-readout"))
            check(shown and abs(shown[0] - read["built"]) <= HALF_A_TENTH, f"{where}: shows {shown}, reads {read['built']}")


def check_colours(driver, page, json_views, table, view, coldest, warmest):
    """The colours of a picture are those of its temperatures."""
    ramp, places = base64.b64decode(json_views["palettes"]["hearth"]), [(0.3, 0.5), (0.62, 0.4), (0.9, 0.6)]
    for place, got in zip(places, ask(driver, "probe.at(arguments[0], 'built', arguments[1])", view, places)):
        celsius = celsius_at(table, *place_at(json_views["views"][view], *place))
        k = round(255 * min(max((celsius - coldest) / (warmest - coldest), 0), 1))
        wanted = list(ramp[3 * k:3 * k + 3])
        # 0.05 K and half a pixel are up to 3 % of a span of 3 K: seven steps of 255, each at most 1.5 of a channel.
        check(got[3] == 255 and all(abs(a - b) <= 12 for a, b in zip(got, wanted)),
              f"{page.name}: {view}: {got} at {place} on {coldest} to {warmest} °C, wanted {wanted}")


def check_scale(driver, page, json_views, table, view):
    """Level and span typed in, in degrees Celsius, and as printed again."""
    where, scale = f"{page.name}: {view}", json_views["scale"]
    click(driver, "as-printed")
    if json_views["unit"] == "F":
        click(driver, "unit")
    box_of(driver, view)
    printed, marks = ask(driver, "probe.sum(arguments[0])", view), text_of(driver, view, ".viewer-ticks")
    check_colours(driver, page, json_views, table, view, scale["coldest"], scale["warmest"])
    level, span = round((scale["coldest"] + scale["warmest"]) / 2 + 0.5, 1), 3.0
    type_into(driver, "level", level)
    type_into(driver, "span", span)
    box = ask(driver, "probe.box(arguments[0], 'built')", view)
    top = driver.execute_script("return arguments[0].getBoundingClientRect().top", box)
    check(0 < top < HEIGHT, f"{where}: typing scrolls the picture away, to {top} px")
    check(text_of(driver, view, ".viewer-ticks") != marks, f"{where}: level and span do not change the key")
    changed = ask(driver, "probe.sum(arguments[0])", view)
    check(changed != printed, f"{where}: level and span do not change the picture")
    check_colours(driver, page, json_views, table, view, level - span / 2, level + span / 2)
    seen = within(table, json_views["views"][view]["window"])
    colder = 100 * sum(celsius < level - span / 2 for celsius in seen) / len(seen)
    told = re.search(r"([\d.]+) ?%", text_of(driver, view, "figure .viewer-beyond"))
    # Pixels of file and picture at the edge of a cold patch differ by a percent or two of it.
    check(colder > 5 and told and abs(float(told[1]) - colder) <= 2,
          f"{where}: {colder} % is beyond the scale, it says {told}")
    type_into(driver, "span", "0.1")
    check(ask(driver, "probe.sum(arguments[0])", view) == changed, f"{where}: a span of 0.1 K was taken")
    click(driver, "as-printed")
    check(ask(driver, "probe.sum(arguments[0])", view) == printed, f"{where}: 'as printed' is not as printed")


def check_units(driver, page, view):
    where, values = f"{page.name}: {view}", {}
    point(driver, box_of(driver, view), 0.4, 0.4)
    exact = read_at_cross(driver, view)["built"]
    for _ in range(2):
        text, marks = text_of(driver, view, ".viewer-readout"), text_of(driver, view, ".viewer-ticks")
        unit = "F" if "°F" in text else "C"
        values[unit] = float(control(driver, "level").get_attribute("value")), marks
        shown = float(re.search(rf"(-?[\d.]+) °{unit}", text)[1])
        wanted = exact if unit == "C" else exact * 1.8 + 32
        check(abs(shown - wanted) <= HALF_A_TENTH, f"{where}: {wanted} °{unit} is shown as '{text}'")
        check((" in" if unit == "F" else " m") in text, f"{where}: a length in another unit: {text}")
        click(driver, "unit")
    if check(len(values) == 2, f"{where}: the unit stays {list(values)}"):
        # Both levels are rounded to a tenth: 1.8 * 0.05 + 0.05.
        check(abs(values["C"][0] * 1.8 + 32 - values["F"][0]) <= 0.141, f"{where}: levels {values}")
        check(values["C"][1] != values["F"][1], f"{where}: the key stays {values['C'][1]}")


def check_palette(driver, page, view):
    box_of(driver, view)
    before = ask(driver, "probe.sum(arguments[0])", view)
    control(driver, "palette").send_keys(Keys.ARROW_DOWN)
    settle(driver)
    (r, g, b, _), = ask(driver, "probe.at(arguments[0], 'built', [[0.4, 0.4]])", view)
    check(ask(driver, "probe.sum(arguments[0])", view) != before and max(r, g, b) - min(r, g, b) <= 3,
          f"{page.name}: {view}: in grey, a colour is {r} {g} {b}")
    click(driver, "as-printed")
    check(ask(driver, "probe.sum(arguments[0])", view) == before, f"{page.name}: {view}: grey stays")


def check_wipe(driver, page, view):
    box_of(driver, view)
    places = [(x, y) for x in (0.1, 0.25, 0.4, 0.6, 0.75, 0.9) for y in (0.2, 0.6, 0.95)]
    built, right = (ask(driver, "probe.at(arguments[0], arguments[1], arguments[2])", view, s, places) for s in ("built", "right"))
    check(built != right, f"{page.name}: {view}: built right looks like as built")
    for slid, keys in ((100, [Keys.END]), (50, [Keys.HOME] + [Keys.ARROW_RIGHT] * 50), (0, [Keys.HOME])):
        in_view(driver, view, '[data-does="wipe"]').send_keys(*keys)
        settle(driver)
        wanted = [r if 100 * x < slid else b for (x, _), b, r in zip(places, built, right)]
        got = ask(driver, "probe.at(arguments[0], 'built', arguments[1])", view, places)
        # The pictures may be a pixel apart in width: one step of a gradient.
        check(all(abs(p - q) <= 3 for a, b in zip(got, wanted) for p, q in zip(a, b)),
              f"{page.name}: {view}: wiped to {slid} %, {got}, wanted {wanted}")


def check_keyboard(driver, page, view, data, table):
    where = f"{page.name}: {view} by keyboard"
    load(driver, page)
    box = ask(driver, "probe.box(arguments[0], 'built')", view)
    for _ in range(60):
        press(driver, Keys.TAB)
        if driver.switch_to.active_element == box:
            break
    outline = driver.execute_script("return parseFloat(getComputedStyle(arguments[0]).outlineWidth)", box)
    check(outline >= 2, f"{where}: focus is not to be seen")
    settle(driver)
    start = read_at_cross(driver, view)
    if not check("built" in start, f"{where}: Tab does not reach it, or nothing is read"):
        return
    press(driver, Keys.ARROW_RIGHT, Keys.ARROW_RIGHT, Keys.ARROW_RIGHT, Keys.ARROW_UP)
    press(driver, Keys.ARROW_DOWN, shift=True)
    end = read_at_cross(driver, view)
    check(abs(end["across"] - start["across"] - 0.03) < 1e-9 and abs(end["up"] - start["up"] + 0.09) < 1e-9,
          f"{where}: moved from {start} to {end}")
    celsius = celsius_at(table, end["across"], end["up"])
    check(abs(end["built"] - celsius) <= WITHIN_K, f"{where}: reads {end['built']}, in the file {celsius}")
    time.sleep(0.5)  # what is said waits until the keys rest
    said = driver.execute_script("return document.querySelector('.viewer-live[aria-live=polite]').textContent")
    check(degrees(said), f"{where}: a screen reader is told '{said}'")
    for key, edge in ((Keys.HOME, data["window"]["across"][0]), (Keys.END, data["window"]["across"][1])):
        press(driver, key)
        check(abs(read_at_cross(driver, view)["across"] - edge) < 1e-9, f"{where}: the edge is at {edge}")
    press(driver, Keys.ESCAPE)
    check(read_at_cross(driver, view) == {}, f"{where}: Escape does not hide the reading")


def check_line(driver, page, view, data, table):
    point(driver, box_of(driver, view), 0.5, 0.5)
    up = read_at_cross(driver, view)["up"]
    in_view(driver, view, '[data-does="line"]').send_keys(Keys.ENTER)
    settle(driver)
    said = text_of(driver, view, ".viewer-legend")
    left, right = data["window"]["across"]
    values, shown = [celsius_at(table, left + k / 400 * (right - left), up) for k in range(401)], degrees(said)
    check(len(shown) == 4 and abs(shown[0] - min(values)) < HALF_A_TENTH + WITHIN_K and
          abs(shown[1] - max(values)) < HALF_A_TENTH + WITHIN_K,
          f"{page.name}: {view}: the level line says '{said}', in the file {min(values)} to {max(values)}")
    dashes = ask(driver, "probe.curves(arguments[0])", view)
    check(len(dashes) == 2 and dashes[0] == "none" != dashes[1], f"{page.name}: {view}: curves are dashed as {dashes}")


def check_touch(driver, page, view):
    box = box_of(driver, view, "right")
    x, y = driver.execute_script("""const r = arguments[0].getBoundingClientRect();
      return [r.left + r.width * 0.3, r.top + r.height * 0.5];""", box)
    for kind, points in (("touchStart", [{"x": x, "y": y}]), ("touchEnd", [])):
        driver.execute_cdp_cmd("Input.dispatchTouchEvent", {"type": kind, "touchPoints": points})
    settle(driver)
    check("right" in read_at_cross(driver, view), f"{page.name}: {view}: a touch reads nothing")


def check_plain(driver, page):
    """Without scripts the page stays as it is printed."""
    driver.execute_cdp_cmd("Emulation.setScriptExecutionDisabled", {"value": True})
    driver.get(page.as_uri())
    left = driver.execute_script("""return [document.querySelectorAll('.viewer-bar, canvas').length,
      [...document.querySelectorAll('.thermal img, .key')].filter(e => e.getBoundingClientRect().width < 20).length];""")
    check(left == [0, 0], f"{page.name}: without scripts, controls that are there, pictures and keys that are not: {left}")
    driver.execute_cdp_cmd("Emulation.setScriptExecutionDisabled", {"value": False})


def check_layout(driver, page, where):
    settle(driver)
    for complaint in sorted(set(ask(driver, "probe.layout()"))):
        complaints.append(f"{page.name}, {where}: {complaint}")


def check_access(driver, page):
    complaints.extend(f"{page.name}: {complaint}" for complaint in ask(driver, "probe.access()"))


def check_print(driver, page, paper, folder):
    """One page to a sheet, of the paper's size, nothing beyond its edges, colours kept though nobody asks for backgrounds."""
    printed = driver.execute_cdp_cmd("Page.printToPDF", {"preferCSSPageSize": True, "printBackground": False})
    file = folder / f"{page.stem}.pdf"
    file.write_bytes(base64.b64decode(printed["data"]))
    told = subprocess.run(["pdfinfo", file], capture_output=True, text=True, errors="replace", check=True).stdout
    pages, sheets = int(re.search(r"Pages: +(\d+)", told)[1]), len(driver.find_elements(By.CSS_SELECTOR, "section.sheet"))
    check(pages == sheets > 0, f"{page.name}: {sheets} sheets print on {pages} pages")
    size = [float(n) for n in re.search(r"Page size: +([\d.]+) x ([\d.]+)", told).groups()]
    # [pt]; browsers round to pixels of 1/96 in.
    check(all(abs(a - b) < 1 for a, b in zip(size, PAPER_POINTS[paper])), f"{page.name}: {size} points are not {paper}")
    words = subprocess.run(["pdftotext", "-bbox", file, "-"], capture_output=True, text=True, errors="replace", check=True).stdout
    boxes = re.findall(r'<word xMin="([-\d.]+)" yMin="([-\d.]+)" xMax="([-\d.]+)" yMax="([-\d.]+)">(.*?)</word>', words)
    check(len(boxes) > 10, f"{page.name}: only {len(boxes)} words are printed")
    for x0, y0, x1, y1, word in boxes:
        check(min(float(x0), float(y0)) >= 0 and float(x1) <= size[0] and float(y1) <= size[1],
              f"{page.name}: beyond the edge of the paper: {word}")
    subprocess.run(["pdftoppm", "-r", "36", file, folder / page.stem], check=True)
    for picture in sorted(folder.glob(f"{page.stem}-*.ppm")):
        data = picture.read_bytes()
        pixels = data[re.match(rb"P6\s+\d+\s+\d+\s+255\s", data).end():]
        coloured = 3 * sum(max(c) - min(c) > 24 for c in zip(pixels[0::3], pixels[1::3], pixels[2::3])) / len(pixels)
        # Pictures cover a tenth of a sheet or more; a third of that is left where colours are kept.
        check(coloured > 0.03, f"{page.name}: {picture.name}: {100 * coloured:.1f} % of the page is in colour")


def check_page(driver, page, paper, folder):
    driver.get("about:blank")
    for log in ("browser", "performance"):  # of what was there before
        driver.get_log(log)
    window(driver, 1280)
    load(driver, page)
    json_views = json.loads(driver.execute_script("return document.getElementById('views').textContent"))
    views = json_views["views"]
    both = [view for view in views if "right" in views[view]]
    faults = [view for view in both if "-bay-" in view]
    built = table_of(page.with_suffix("") / "face.csv")
    tables = {"built": built, "right": picture_of(page.with_suffix("") / "face-right.tif", built)}
    if not check(both, f"{page.name}: no view shows the wall built right"):
        return
    attempt(check_drawn, driver, page, views, "1280 px")
    attempt(check_readings, driver, page, views, tables)
    attempt(check_layout, driver, page, "1280 px")
    if page.stem == "wall":
        attempt(check_scale, driver, page, json_views, built, faults[0])  # an empty bay is the costliest
        attempt(check_wipe, driver, page, faults[-1])
        attempt(check_palette, driver, page, both[0])
        attempt(check_keyboard, driver, page, both[0], views[both[0]], built)
    attempt(check_units, driver, page, both[0])
    attempt(check_line, driver, page, both[0], views[both[0]], built)
    attempt(check_access, driver, page)
    attempt(check_print, driver, page, paper, folder)
    window(driver, {"a4": 794, "letter": 816}[paper], media="print")  # [px] of 1/96 in
    attempt(check_layout, driver, page, "printed")
    left = driver.execute_script("""return [...document.querySelectorAll('.viewer-bar, .viewer-panel, .viewer-picture > canvas')]
      .filter(e => e.checkVisibility()).length""")
    check(left == 0, f"{page.name}: {left} controls are printed")
    window(driver, 390, phone=True)
    load(driver, page)
    attempt(check_drawn, driver, page, views, "390 px")
    attempt(check_touch, driver, page, both[0])
    in_view(driver, both[0], '[data-does="line"]').click()
    attempt(check_layout, driver, page, "390 px")
    attempt(check_quiet, driver, page)
    if page.stem == "wall":
        attempt(check_plain, driver, page)


def main():
    folder = Path(sys.argv[1])
    with tempfile.TemporaryDirectory(ignore_cleanup_errors=True) as profile:
        driver = browser(profile)
        try:
            for name, paper in (("wall", "a4"), ("strip", "letter"), ("hostile", "a4")):
                check_page(driver, folder / f"{name}.html", paper, folder)
        finally:
            driver.quit()
    for complaint in complaints:
        print(complaint)
    return 1 if complaints else 0


if __name__ == "__main__":
    sys.exit(main())
