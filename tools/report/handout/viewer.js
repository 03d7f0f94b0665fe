// What enlivens a handout on a screen: temperatures at a place, a line through them, level and span, palette,
// unit, and the wall built right laid over the wall as built. Without it the page is as it is printed.
//
// It comes after viewer_fields.js, reads one JSON object, #views, and finds its pictures by
// .thermal[data-view] figure[data-shows] img.
// Lengths in metres, temperatures in degrees Celsius, units only where something is said to the reader.
(() => {
  "use strict";
  const source = document.getElementById("views");
  if (!source) return;
  const page = JSON.parse(source.textContent);
  const {samples, ramp, brackets, valueAt, paint, number, ticks} = temperatureFields;

  const units = {
    C: {degree: "°C", difference: "K", ratio: 1, zero: 0, leastSpan: 0.5, length: "m", perMetre: 1, digits: 2},
    F: {degree: "°F", difference: "°F", ratio: 1.8, zero: 32, leastSpan: 1, length: "in", perMetre: 1 / 0.0254, digits: 1},
  };
  const smallStep = 0.01, largeStep = 0.1; // of the cross-hair [m]
  const printed = {palette: page.palette, unit: page.unit, coldest: page.scale.coldest, warmest: page.scale.warmest};
  const state = {...printed};
  const unit = () => units[state.unit];

  // ---- words and numbers -------------------------------------------------------------------------------------

  /// The sentence of that name in the language of the page, its {places} filled in.
  const say = (key, values = {}) =>
    (page.words[key] ?? key).replace(/\{(\w+)\}/g, (whole, name) => values[name] ?? whole);

  const shown = celsius => celsius * unit().ratio + unit().zero;
  const temperature = celsius => `${number(shown(celsius), 1)} ${unit().degree}`;
  const difference = kelvin => `${kelvin >= 0.05 ? "+" : ""}${number(kelvin * unit().ratio, 1)} ${unit().difference}`;
  const length = metres => `${number(metres * unit().perMetre, unit().digits)} ${unit().length}`;

  // ---- elements ----------------------------------------------------------------------------------------------

  const fill = (element, attributes, children) => {
    for (const [name, value] of Object.entries(attributes)) element.setAttribute(name, value);
    element.append(...children);
    return element;
  };
  const make = (tag, attributes = {}, ...children) => fill(document.createElement(tag), attributes, children);
  const draw = (tag, attributes = {}, ...children) =>
    fill(document.createElementNS("http://www.w3.org/2000/svg", tag), attributes, children);

  const palettes = Object.fromEntries(Object.entries(page.palettes).map(([name, data]) => [name, ramp(data)]));
  const plumb = ramp(page.plumb);
  const scaleOf = shows =>
    shows === "difference" ? {colours: plumb, from: -page.difference, to: page.difference}
                           : {colours: palettes[state.palette], from: state.coldest, to: state.warmest};

  // ---- pictures ----------------------------------------------------------------------------------------------

  /// Small signs on a difference, so that colder and warmer are told apart without colour.
  const drawSigns = (context, view, pixel) => {
    const {across, up} = view.window, gap = 26 * pixel, arm = 3 * pixel, {width, height} = context.canvas;
    context.strokeStyle = "rgba(255, 255, 255, 0.9)";
    context.lineWidth = 1.25 * pixel;
    context.beginPath();
    for (let y = gap / 2; y < height; y += gap)
      for (let x = gap / 2; x < width; x += gap) {
        const kelvin = valueAt(view, view.fields.difference, across[0] + x / width * (across[1] - across[0]),
                               up[1] - y / height * (up[1] - up[0]));
        if (Math.abs(kelvin) < 0.4 * page.difference) continue;
        context.moveTo(x - arm, y);
        context.lineTo(x + arm, y);
        if (kelvin < 0) continue;
        context.moveTo(x, y - arm);
        context.lineTo(x, y + arm);
      }
    context.stroke();
  };

  const drawPicture = (view, picture) => {
    const {canvas, shows} = picture, pixel = Math.min(window.devicePixelRatio || 1, 2);
    const width = Math.round(picture.box.clientWidth * pixel), height = Math.round(picture.box.clientHeight * pixel);
    if (width < 1 || height < 1) return;
    if (canvas.width !== width || canvas.height !== height || !picture.places) {
      [canvas.width, canvas.height] = [width, height];
      const {across, up} = view.window;
      picture.image = new ImageData(width, height);
      picture.places = {n: view.across.length, columns: brackets(view.across, across[0], across[1], width),
                        rows: brackets(view.up, up[1], up[0], height)};
    }
    const pixels = new Uint32Array(picture.image.data.buffer), scale = scaleOf(shows);
    const cut = shows === "built" && view.wipe ? Math.round(width * view.wipe.value / 100) : 0;
    const parts = [paint(pixels, picture.places, view.fields[shows], scale, cut, width)];
    if (cut > 0) parts.push(paint(pixels, picture.places, view.fields.right, scale, 0, cut));
    const context = canvas.getContext("2d");
    context.putImageData(picture.image, 0, 0);
    if (shows === "difference") drawSigns(context, view, pixel);
    picture.divider.hidden = cut === 0;
    picture.divider.style.left = `${100 * cut / width}%`;
    const sum = name => parts.reduce((total, part) => total + part[name], 0);
    const told = ["colder", "warmer"].filter(name => sum(name) > 0).map(name => {
      const percent = 100 * sum(name) / sum("pixels");
      return say(`beyond_${name}`, {percent: percent < 1 ? "<\u00a01" : number(percent, 0)});
    });
    picture.beyond.textContent = told.join(" ");
  };

  const drawKey = (view, key) => {
    const {colours, from, to} = scaleOf(key.shows), kelvin = key.shows === "difference";
    const rgb = new Uint8Array(colours.buffer), stops = [];
    for (let k = 0; k <= 32; ++k) {
      const c = 4 * Math.round(k / 32 * (colours.length - 1));
      stops.push(`rgb(${rgb[c]}, ${rgb[c + 1]}, ${rgb[c + 2]})`);
    }
    key.bar.style.backgroundImage = `linear-gradient(to right, ${stops.join(", ")})`;
    const inUnit = value => kelvin ? value * unit().ratio : shown(value), begin = inUnit(from), end = inUnit(to);
    key.ticks.replaceChildren(...ticks(begin, end, 6).map(({value, text}) => {
      const tick = make("span", {}, kelvin && value > 0 ? `+${text}` : text);
      tick.style.left = `${100 * (value - begin) / (end - begin)}%`;
      return tick;
    }));
    key.name.textContent = say(kelvin ? "key_difference" : "key_temperature",
                               {unit: kelvin ? unit().difference : unit().degree});
  };

  // ---- a place and a line ------------------------------------------------------------------------------------

  const reading = view => {
    const {across, up} = view.place, values = {};
    for (const shows of Object.keys(view.fields)) values[shows] = valueAt(view, view.fields[shows], across, up);
    return values;
  };

  const showPlace = view => {
    const {readout, place, window: {across, up}} = view, values = place ? reading(view) : {};
    for (const {shows, vertical, level, tag} of view.pictures) {
      vertical.hidden = level.hidden = tag.hidden = !place;
      if (!place) continue;
      const x = (place.across - across[0]) / (across[1] - across[0]), y = (place.up - up[0]) / (up[1] - up[0]);
      vertical.style.left = tag.style.left = `${100 * x}%`;
      level.style.bottom = tag.style.bottom = `${100 * y}%`;
      tag.textContent = shows === "difference" ? difference(values[shows]) : temperature(values[shows]);
      tag.className = `viewer-tag ${x > 0.5 ? "left" : "right"} ${y > 0.5 ? "below" : "above"}`;
    }
    for (const name of ["across", "up", "built", "right"]) delete readout.dataset[name];
    if (!place) {
      readout.replaceChildren(say("prompt"));
      return;
    }
    Object.assign(readout.dataset, place);
    for (const name of ["built", "right"]) if (name in values) readout.dataset[name] = values[name];
    const where = say("place", {across: length(place.across), up: length(place.up)});
    readout.replaceChildren(make("span", {}, where), ...Object.entries(values).map(([shows, value]) =>
      make("b", {}, `${say(shows)} ${shows === "difference" ? difference(value) : temperature(value)}`)));
  };

  /// Temperatures along the line through the place: [{name, dashed, points: [[metres, degC]]}].
  const profile = view => {
    const level = view.line === "level", [from, to] = level ? view.window.across : view.window.up, n = 300;
    return ["built", "right"].filter(name => name in view.fields).map(name => ({
      name, dashed: name === "right", points: Array.from({length: n + 1}, (_, k) => {
        const s = from + k / n * (to - from);
        return [s, level ? valueAt(view, view.fields[name], s, view.place.up)
                         : valueAt(view, view.fields[name], view.place.across, s)];
      })}));
  };

  const drawProfile = view => {
    view.lineButton.textContent = say(`line_${view.line}`);
    view.plot.hidden = view.line === "none" || !view.place;
    if (view.plot.hidden) return;
    const curves = profile(view), level = view.line === "level", all = curves.flatMap(c => c.points.map(p => p[1]));
    const width = Math.max(280, view.plot.clientWidth), height = 190, left = 52, right = 14, top = 22, bottom = 40;
    const coldest = shown(Math.min(...all)), warmest = shown(Math.max(...all));
    const margin = Math.max(0.1, (warmest - coldest) * 0.06), low = coldest - margin, high = warmest + margin;
    const [from, to] = (level ? view.window.across : view.window.up).map(metres => metres * unit().perMetre);
    const x = value => left + (value - from) / (to - from) * (width - left - right);
    const y = value => height - bottom - (value - low) / (high - low) * (height - top - bottom);
    const here = x((level ? view.place.across : view.place.up) * unit().perMetre);
    const ranges = curves.map(({name, points}) => {
      const values = points.map(p => p[1]);
      return say("range", {name: say(name), least: temperature(Math.min(...values)), most: temperature(Math.max(...values))});
    });
    const title = say(`profile_${view.line}`, {place: length(level ? view.place.up : view.place.across)});
    const path = points => points.map(([metres, celsius], k) =>
      `${k ? "L" : "M"}${x(metres * unit().perMetre).toFixed(1)} ${y(shown(celsius)).toFixed(1)}`).join("");
    view.drawing.replaceChildren(draw("svg", {
      viewBox: `0 0 ${width} ${height}`, role: "img", "aria-label": `${title}. ${ranges.join(" ")}`},
      ...ticks(low, high, 5).flatMap(({value, text}) => [
        draw("line", {class: "grid", x1: left, x2: width - right, y1: y(value), y2: y(value)}),
        draw("text", {x: left - 6, y: y(value) + 4, "text-anchor": "end"}, text)]),
      ...ticks(from, to, Math.min(8, width / 80)).flatMap(({value, text}) => [
        draw("line", {class: "tick", x1: x(value), x2: x(value), y1: height - bottom, y2: height - bottom + 4}),
        draw("text", {x: x(value), y: height - bottom + 17, "text-anchor": "middle"}, text)]),
      draw("text", {x: 2, y: 12}, unit().degree),
      draw("text", {x: width - right, y: height - 5, "text-anchor": "end"},
           say(level ? "axis_across" : "axis_up", {unit: unit().length})),
      draw("path", {class: "axis", d: `M${left} ${top}V${height - bottom}H${width - right}`}),
      draw("line", {class: "here", x1: here, x2: here, y1: top, y2: height - bottom}),
      ...curves.map(({dashed, points}) => draw("path", {class: dashed ? "right" : "built", d: path(points)}))));
    view.legend.replaceChildren(make("span", {}, title), ...curves.map(({dashed}, k) => make("span", {},
      draw("svg", {width: 34, height: 10, "aria-hidden": "true"},
           draw("path", {class: dashed ? "right" : "built", d: "M1 5H33"})), ranges[k])));
  };

  // ---- drawing when something changed ------------------------------------------------------------------------

  const views = [], waiting = new Set();
  const drawWaiting = () => {
    for (const view of [...waiting].filter(v => v.near)) {
      waiting.delete(view);
      for (const picture of view.pictures) drawPicture(view, picture);
      for (const key of view.keys) drawKey(view, key);
      showPlace(view);
      drawProfile(view);
    }
  };
  /// Has these views drawn, each when it comes near the window.
  const redraw = changed => {
    for (const view of changed) waiting.add(view);
    requestAnimationFrame(drawWaiting);
  };

  const live = make("p", {class: "viewer-live", "aria-live": "polite"});
  let speaking = 0;
  /// Tells a screen reader, once the keys are let go.
  const speak = view => {
    clearTimeout(speaking);
    speaking = setTimeout(() => { live.textContent = [...view.readout.childNodes].map(n => n.textContent).join(" "); }, 300);
  };

  const moveTo = (view, place) => {
    const within = (value, [from, to]) => Math.min(Math.max(value, from), to);
    view.place = place && {across: within(place.across, view.window.across), up: within(place.up, view.window.up)};
    showPlace(view);
    drawProfile(view);
  };
  const middle = ({window: {across, up}}) => ({across: (across[0] + across[1]) / 2, up: (up[0] + up[1]) / 2});

  const pointed = (view, box, event) => {
    const {left, top, width, height} = box.getBoundingClientRect(), {across, up} = view.window;
    moveTo(view, {across: across[0] + (event.clientX - left) / width * (across[1] - across[0]),
                  up: up[1] - (event.clientY - top) / height * (up[1] - up[0])});
  };

  const pressed = (view, event) => {
    const step = event.shiftKey ? largeStep : smallStep, {across, up} = view.place ?? middle(view);
    const places = {
      ArrowLeft: {across: across - step, up}, ArrowRight: {across: across + step, up},
      ArrowUp: {across, up: up + step}, ArrowDown: {across, up: up - step},
      Home: {across: view.window.across[0], up}, End: {across: view.window.across[1], up}, Escape: null,
    };
    if (!(event.key in places) || event.altKey || event.ctrlKey || event.metaKey) return;
    event.preventDefault();
    moveTo(view, places[event.key]);
    speak(view);
  };

  // ---- what is added to the page -----------------------------------------------------------------------------

  const enliven = (view, figure) => {
    const shows = figure.dataset.shows, image = figure.querySelector("img");
    if (!image || !(shows in view.fields)) return;
    let box = image.closest(".picture");
    if (!box) image.replaceWith(box = make("div", {class: "picture"}));
    if (!box.contains(image)) box.append(image);
    const hidden = name => make("span", {class: name, hidden: "", "aria-hidden": "true"});
    const picture = {
      box, shows, canvas: make("canvas", {"aria-hidden": "true"}), beyond: make("p", {class: "viewer-beyond"}),
      divider: hidden("viewer-divider"), vertical: hidden("viewer-vertical"), level: hidden("viewer-level"),
      tag: hidden("viewer-tag")};
    fill(box, {tabindex: "0", role: "application", "aria-roledescription": say("picture"),
               "aria-label": say(shows), "aria-describedby": "viewer-keys"},
         [picture.canvas, picture.divider, picture.vertical, picture.level, picture.tag]);
    box.classList.add("viewer-picture");
    figure.append(picture.beyond);
    for (const event of ["pointermove", "pointerdown"]) box.addEventListener(event, e => pointed(view, box, e));
    box.addEventListener("keydown", event => pressed(view, event));
    box.addEventListener("focus", () => {
      if (!box.matches(":focus-visible")) return;
      if (!view.place) moveTo(view, middle(view));
      speak(view);
    });
    view.pictures.push(picture);
  };

  const makeKey = shows => {
    const key = {shows, name: make("span", {class: "viewer-key-name"}), bar: make("div", {class: "viewer-ramp"}),
                 ticks: make("div", {class: "viewer-ticks"})};
    return {...key, element: make("div", {class: "viewer-key", "data-key": shows}, key.name, key.bar, key.ticks)};
  };

  const addPanel = (view, element) => {
    view.readout = make("p", {class: "viewer-readout"});
    view.keys = ["built", "difference"].filter(name => name in view.fields).map(makeKey);
    view.lineButton = make("button", {type: "button", "data-does": "line"}, say("line_none"));
    view.lineButton.addEventListener("click", () => {
      view.line = {none: "level", level: "upright", upright: "none"}[view.line];
      moveTo(view, view.place ?? middle(view));
    });
    const controls = make("div", {class: "viewer-controls"}, view.lineButton);
    if ("right" in view.fields) {
      view.wipe = make("input", {type: "range", min: "0", max: "100", value: "0", "data-does": "wipe"});
      view.wipe.addEventListener("input", () => {
        view.wipe.setAttribute("aria-valuetext", say("wipe_share", {percent: view.wipe.value}));
        redraw([view]);
      });
      controls.append(make("label", {}, make("span", {}, say("wipe")), view.wipe));
    }
    view.drawing = make("div");
    view.legend = make("p", {class: "viewer-legend"});
    view.plot = make("div", {class: "viewer-plot", hidden: ""}, view.drawing, view.legend);
    element.append(make("div", {class: "viewer-panel"}, make("div", {class: "viewer-keys"}, ...view.keys.map(k => k.element)),
                        view.readout, controls, view.plot));
  };

  const bar = make("div", {class: "viewer-bar", role: "group", "aria-label": say("bar")});
  const labelled = (key, input, ...after) => make("label", {}, make("span", {}, say(key)), input, ...after);
  const choice = make("select", {"data-does": "palette"},
                      ...Object.keys(palettes).map(name => make("option", {value: name}, say(`palette_${name}`))));
  const level = make("input", {type: "number", step: "0.5", "data-does": "level"}), levelUnit = make("span");
  const span = make("input", {type: "number", step: "0.5", "data-does": "span"}), spanUnit = make("span");
  const unitButton = make("button", {type: "button", "data-does": "unit"});
  const resetButton = make("button", {type: "button", "data-does": "as-printed"}, say("as_printed"));

  const showState = () => {
    choice.value = state.palette;
    level.value = shown((state.coldest + state.warmest) / 2).toFixed(1);
    span.value = ((state.warmest - state.coldest) * unit().ratio).toFixed(1);
    span.min = unit().leastSpan;
    levelUnit.textContent = unit().degree;
    spanUnit.textContent = unit().difference;
    unitButton.textContent = say(state.unit === "C" ? "show_fahrenheit" : "show_celsius");
    redraw(views);
  };
  /// The scale as typed; what is not a number, or too small a span, is passed over until it is one.
  const readScale = () => {
    const [typedLevel, typedSpan] = [level.valueAsNumber, span.valueAsNumber];
    if (!Number.isFinite(typedLevel) || !(typedSpan >= unit().leastSpan)) return;
    const centre = (typedLevel - unit().zero) / unit().ratio, half = typedSpan / unit().ratio / 2;
    [state.coldest, state.warmest] = [centre - half, centre + half];
    redraw(views);
  };
  const set = changes => {
    Object.assign(state, changes);
    showState();
  };

  const addBar = () => {
    choice.addEventListener("change", () => set({palette: choice.value}));
    for (const input of [level, span]) {
      input.addEventListener("input", readScale);
      input.addEventListener("change", showState);
    }
    unitButton.addEventListener("click", () => set({unit: state.unit === "C" ? "F" : "C"}));
    resetButton.addEventListener("click", () => {
      for (const view of views) if (view.wipe) view.wipe.value = 0;
      set(printed);
    });
    bar.append(labelled("palette", choice), unitButton, resetButton, labelled("level", level, levelUnit),
               labelled("span", span, spanUnit));
    document.body.prepend(bar);
    document.body.append(live, make("p", {id: "viewer-keys", hidden: ""}, say("keys")));
  };

  const near = new IntersectionObserver(entries => {
    for (const {target, isIntersecting} of entries) views.find(v => v.element === target).near = isIntersecting;
    requestAnimationFrame(drawWaiting);
  }, {rootMargin: "400px"});
  const resized = new ResizeObserver(entries => redraw(views.filter(v => entries.some(e => v.element === e.target))));

  for (const element of document.querySelectorAll(".thermal[data-view]")) {
    const data = page.views[element.dataset.view];
    if (!data) continue;
    const view = {...data, element, fields: {}, pictures: [], place: null, line: "none", near: false};
    for (const name of ["built", "right"])
      if (data[name]) view.fields[name] = {samples: samples(data[name]), base: data.base, step: data.step};
    if (view.fields.right)
      view.fields.difference = {base: 0, step: data.step,
        samples: Int32Array.from(view.fields.built.samples, (s, k) => s - view.fields.right.samples[k])};
    for (const figure of element.querySelectorAll("figure[data-shows]")) enliven(view, figure);
    addPanel(view, element);
    views.push(view);
    near.observe(element);
    resized.observe(element);
  }
  if (views.length === 0) return;
  document.documentElement.classList.add("enlivened");
  addBar();
  showState();
})();
