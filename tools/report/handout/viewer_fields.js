// What the viewer computes: samples, colours, the value at a place, pixels, ticks. Nothing here touches the page, so it runs
// in any interpreter of JavaScript. Lengths in metres; a field is {samples, base, step}, its values base + step * sample,
// its samples at places across and up: index i + across.length * j, j upwards.
const temperatureFields = (() => {
  "use strict";

  const bytes = base64 => Uint8Array.from(atob(base64), c => c.charCodeAt(0));

  const samples = base64 => {
    const raw = bytes(base64), data = new DataView(raw.buffer);
    return Int16Array.from({length: raw.length / 2}, (_, k) => data.getInt16(2 * k, true));
  };

  /// Colours as the canvas has them in memory: red, green, blue, opaque, whatever the order of bytes in a number.
  const ramp = base64 => {
    const rgb = bytes(base64), rgba = new Uint8Array(rgb.length / 3 * 4).fill(255);
    for (let k = 0; 3 * k < rgb.length; ++k) rgba.set(rgb.subarray(3 * k, 3 * k + 3), 4 * k);
    return new Uint32Array(rgba.buffer);
  };

  /// The sample below a place, and how far the place lies towards the next; constant beyond the outermost.
  const bracket = (places, x) => {
    let low = 0, high = places.length - 1;
    if (!(x > places[0])) return [0, 0];
    if (x >= places[high]) return [high, 0];
    while (high - low > 1) {
      const middle = (low + high) >> 1;
      if (places[middle] <= x) low = middle;
      else high = middle;
    }
    return [low, (x - places[low]) / (places[high] - places[low])];
  };

  /// The same for the middles of n pixels from one place to another.
  const brackets = (places, from, to, n) => {
    const lower = new Int32Array(n), upper = new Int32Array(n), share = new Float64Array(n);
    for (let k = 0; k < n; ++k) {
      [lower[k], share[k]] = bracket(places, from + (k + 0.5) / n * (to - from));
      upper[k] = Math.min(lower[k] + 1, places.length - 1);
    }
    return {lower, upper, share};
  };

  /// The value of a field at a place: bilinear between its samples.
  const valueAt = (view, field, across, up) => {
    const n = view.across.length;
    const [i, u] = bracket(view.across, across), [j, v] = bracket(view.up, up);
    const k = Math.min(i + 1, n - 1), l = Math.min(j + 1, view.up.length - 1), s = field.samples;
    const below = s[i + n * j] * (1 - u) + s[k + n * j] * u, above = s[i + n * l] * (1 - u) + s[k + n * l] * u;
    return field.base + field.step * (below * (1 - v) + above * v);
  };

  /// Colours the pixels of columns first to last - 1; counts those beyond the scale by more than a step of the samples.
  const paint = (pixels, places, field, scale, first, last) => {
    const {columns: {lower, upper, share}, rows, n} = places, width = lower.length, height = rows.lower.length;
    const colours = scale.colours, top = colours.length - 1;
    const factor = top / (scale.to - scale.from), slack = field.step * factor;
    const line = new Float64Array(n), beyond = {colder: 0, warmer: 0, pixels: (last - first) * height};
    for (let y = 0; y < height; ++y) {
      const below = n * rows.lower[y], above = n * rows.upper[y], v = rows.share[y];
      for (let i = 0; i < n; ++i) {
        const sample = field.samples[below + i] * (1 - v) + field.samples[above + i] * v;
        line[i] = (field.base + field.step * sample - scale.from) * factor;
      }
      for (let x = first; x < last; ++x) {
        const begin = line[lower[x]], t = begin + (line[upper[x]] - begin) * share[x];
        if (t < -slack) ++beyond.colder;
        else if (t > top + slack) ++beyond.warmer;
        pixels[y * width + x] = colours[t <= 0 ? 0 : t >= top ? top : (t + 0.5) | 0];
      }
    }
    return beyond;
  };

  /// A number as it is written: a true minus, and nothing has no sign.
  const number = (value, digits) => {
    const text = value.toFixed(digits);
    return Number(text) === 0 ? text.replace("-", "") : text.replace("-", "\u2212");
  };

  /// Round numbers between two others, at most about `most` of them.
  const ticks = (from, to, most) => {
    const rough = (to - from) / most, ten = 10 ** Math.floor(Math.log10(rough));
    const step = [1, 2, 5, 10].find(m => m * ten >= rough * 0.999) * ten;
    const digits = Math.max(0, -Math.floor(Math.log10(step) + 1e-9)), found = [];
    for (let k = Math.ceil(from / step - 1e-9); k * step <= to + 1e-9 * step; ++k)
      found.push({value: k * step, text: number(k * step, digits)});
    return found;
  };

  return {samples, ramp, brackets, valueAt, paint, number, ticks};
})();
