// Looked at in the page by handout_browser.py. Each function returns complaints, or what there is.
const probe = {
  name(element) {
    const text = (element.textContent || "").trim().slice(0, 40);
    return `<${element.tagName.toLowerCase()} class="${element.getAttribute("class") || ""}"> ${text}`;
  },

  seen(element) {
    return element.checkVisibility({checkOpacity: true, checkVisibilityCSS: true}) && !element.closest(".viewer-live");
  },

  // Labels of a drawing within it and apart from each other.
  labels(svg) {
    const found = [], slack = 1, frame = svg.getBoundingClientRect(); // [px] of rounding to whole pixels
    const labels = [...svg.querySelectorAll("text")].filter(t => t.textContent.trim()).map(element => {
      const {left, right, top, bottom} = element.getBoundingClientRect();
      // A box is as high as a line of its font; letters without accents fill the middle two thirds of it.
      const inset = Math.min(bottom - top, right - left) / 6;
      return {element, left, right, top: top + inset, bottom: bottom - inset};
    });
    for (const [k, a] of labels.entries()) {
      if (a.left < frame.left - slack || a.right > frame.right + slack || a.top < frame.top - slack ||
          a.bottom > frame.bottom + slack) found.push(`outside of its drawing: ${probe.name(a.element)}`);
      for (const b of labels.slice(k + 1))
        if (a.left + slack < b.right && b.left + slack < a.right && a.top < b.bottom && b.top < a.bottom)
          found.push(`over each other: ${probe.name(a.element)} | ${probe.name(b.element)}`);
    }
    return found;
  },

  // Everything within its sheet, every sheet within the window, nothing cut off.
  layout() {
    const found = [...document.querySelectorAll("svg")].filter(probe.seen).flatMap(probe.labels), slack = 1;
    // Not innerWidth: on a phone the window zooms out to what overflows.
    const {scrollWidth, clientWidth} = document.documentElement;
    if (scrollWidth > clientWidth) found.push(`the page is ${scrollWidth} px wide in a window of ${clientWidth}`);
    for (const sheet of document.querySelectorAll("section.sheet")) {
      const {left, right} = sheet.getBoundingClientRect();
      if (sheet.scrollWidth > sheet.clientWidth) found.push(`#${sheet.id} overflows to the side`);
      for (const element of [sheet, ...sheet.querySelectorAll("*")]) {
        if (element.ownerSVGElement || !probe.seen(element)) continue;
        const box = element.getBoundingClientRect();
        if (box.width > 0 && (box.left < left - slack || box.right > right + slack))
          found.push(`#${sheet.id}: beyond its side: ${probe.name(element)}`);
        const style = getComputedStyle(element), meant = style.textOverflow === "ellipsis" || style.webkitLineClamp !== "none";
        if (style.overflowX === "visible" || style.display === "inline" || meant) continue;
        if (["svg", "INPUT", "SELECT", "CANVAS", "IMG"].includes(element.tagName)) continue;
        if (element.scrollWidth > element.clientWidth + slack || element.scrollHeight > element.clientHeight + slack)
          found.push(`#${sheet.id}: cut off: ${probe.name(element)}`);
      }
    }
    return found;
  },

  // Names, labels, sizes, headings [WCAG 2.2: 1.1.1, 1.3.1, 2.5.8, 3.1.1, 4.1.2; the numbers from memory].
  access() {
    const found = [], all = selector => [...document.querySelectorAll(selector)];
    if (!document.documentElement.lang) found.push("the page does not say its language");
    if (!document.title.trim()) found.push("the page has no title");
    for (const image of all("img"))
      if (!(image.getAttribute("alt") || "").trim()) found.push("a picture without words: " + probe.name(image.parentElement));
    for (const svg of all("figure svg")) {
      const named = svg.getAttribute("aria-label") || svg.getAttribute("aria-labelledby") || svg.querySelector("title");
      if (!(named && svg.getAttribute("role") === "img") && !svg.closest("[aria-hidden=true]"))
        found.push("a drawing without words: " + probe.name(svg));
    }
    for (const input of all("input, select, textarea"))
      if (!input.getAttribute("aria-label") && ![...input.labels].some(l => l.textContent.trim()))
        found.push("an input without a label: " + input.outerHTML);
    for (const button of all("button")) if (!button.textContent.trim()) found.push("a button without a name");
    for (const target of all("button, input, select, summary").filter(probe.seen)) {
      const {width, height} = target.getBoundingClientRect();
      if (width < 24 || height < 24) found.push(`too small to touch, ${width} x ${height}: ${target.outerHTML.slice(0, 80)}`);
    }
    const ids = all("[id]").map(e => e.id);
    for (const id of ids) if (ids.indexOf(id) !== ids.lastIndexOf(id)) found.push("an id that is there twice: " + id);
    let before = 0;
    for (const heading of all("h1, h2, h3, h4, h5, h6")) {
      const level = Number(heading.tagName[1]);
      if (level > before + 1) found.push(`a heading of level ${level} after one of level ${before}: ${probe.name(heading)}`);
      before = level;
    }
    return found.concat(probe.faint());
  },

  // Words too faint on what lies under them [WCAG 2.2: 1.4.3; the formula from memory].
  faint() {
    const found = [];
    for (const element of document.querySelectorAll("body *")) {
      const own = [...element.childNodes].some(n => n.nodeType === Node.TEXT_NODE && n.textContent.trim());
      if (!own || !probe.seen(element) || ["SCRIPT", "STYLE", "OPTION"].includes(element.tagName)) continue;
      const style = getComputedStyle(element), size = parseFloat(style.fontSize);
      const large = size >= 24 || (size >= 18.66 && Number(style.fontWeight) >= 700);
      const colour = probe.colour(element.ownerSVGElement ? style.fill : style.color);
      const ratio = probe.contrast(colour, probe.background(element));
      if (ratio < (large ? 3 : 4.5)) found.push(`contrast ${ratio.toFixed(2)}: ${probe.name(element)}`);
    }
    return found;
  },
  colour(text) {
    const [r, g, b, a = 1] = (text.match(/[\d.]+/g) || [0, 0, 0, 0]).map(Number);
    return [r, g, b, a];
  },
  background(element) {
    const layers = [];
    for (let e = element; e; e = e.parentElement) {
      const layer = probe.colour(getComputedStyle(e).backgroundColor);
      if (layer[3] > 0) layers.push(layer);
      if (layer[3] === 1) break;
    }
    return layers.reverse().reduce((under, over) => under.map((u, k) => u + (over[k] - u) * over[3]), [255, 255, 255]);
  },
  contrast(text, background) {
    const linear = v => v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4;
    const light = rgb => rgb.reduce((sum, v, k) => sum + linear(v / 255) * [0.2126, 0.7152, 0.0722][k], 0);
    const a = light(background.map((u, k) => u + (text[k] - u) * text[3])), b = light(background);
    return (Math.max(a, b) + 0.05) / (Math.min(a, b) + 0.05);
  },

  box(view, shows) {
    return document.querySelector(`.thermal[data-view="${view}"] figure[data-shows="${shows}"] .viewer-picture`);
  },
  canvas(view, shows) { return probe.box(view, shows).querySelector("canvas"); },
  // A copy, which may be read often without the browser's advice in the console.
  copy(canvas) {
    const copy = Object.assign(document.createElement("canvas"), {width: canvas.width, height: canvas.height});
    const context = copy.getContext("2d", {willReadFrequently: true});
    context.drawImage(canvas, 0, 0);
    return context;
  },
  pixels(canvas) { return probe.copy(canvas).getImageData(0, 0, canvas.width, canvas.height).data; },
  // The colours at shares of the width and, from the top, of the height.
  at(view, shows, places) {
    const canvas = probe.canvas(view, shows), context = probe.copy(canvas);
    return places.map(([x, y]) =>
      [...context.getImageData(Math.floor(x * canvas.width), Math.floor(y * canvas.height), 1, 1).data]);
  },
  // How far the edges of what is drawn lie from those of the picture that is printed.
  apart(view, shows) {
    const box = probe.box(view, shows), a = box.querySelector("canvas").getBoundingClientRect();
    const b = box.querySelector("img").getBoundingClientRect();
    return Math.max(...["left", "right", "top", "bottom"].map(side => Math.abs(a[side] - b[side])));
  },
  sum(view) { return probe.pixels(probe.canvas(view, "built")).reduce((sum, value) => (sum * 31 + value) % 4294967291, 7); },
  colours(view, shows) { return new Set(new Uint32Array(probe.pixels(probe.canvas(view, shows)).buffer)).size; },
  curves(view) {
    const paths = document.querySelectorAll(`.thermal[data-view="${view}"] .viewer-plot div path:is(.built, .right)`);
    return [...paths].map(path => getComputedStyle(path).strokeDasharray);
  },
};
