"""A browser, and what a reader does in it with a page that `coldbay handout` made."""
import re
from pathlib import Path

from selenium import webdriver
from selenium.webdriver.chrome.options import Options
from selenium.webdriver.chrome.service import Service
from selenium.webdriver.common.action_chains import ActionChains
from selenium.webdriver.common.by import By
from selenium.webdriver.common.keys import Keys

PROBE = (Path(__file__).parent / "handout_probe.js").read_text(encoding="utf-8")
HEIGHT = 1600  # of the window [px]: a bay two storeys high fits in


def browser(folder):
    options = Options()
    for argument in ("--headless=new", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
                     "--disable-background-networking", "--disable-component-update", "--disable-sync",
                     "--disable-dev-shm-usage", f"--user-data-dir={folder}"):
        options.add_argument(argument)
    options.set_capability("goog:loggingPrefs", {"browser": "ALL", "performance": "ALL"})
    return webdriver.Chrome(service=Service("/usr/bin/chromedriver"), options=options)


def window(driver, width, phone=False, media=""):
    driver.execute_cdp_cmd("Emulation.setDeviceMetricsOverride", {
        "width": width, "height": 900 if phone else HEIGHT, "deviceScaleFactor": 2 if phone else 1, "mobile": phone})
    driver.execute_cdp_cmd("Emulation.setTouchEmulationEnabled", {"enabled": phone})
    driver.execute_cdp_cmd("Emulation.setEmulatedMedia", {"media": media})


def ask(driver, expression, *arguments):
    return driver.execute_script(f"{PROBE}\nreturn {expression};", *arguments)


def settle(driver):
    """Waits for what three frames draw: one sees what came near, one that it is to be drawn, one draws it."""
    driver.execute_async_script("""const done = arguments[0];
      requestAnimationFrame(() => requestAnimationFrame(() => requestAnimationFrame(done)));""")


def load(driver, page):
    driver.get(page.as_uri())
    settle(driver)


def box_of(driver, view, shows="built"):
    """A picture, scrolled to the middle of the window."""
    box = ask(driver, "probe.box(arguments[0], arguments[1])", view, shows)
    if box is not None:
        driver.execute_script("arguments[0].scrollIntoView({block: 'center'})", box)
        settle(driver)
    return box


def in_view(driver, view, selector):
    return driver.find_element(By.CSS_SELECTOR, f'.thermal[data-view="{view}"] {selector}')


def control(driver, name):
    return driver.find_element(By.CSS_SELECTOR, f'[data-does="{name}"]')


def click(driver, name):
    control(driver, name).click()
    settle(driver)


def point(driver, box, x, y):
    """Moves the mouse to shares of a picture's width and, from the top, height."""
    size = box.size
    ActionChains(driver, duration=0).move_to_element_with_offset(
        box, round((x - 0.5) * size["width"]), round((y - 0.5) * size["height"])).perform()


def read_at_cross(driver, view):
    data = driver.execute_script("return {...arguments[0].dataset}", in_view(driver, view, ".viewer-readout"))
    return {name: float(value) for name, value in data.items()}


def text_of(driver, view, selector):
    return in_view(driver, view, selector).text.replace("\u2212", "-")


def degrees(text):
    """Temperatures in a text, all in degC."""
    return [float(n) if unit == "C" else (float(n) - 32) / 1.8 for n, unit in re.findall(r"(-?[\d.]+) °([CF])", text)]


def type_into(driver, name, text):
    control(driver, name).send_keys(Keys.CONTROL, "a")
    control(driver, name).send_keys(f"{text}{Keys.ENTER}")
    settle(driver)


def press(driver, *keys, shift=False):
    chain = ActionChains(driver, duration=0)
    if shift:
        chain.key_down(Keys.SHIFT)
    chain.send_keys(*keys)
    if shift:
        chain.key_up(Keys.SHIFT)
    chain.perform()


def place_at(data, x, y):
    (left, right), (floor, top) = data["window"]["across"], data["window"]["up"]
    return left + x * (right - left), top - y * (top - floor)
