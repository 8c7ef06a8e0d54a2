// Lays interactive charts over the still figures of a report.
//
// For every <script type="application/json" data-chart="ID"> it makes a chart in
// <div class="live" data-for="ID">, and for one of the type application/gzip, whose
// JSON is packed, once the figure comes near. It hides the still figure only once that
// chart has drawn itself. Without the charting library, or when a chart fails,
// the still figure stays. On paper the still figure always shows.
//
// Picking a sample: a click on its mark sends the event "sample-picked" with
// detail {sample} to the document; every chart rings that sample or draws its
// line thick, and elements whose data-sample is that name get the class
// "picked". A second click or Escape sends the event with sample null. With the
// keyboard, a chart is one stop of the Tab key; the arrow keys go from sample to
// sample and say what the hover box says, Enter picks.
//
// Text from the data is only ever set as text: nothing is evaluated and nothing
// is parsed as markup.
(function () {
  "use strict";

  const library = globalThis.echarts;
  if (!library) return;

  const TRIANGLE_HEIGHT = Math.sqrt(3) / 2;
  const STILL = 150; // ms after which a page counts as no longer moving
  const MANY_MARKS = 600; // from which on pixels are drawn faster than shapes
  const charts = [];
  let picked = null;

  const clamp = (lo, v, hi) => Math.max(lo, Math.min(v, hi));
  const longest = (texts) => texts.reduce((n, t) => Math.max(n, t.length), 0);
  const seriesOf = (option, id) => option.series.find((s) => s.id === id);

  // ---- what the option leaves to the script -------------------------------

  // The renderers of custom series, by the name in the option. Sizes in pixels.
  const stroke = (api, width) => ({ stroke: api.visual("color"), lineWidth: width, fill: "none" });
  const path = (api, width, points) => ({ type: "polyline", shape: { points: points }, style: stroke(api, width), silent: true });
  const arrow = (dx, dy) => (params, api) => {
    const at = api.coord([api.value(0), api.value(1)]);
    const tip = [at[0] + 15 * dx, at[1] + 15 * dy];
    const barb = (side) => [tip[0] - 4 * dx + 3 * side * dy, tip[1] - 4 * dy + 3 * side * dx];
    return { type: "group", children: [path(api, 1.2, [at, tip]), path(api, 1.2, [barb(1), tip, barb(-1)])] };
  };
  const renderers = new Map([
    ["below", arrow(0, 1)],
    ["leftwards", arrow(-1, 0)],
    ["rightwards", arrow(1, 0)],
    ["whisker", (params, api) => {
      const a = api.coord([api.value(0), api.value(1)]);
      const b = api.coord([api.value(0), api.value(2)]);
      const cap = (p) => path(api, 1, [[p[0] - 3, p[1]], [p[0] + 3, p[1]]]);
      return { type: "group", children: [path(api, 1, [a, b]), cap(a), cap(b)] };
    }],
    ["span", (params, api) => path(api, 1.4, [api.coord([api.value(1), api.value(0)]), api.coord([api.value(2), api.value(0)])])],
    ["upright", (params, api) => path(api, 1.2, [api.coord([api.value(0), 0]), api.coord([api.value(0), api.value(1)])])],
    ["median", (params, api) => {
      const at = api.coord([api.value(0), api.value(1)]);
      const half = api.size([0, 1])[1] * 0.38;
      const line = [[at[0], at[1] - half], [at[0], at[1] + half]];
      const ground = path(api, 5, line);
      ground.style.stroke = "#fff";
      return { type: "group", children: [ground, path(api, 2.6, line)] };
    }],
    ["curve", (params, api, datum) => {
      const chosen = picked !== null && !datum.fixed && datum.name === picked;
      const look = datum.stroke;
      const lines = datum.parts.map((part) => part.map((p) => api.coord(p)));
      const strokes = (color, width, dash, more) => lines.map((points) => Object.assign({
        type: "polyline", shape: { points: points },
        style: { stroke: color, lineWidth: width, lineDash: dash.length ? dash : null, fill: "none" },
      }, more));
      return { type: "group", children: [
        ...strokes("#000", 9, [], { invisible: true }), // a thin line is hard to meet with a finger
        ...strokes("#fff", chosen ? look.width + 5 : 0, [], { silent: true, z2: 10, ignore: !chosen }),
        ...strokes(look.color, chosen ? look.width + 2.4 : look.width, look.dash,
          { z2: chosen ? 11 : 1, emphasis: { style: { lineWidth: look.width + (chosen ? 2.4 : 1.4) } } }),
      ] };
    }],
    ["region", (params, api, datum) => ({
      type: "polygon", shape: { points: datum.corners.map((p) => api.coord(p)) }, silent: true,
      style: { fill: datum.fill, stroke: "#ddd", lineWidth: 1 },
    })],
    ["band", (params, api, datum) => {
      const points = datum.corners.map((p) => api.coord(p));
      const half = points.length / 2;
      const top = points[half - 1], foot = points[half];
      return { type: "group", children: [
        { type: "polygon", shape: { points: points }, style: { fill: datum.fill, stroke: "#5f5f5f", lineWidth: 0.6 }, emphasis: { style: { lineWidth: 1.6 } } },
        { type: "rect", shape: { x: top[0], y: top[1], width: 6, height: foot[1] - top[1] }, style: { fill: datum.end, stroke: "#222", lineWidth: 0.6 } },
      ] };
    }],
    ["bar", (params, api) => {
      const a = api.coord([0, api.value(1)]), b = api.coord([0, api.value(2)]);
      return { type: "rect", shape: { x: a[0] - 6, y: a[1], width: 6, height: b[1] - a[1] }, style: { fill: api.visual("color") }, silent: true };
    }],
    ["window", (params, api, datum) => {
      const [x, lo, hi, left, right, at] = datum.window;
      const low = api.coord([x, lo]), high = api.coord([x, hi]), mark = api.coord([x, at]);
      const line = (...points) => ({ type: "polyline", shape: { points: points }, style: { stroke: datum.color, lineWidth: 1.3, fill: "none" } });
      const end = (p, open, up) => (open
        ? line([p[0] - 3.5, p[1] + 5 * up], p, [p[0] + 3.5, p[1] + 5 * up])
        : line([p[0] - 3.5, p[1]], [p[0] + 3.5, p[1]]));
      const children = [];
      if (left < right) {
        const a = api.coord([left, hi]), b = api.coord([right, lo]);
        children.push({ type: "rect", shape: { x: a[0], y: a[1], width: b[0] - a[0], height: b[1] - a[1] },
          style: { fill: datum.color, fillOpacity: datum.tint, stroke: datum.color, lineWidth: 0.8 } });
      }
      const hit = line(low, high);
      Object.assign(hit, { invisible: true });
      hit.style.lineWidth = 9;
      children.push(hit, line(low, mark, high), end(low, datum.below, -1), end(high, datum.above, 1));
      return { type: "group", children: children };
    }],
  ]);

  function element(name, text, style) {
    const e = document.createElement(name);
    if (text !== undefined) e.textContent = text;
    if (style) Object.assign(e.style, style);
    return e;
  }

  // The hover box: the sample, its group, and its details as a small table.
  function hoverBox(params) {
    const data = params.data;
    if (!data || !data.details) return "";
    const box = element("div");
    box.append(element("div", data.name, { fontWeight: "bold" }));
    if (data.group) box.append(element("div", data.row ? data.group + ", " + data.row : data.group, { color: "#5f5f5f" }));
    if (data.details.length) {
      const table = element("table", undefined, { borderCollapse: "collapse", marginTop: "4px" });
      for (const detail of data.details) {
        const row = element("tr");
        row.append(element("td", detail[0], { padding: "0 12px 0 0" }), element("td", detail[1], { textAlign: "right" }));
        table.append(row);
      }
      box.append(table);
    }
    return box;
  }

  function prepare(option, layout) {
    for (const s of option.series) {
      if (s.type !== "custom") continue;
      const draw = renderers.get(s.draw);
      s.renderItem = (params, api) => draw(params, api, s.data[params.dataIndex]);
    }
    for (const labels of layout.labels || []) {
      const text = new Map(labels.at.map((v, i) => [v, labels.text[i]]));
      option[labels.axis][labels.index].axisLabel.formatter = (v) => text.get(v) || "";
    }
    Object.assign(option.tooltip, {
      formatter: hoverBox, confine: true, borderColor: "#bbb",
      textStyle: { fontSize: 12, color: "#222" },
      extraCssText: "max-width:22em;white-space:normal;overflow-wrap:anywhere",
    });
  }

  // ---- sizes ----------------------------------------------------------------
  // Each of these sets the places in an option for a width in pixels and
  // returns the height that the chart needs.

  const sizes = new Map([["ternary", sizeTernary], ["facing", sizeFacing], ["profile", sizeProfile],
    ["curves", sizeCurves], ["diagram", sizeDiagram], ["bands", sizeBands], ["intervals", sizeIntervals]]);

  function sizeTernary(option, layout, width) {
    const narrow = width < 480;
    const side = Math.min(width - (narrow ? 60 : 100), 620);
    const left = (width - side) / 2;
    const height = side * TRIANGLE_HEIGHT;
    const entries = option.legend.data.map((d) => d.name.length * 7 + 34);
    const legendRows = Math.max(1, Math.ceil(entries.reduce((a, b) => a + b, 0) / (width - 20)));
    option.grid[0] = { left: left, top: 28, width: side, height: height };
    option.legend.textStyle = { fontSize: 12, width: width - 60, overflow: "truncate" };

    const corners = seriesOf(option, "corners");
    corners.label.width = Math.floor(width * 0.44);
    corners.label.fontSize = narrow ? 12 : 13;
    const reach = Math.min(left - 4, 46); // corner names may start in the margin, never outside the chart
    Object.assign(corners.data[0].label, { align: "left", offset: [-reach, 0] });
    Object.assign(corners.data[2].label, { align: "right", offset: [reach, 0] });
    seriesOf(option, "fields").label.fontSize = narrow ? 11 : 12;
    seriesOf(option, "temperatures").label.fontSize = narrow ? 11 : 12;
    for (const s of option.series) {
      if (s.pick) s.symbolSize = narrow ? 9 : 11;
    }
    placeLabels(option, side, narrow ? 9 : 11);
    return 28 + height + 46 + 24 * legendRows;
  }

  const apart = (a, b) => Math.hypot(a[0] - b[0], a[1] - b[1]);

  const fromSegment = (p, [a, b]) => {
    const d = [b[0] - a[0], b[1] - a[1]];
    const f = clamp(0, ((p[0] - a[0]) * d[0] + (p[1] - a[1]) * d[1]) / (d[0] * d[0] + d[1] * d[1] || 1), 1);
    return apart(p, [a[0] + f * d[0], a[1] + f * d[1]]);
  };

  // A line of text as a chain of discs: x, y, radius.
  const discs = (at, text, size, degrees) => {
    const half = Math.max(0, text.length * size * 0.26 - size / 2);
    const n = Math.ceil((2 * half) / (size * 0.6));
    const r = (degrees * Math.PI) / 180;
    return Array.from({ length: n + 1 }, (_, i) => {
      const along = n ? half * ((2 * i) / n - 1) : 0;
      return [at[0] + along * Math.cos(r), at[1] + along * Math.sin(r), size * 0.55];
    });
  };

  // Finds places for the names of fields, then for temperatures, that cover no
  // point, no other label and no side; a label without one is left out. A name
  // stays in its field: it moves over no boundary, and touches one only where
  // the field is too narrow. Lengths are pixels, y upwards from the first side.
  function placeLabels(option, side, mark) {
    const px = (p) => [p[0] * side, p[1] * side];
    const taken = []; // discs: x, y, radius
    for (const s of option.series) {
      if (s.pick) for (const d of s.data) taken.push([...px(d.value), mark / 2 + 2]);
    }
    const bounds = [];
    const line = seriesOf(option, "boundaries").data;
    for (let i = 1; i < line.length; i++) {
      if (line[i - 1] && line[i]) bounds.push([px(line[i - 1]), px(line[i])]);
    }
    const within = (p, room) => p[1] > room && Math.min(p[0], side - p[0]) * TRIANGLE_HEIGHT - p[1] / 2 > room;
    const turn = (a, b, c) => Math.sign((b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]));
    const cuts = (a, b) => bounds.some(([c, d]) => turn(a, b, c) !== turn(a, b, d) && turn(c, d, a) !== turn(c, d, b));
    const free = (chain) => chain.every((d) => within(d, d[2]) && taken.every((o) => apart(d, o) > d[2] + o[2]));
    const put = (datum, at, rotate, chain) => {
      datum.label.show = Boolean(chain);
      if (!chain) return;
      taken.push(...chain);
      datum.value = [at[0] / side, at[1] / side];
      datum.label.rotate = rotate;
    };

    const names = seriesOf(option, "fields");
    for (const datum of names.data) {
      datum.home = datum.home || datum.value;
      const home = px(datum.home);
      const places = [home];
      for (const r of [8, 16, 26, 38, 52, 68]) {
        for (let k = 0; k < 16; k++) places.push([home[0] + r * Math.cos((k * Math.PI) / 8), home[1] + r * Math.sin((k * Math.PI) / 8)]);
      }
      const fitting = places.filter((p) => !cuts(home, p)).map((p) => ({ at: p, chain: discs(p, datum.name, names.label.fontSize, 0) })).filter((t) => free(t.chain));
      const best = fitting.find((t) => t.chain.every((d) => bounds.every((b) => fromSegment(d, b) > d[2]))) || fitting[0] || {};
      put(datum, best.at, 0, best.chain);
    }
    const temperatures = seriesOf(option, "temperatures");
    for (const datum of temperatures.data) {
      const fitting = datum.tries.map((t) => ({ at: px(t), rotate: t[2], chain: discs(px(t), datum.name, temperatures.label.fontSize, t[2]) }));
      const best = fitting.find((t) => free(t.chain)) || {};
      put(datum, best.at, best.rotate, best.chain);
    }
  }

  // The width of a text in pixels.
  const ruler = document.createElement("canvas").getContext("2d");
  function textWidth(text, font) {
    ruler.font = font;
    return ruler.measureText(text).width;
  }

  // How many lines a text takes in a width, broken at spaces.
  function linesOf(text, width, font) {
    let lines = 0, line = "";
    for (const word of text.split(" ")) {
      if (line && textWidth(line + " " + word, font) <= width) {
        line += " " + word;
      } else {
        lines += Math.max(1, Math.ceil(textWidth(word, font) / width));
        line = word;
      }
    }
    return lines;
  }

  // The two pages of a spread, and the height below them, from the bottom up:
  // legend, notes, and on narrow screens the lines of the gutter.
  function spread(option, layout, width, measure) {
    const page = (width - measure.left - measure.right - measure.gutter) / 2;
    const lefts = [measure.left, measure.left + page + measure.gutter];
    const face = (size) => "bold " + size + "px " + option.textStyle.fontFamily;
    const names = option.title.flatMap((t) => t.text.split(" "));
    let size = width < 520 ? 12 : 13;
    // Smaller letters rather than a word that breaks.
    while (size > 9 && names.some((word) => textWidth(word, face(size)) > page - 6)) size--;
    const font = face(size);
    // A group's name that is wider than its page takes a second or third line.
    const lines = Math.max(...option.title.map((t) => linesOf(t.text, page - 6, font)));
    const top = 15 + 15 * clamp(1, lines, 9) + (measure.strip || 0);
    lefts.forEach((left, i) => {
      option.grid[i] = { left: left, top: top, width: page, height: measure.tall };
      Object.assign(option.title[i], { left: left + page / 2, top: 4 });
      option.title[i].textStyle.width = page - 4;
      option.title[i].textStyle.fontSize = size;
    });
    return { page: page, middle: top + measure.tall / 2, bottom: top + measure.tall };
  }

  const words = (id, text, x, y, more) => ({
    id: id, type: "text", silent: true, x: x, y: y,
    style: Object.assign({ text: text, fontSize: 12, fill: "#222", textAlign: "center", textVerticalAlign: "middle", lineHeight: 16 }, more),
  });

  function notes(layout, width, top) {
    const text = (layout.notes || []).join("; ");
    const rows = text ? Math.ceil(text.length * 6 / (width - 16)) : 0;
    const item = words("notes", text, width / 2, top, { width: width - 12, overflow: "break", fill: "#5f5f5f", fontSize: 11, lineHeight: 14, textVerticalAlign: "top" });
    return { item: item, height: rows * 14 + (rows ? 6 : 0) };
  }

  function sizeFacing(option, layout, width) {
    const narrow = width < 520;
    const gutter = layout.gutter || [];
    // Both margins have room for the axis title, so that the gutter stands in
    // the middle of the chart.
    const margin = (narrow ? 28 : 34) + 7 * Math.max(...layout.labels.map((l) => longest(l.text)));
    const measure = {
      left: margin,
      right: margin,
      gutter: narrow ? 14 : clamp(24, longest(gutter) * 6.4 + 14, width * 0.22),
      tall: clamp(190, width * 0.36 + 40, 340),
    };
    const at = spread(option, layout, width, measure);
    const names = Math.min(layout.nameChars || 0, 14) * 6.8 + 14;
    option.xAxis.forEach((axis) => {
      const slot = at.page / Math.max(1, axis.data.length);
      axis.axisLabel.interval = Math.max(0, Math.ceil(12 / slot) - 1); // fewer names where they would touch
      axis.axisLabel.fontSize = narrow ? 11 : 12;
      axis.axisLabel.width = names - 8;
    });
    option.yAxis.forEach((axis) => { axis.axisLabel.fontSize = narrow ? 11 : 12; });
    let below = at.bottom + names;
    const graphic = [words("axis-title", layout.axisTitle || "", 10, at.middle, { width: at.bottom, overflow: "truncate" })];
    graphic[0].rotation = Math.PI / 2;
    if (narrow) {
      const text = gutter.join(" ");
      const rows = Math.ceil(text.length * 6.6 / (width - 16));
      graphic.push(words("gutter", text, width / 2, below, { width: width - 12, overflow: "break", textVerticalAlign: "top" }));
      below += rows * 16 + (rows ? 4 : 0);
    } else {
      graphic.push(words("gutter", gutter.join("\n"), measure.left + at.page + measure.gutter / 2, at.middle,
        { width: measure.gutter - 6, overflow: "break" }));
    }
    const foot = notes(layout, width, below);
    graphic.push(foot.item);
    below += foot.height;
    if (option.legend.show) {
      const chars = option.legend.data.reduce((n, t) => n + t.length * 7 + 40, 0);
      option.legend.textStyle = { fontSize: 12, width: width - 70, overflow: "truncate" };
      below += 24 * Math.ceil(chars / (width - 20));
    }
    option.graphic = { elements: graphic };
    for (const s of option.series) {
      if (s.pick && s.type === "scatter") s.symbolSize = clamp(6, at.page / Math.max(1, s.data.length) - 2, 10);
    }
    return below + 8;
  }

  function sizeProfile(option, layout, width) {
    const narrow = width < 520;
    const rows = layout.labels[layout.labels.length - 1].text;
    const measure = {
      left: 20, right: 20,
      gutter: clamp(46, longest(rows) * 8 + 16, width * 0.26),
      tall: layout.rows * (narrow ? 24 : 26),
    };
    const at = spread(option, layout, width, measure);
    Object.assign(option.yAxis[1].axisLabel, { margin: measure.gutter / 2, width: measure.gutter - 8, overflow: "truncate", fontSize: narrow ? 12 : 13 });
    option.xAxis.forEach((axis) => { axis.axisLabel.fontSize = narrow ? 11 : 12; });
    const graphic = [words("axis-title", layout.axisTitle || "", width / 2, at.bottom + 36, { width: width - 12, overflow: "truncate" })];
    const foot = notes(layout, width, at.bottom + 50);
    graphic.push(foot.item);
    option.graphic = { elements: graphic };
    for (const s of option.series) {
      if (s.pick) s.symbolSize = narrow ? 7 : 8;
    }
    return at.bottom + 54 + foot.height;
  }

  const segments = (line) => line.slice(1).map((p, i) => [line[i], p]);
  const lengthOf = (line) => segments(line).reduce((n, [a, b]) => n + apart(a, b), 0);

  // The point at a distance from the beginning of a line.
  function pointAlong(line, distance) {
    for (const [a, b] of segments(line)) {
      const d = apart(a, b);
      if (distance <= d && d > 0) {
        const f = Math.max(0, distance) / d;
        return [a[0] + f * (b[0] - a[0]), a[1] + f * (b[1] - a[1])];
      }
      distance -= d;
    }
    return line[line.length - 1];
  }

  // Where a label may stand on a line, and its turn in degrees, never upside
  // down; the turn is that of a stretch about as long as a label.
  function placesAlong(line, distances) {
    return distances.map((d) => {
      const a = pointAlong(line, d - 9), b = pointAlong(line, d + 9);
      const turn = Math.atan2(b[1] - a[1], b[0] - a[0]) * 180 / Math.PI;
      return { at: pointAlong(line, d), rotate: turn > 90 ? turn - 180 : turn < -90 ? turn + 180 : turn };
    });
  }

  // Shortens the labels of a series to a length in pixels.
  function shorten(labels, most) {
    Object.assign(labels.label, { width: most, overflow: "truncate" });
    const chars = Math.floor(most / (labels.label.fontSize * 0.52));
    for (const datum of labels.data) datum.shown = (datum.name || "").slice(0, chars); // lines may go without a name
  }

  // Puts a label at the first place that serves, or hides it.
  function settle(datum, size, w, h, places, serves, taken) {
    const best = datum.shown && places.map((p) => Object.assign({ chain: discs(p.at, datum.shown, size, p.rotate) }, p)).find((p) => serves(p.chain));
    datum.label.show = Boolean(best);
    if (!best) return false;
    taken.push(...best.chain);
    datum.value = [best.at[0] / w, best.at[1] / h];
    datum.label.rotate = best.rotate;
    return true;
  }

  const inFrame = (w, h) => (d) => d[0] > d[2] && d[0] < w - d[2] && d[1] > d[2] && d[1] < h - d[2];

  // Names the levels that have no name yet, clear of all lines, and each sample
  // once on its line, as near to an end as there is room beside the other lines;
  // else hovering tells the name. Lengths are pixels, y upwards from the foot of
  // the page.
  function nameCurves(option, levels, page, w, h) {
    const px = (p) => [p[0] * w, p[1] * h];
    const labels = seriesOf(option, "names-" + page);
    const runs = []; // by sample; in a crowd the samples have no names
    for (const d of seriesOf(option, "curves-" + page).data) (runs[d.strand] = runs[d.strand] || []).push(...d.parts.map((part) => part.map(px)));
    const others = [], taken = [];
    const references = seriesOf(option, "references-" + page);
    for (const r of references ? references.markLine.data : []) {
      if (r.xAxis !== undefined) others.push([px([r.xAxis, 0]), px([r.xAxis, 1])]);
      if (r.yAxis === undefined) continue;
      others.push([px([0, r.yAxis]), px([1, r.yAxis])]);
    }
    const within = inFrame(w, h);
    const size = labels.label.fontSize;
    const lines = runs.flat().map(segments).flat();
    const levelNames = seriesOf(option, "level-names-" + page);
    shorten(levelNames, w);
    shorten(labels, Math.min(90, w * 0.7));
    levelNames.data.forEach((datum, i) => {
      const level = levels[i];
      datum.label.show = false;
      if (level.named) return;
      const lo = level.from * h, hi = level.to * h, half = datum.shown.length * size * 0.28 + 4;
      const places = (hi > lo ? [hi - 9, lo + 9, hi + 9, lo - 9] : [lo + 9, lo - 9])
        .flatMap((y) => [0, 1, 0.5, 0.25, 0.75].map((f) => ({ at: [half + f * (w - 2 * half), y], rotate: 0 })));
      level.named = settle(datum, size, w, h, places, (chain) => chain.every((d) => within(d) &&
        taken.every((o) => apart(d, o) > d[2] + o[2]) && lines.concat(others).every((s) => fromSegment(d, s) > d[2])), taken);
    });
    labels.data.forEach((datum, i) => {
      const line = runs[i].reduce((a, b) => (lengthOf(b) > lengthOf(a) ? b : a));
      const rest = others.concat(...runs.filter((_, k) => k !== i).flat().map(segments));
      const total = lengthOf(line), distances = [];
      for (let d = datum.shown.length * size * 0.28 + 5; d <= total / 2; d += Math.max(6, total / 40)) distances.push(total - d, d);
      settle(datum, size, w, h, placesAlong(line, distances), (chain) => chain.every((d) => within(d) &&
        taken.every((o) => apart(d, o) > d[2] + o[2]) && rest.every((s) => fromSegment(d, s) > d[2])), taken);
    });
  }

  // The names of vertical references over a page, in rows that keep them apart.
  function packStrip(names, page) {
    const rows = [];
    const placed = names.map((n) => {
      const w = Math.min(page, n.text.length * 6 + 4);
      const left = clamp(0, n.at * page - w / 2, page - w);
      let row = 0;
      while ((rows[row] || []).some((o) => left < o.left + o.width + 6 && o.left < left + w + 6)) row++;
      (rows[row] = rows[row] || []).push({ left: left, width: w });
      return { text: n.text, middle: left + w / 2, width: w, row: row };
    });
    return { names: placed, height: rows.length ? rows.length * 14 + 4 : 0 };
  }

  function sizeCurves(option, layout, width) {
    const narrow = width < 520;
    const gutter = layout.gutter || [];
    const font = narrow ? 11 : 12;
    const margin = (narrow ? 26 : 34) + 7 * Math.max(...layout.labels.filter((l) => l.axis === "yAxis").map((l) => longest(l.text)));
    const measure = {
      left: margin, right: margin,
      gutter: narrow ? 34 : clamp(40, longest(gutter) * 6.4 + 14, width * 0.22),
      tall: clamp(220, width * 0.36 + 60, 420),
    };
    const page = (width - measure.left - measure.right - measure.gutter) / 2;
    const strip = packStrip(layout.strip || [], page);
    measure.strip = strip.height;
    const at = spread(option, layout, width, measure);
    for (const axis of option.xAxis.concat(option.yAxis)) axis.axisLabel.fontSize = font;
    const title = words("axis-title", layout.axisTitle || "", 10, at.middle, { width: at.bottom, overflow: "truncate" });
    title.rotation = Math.PI / 2;
    const graphic = [title, words("across-title", layout.acrossTitle || "", width / 2, at.bottom + 36, { width: width - 12, overflow: "truncate" })];
    const levels = (layout.levels || []).map((l) => Object.assign({}, l));
    [1, 0].forEach((side) => {
      strip.names.forEach((n, i) => graphic.push(words("strip-" + side + "-" + i, n.text,
        option.grid[side].left + n.middle, at.bottom - measure.tall - 9 - 14 * n.row,
        { width: n.width, overflow: "truncate", fontSize: 11, fontStyle: "italic", fill: "#6e5f2e" })));
      seriesOf(option, "names-" + side).label.fontSize = 11;
      nameCurves(option, levels, side, page, measure.tall);
    });
    let below = at.bottom + 50;
    if (narrow) {
      const text = gutter.join(" ");
      const rows = Math.ceil(text.length * 6.6 / (width - 16));
      graphic.push(words("gutter", text, width / 2, below, { width: width - 12, overflow: "break", textVerticalAlign: "top" }));
      below += rows * 16 + (rows ? 4 : 0);
    } else {
      graphic.push(words("gutter", gutter.join("\n"), measure.left + page + measure.gutter / 2, at.middle, { width: measure.gutter - 6, overflow: "break" }));
    }
    const said = (layout.notes || []).concat(levels.filter((l) => !l.named).map((l) => l.note));
    const foot = notes({ notes: said }, width, below);
    graphic.push(foot.item);
    option.graphic = { elements: graphic };
    return below + foot.height + 8;
  }

  // Places for the name of a line of a diagram: on its run, towards the right
  // end first, and beside it where it has no place on it.
  function placesOnRun(line, room) {
    const total = lengthOf(line);
    const fractions = [0.82, 0.74, 0.9, 0.66, 0.58, 0.5, 0.42, 0.34, 0.26, 0.18, 0.1, 0.86, 0.78, 0.7, 0.62, 0.54, 0.46, 0.38, 0.3, 0.22, 0.14];
    const on = placesAlong(line, fractions.map((f) => clamp(Math.min(room, total / 2), f * total, Math.max(total - room, total / 2))));
    const beside = (side) => on.map((p) => {
      const r = (p.rotate + 90) * Math.PI / 180;
      return { at: [p.at[0] + 10 * side * Math.cos(r), p.at[1] + 10 * side * Math.sin(r)], rotate: p.rotate };
    });
    return on.concat(beside(1), beside(-1));
  }

  // Names lines on their run and regions inside: clear of windows and of other
  // lines where they can, over a line or the side of a box before over a window,
  // and never over other names.
  function nameDiagram(option, w, h, mark) {
    const px = (p) => [p[0] * w, p[1] * h];
    const taken = [], marks = [], bars = [], boxes = [];
    for (const s of option.series) {
      if (s.id.startsWith("spots-")) for (const d of s.data) marks.push([...px(d.value), mark / 2 + 2]);
      if (s.draw !== "window") continue;
      for (const d of s.data) {
        const [x, lo, hi, left, right, at] = d.window;
        marks.push([...px([x, at]), mark / 2 + 2]);
        bars.push([px([x, lo]), px([x, hi])]);
        if (left < right) {
          const c = [[left, lo], [right, lo], [right, hi], [left, hi], [left, lo]].map(px);
          boxes.push(...segments(c));
        }
      }
    }
    const runs = seriesOf(option, "lines").data.map((d) => d.parts.map((part) => part.map(px)));
    const within = inFrame(w, h);
    // Strictness 2 avoids lines, windows and their boxes, 1 windows, 0 only
    // other names.
    const serves = (strict, others) => (chain) => chain.every((d) => within(d) && taken.every((o) => apart(d, o) > d[2] + o[2]) &&
      (strict < 1 || marks.every((o) => apart(d, o) > d[2] + o[2]) && bars.every((s) => fromSegment(d, s) > d[2] + 2)) &&
      (strict < 2 || others.concat(boxes).every((s) => fromSegment(d, s) > d[2])));
    const names = seriesOf(option, "line-names");
    shorten(names, w * 0.55);
    names.data.forEach((datum, i) => {
      const line = runs[i].reduce((a, b) => (lengthOf(b) > lengthOf(a) ? b : a));
      const others = runs.filter((_, k) => k !== i).flat().map(segments).flat();
      const places = placesOnRun(line, datum.shown.length * names.label.fontSize * 0.28 + 4);
      [2, 1, 0].some((strict) => settle(datum, names.label.fontSize, w, h, places, serves(strict, others), taken));
    });
    const fields = seriesOf(option, "regions").data;
    const labels = seriesOf(option, "region-names");
    shorten(labels, w * 0.4);
    labels.data.forEach((datum, i) => {
      const corners = fields[i].corners.map(px);
      const sides = segments(corners.concat([corners[0]]));
      const clear = (p) => Math.min(...sides.map((s) => fromSegment(p, s)));
      const inside = (p) => sides.filter(([a, b]) => (a[1] > p[1]) !== (b[1] > p[1]) &&
        p[0] < a[0] + (b[0] - a[0]) * (p[1] - a[1]) / (b[1] - a[1])).length % 2 === 1;
      const places = [];
      for (let k = 0; k < 400; k++) {
        const p = [w * ((k % 20) + 0.5) / 20, h * (Math.floor(k / 20) + 0.5) / 20];
        if (inside(p)) places.push({ at: p, rotate: 0, clear: clear(p) });
      }
      places.sort((a, b) => b.clear - a.clear);
      const held = (chain) => chain.every((d) => inside(d) && clear(d) > d[2]);
      const lines = runs.flat().map(segments).flat();
      [2, 1, 0].some((strict) => settle(datum, labels.label.fontSize, w, h, places, (chain) => held(chain) && serves(strict, lines)(chain), taken));
    });
  }

  function sizeDiagram(option, layout, width) {
    const narrow = width < 520;
    const left = (narrow ? 26 : 34) + 7 * Math.max(...layout.labels.filter((l) => l.axis === "yAxis").map((l) => longest(l.text)));
    const w = width - left - (narrow ? 16 : 24);
    const h = clamp(280, width * 0.5, 560);
    const top = 12;
    option.grid[0] = { left: left, top: top, width: w, height: h };
    for (const axis of option.xAxis.concat(option.yAxis)) axis.axisLabel.fontSize = narrow ? 11 : 12;
    const title = words("axis-title", layout.axisTitle || "", 10, top + h / 2, { width: h, overflow: "truncate" });
    title.rotation = Math.PI / 2;
    const graphic = [title, words("across-title", layout.acrossTitle || "", left + w / 2, top + h + 36, { width: w, overflow: "truncate" })];
    const mark = narrow ? 8 : 10;
    for (const s of option.series) {
      if (s.pick && s.type === "scatter") s.symbolSize = mark;
    }
    nameDiagram(option, w, h, mark);
    const foot = notes(layout, width, top + h + 50);
    graphic.push(foot.item);
    option.graphic = { elements: graphic };
    option.legend.textStyle = { fontSize: 12, width: width - 60, overflow: "truncate" };
    const entries = option.legend.data.map((d) => Math.min(width - 60, textWidth(d.name, "12px " + option.textStyle.fontFamily)) + 32);
    let rows = 1, used = 0;
    for (const w of entries) {
      if (used > 0 && used + w > width - 20) {
        rows++;
        used = 0;
      }
      used += w;
    }
    return top + h + 54 + foot.height + 24 * rows;
  }

  // Bands keep their thickness; only their length follows the width.
  function sizeBands(option, layout, width) {
    const narrow = width < 520;
    const size = narrow ? 11 : 12;
    const font = size + "px " + option.textStyle.fontFamily;
    const widest = (left) => Math.max(0, ...layout.bands.filter((n) => Boolean(n.left) === left)
      .map((n) => Math.max(textWidth(n.text, "bold " + font), textWidth(n.sub || "", font))));
    const left = Math.min(widest(true), width * 0.24) + 14;
    const right = Math.min(widest(false), width * 0.5) + 16;
    const scale = narrow ? 1.5 : 1.6;
    option.grid[0] = { left: left, right: right, top: 10, height: layout.tall * scale };
    const graphic = layout.bands.map((n, i) => {
      const sub = n.sub ? "\n" + n.sub : "";
      return words("band-" + i, n.text + sub, n.left ? left - 10 : width - right + 11, 10 + n.at * scale, {
        textAlign: n.left ? "right" : "left", fontSize: size, lineHeight: size + 3,
        width: n.left ? left - 12 : right - 13, overflow: "truncate" });
    });
    option.graphic = { elements: graphic };
    return layout.tall * scale + 24;
  }

  // Panels side by side with the names of rows at the left one, below each
  // other on narrow screens, each with the names.
  function sizeIntervals(option, layout, width) {
    const narrow = width < 620;
    const panels = option.grid.length;
    const names = clamp(40, longest(layout.labels[layout.labels.length - 1].text) * 6.6 + 12, width * (narrow ? 0.42 : 0.28));
    const gap = 16, tall = narrow ? Math.max(1, layout.rows) * 24 : Math.max(170, layout.rows * 24);
    const w = narrow ? width - names - 18 : (width - names - 18 - gap * (panels - 1)) / panels;
    const font = "bold 13px " + option.textStyle.fontFamily;
    const lines = Math.max(...option.title.map((t) => linesOf(t.text, w - 4, font)));
    const head = 10 + 15 * clamp(1, lines, 9);
    const step = head + tall + 30;
    option.grid.forEach((grid, k) => {
      const left = names + (narrow ? 0 : k * (w + gap)), top = head + (narrow ? k * step : 0);
      Object.assign(grid, { left: left, top: top, width: w, height: tall });
      Object.assign(option.title[k], { left: left + w / 2, top: top - head + 4 });
      option.title[k].textStyle.width = w - 2;
      Object.assign(option.yAxis[k].axisLabel, { show: narrow || k === 0, width: names - 12, fontSize: 12 });
      option.xAxis[k].axisLabel.fontSize = narrow ? 11 : 12;
    });
    const bottom = head + tall + (narrow ? (panels - 1) * step : 0);
    const graphic = [words("axis-title", layout.axisTitle || "", names + (width - names) / 2, bottom + 36, { width: width - names, overflow: "truncate" })];
    const foot = notes(layout, width, bottom + 50);
    graphic.push(foot.item);
    option.graphic = { elements: graphic };
    return bottom + 54 + foot.height;
  }

  // ---- drawing --------------------------------------------------------------

  // The width that an element leaves to what stands in it.
  function widthIn(parent) {
    const style = getComputedStyle(parent);
    return Math.floor(parent.clientWidth - parseFloat(style.paddingLeft) - parseFloat(style.paddingRight));
  }

  // Draws a chart at the width its place has now. A figure that is not shown,
  // for instance in a closed section, waits until it is.
  function draw(chart) {
    const width = widthIn(chart.live.parentElement);
    if (width < 120 || width === chart.width) return;
    const height = Math.ceil(sizes.get(chart.layout.kind)(chart.option, chart.layout, width));
    chart.live.style.height = height + "px";
    if (chart.instance) {
      chart.instance.resize({ width: width, height: height });
    } else {
      // Of samples: the lines of a map are many in any campaign.
      const marks = chart.option.series.reduce((n, s) => n + (s.pick && Array.isArray(s.data) ? s.data.length : 0), 0);
      chart.instance = library.init(chart.live, null, { renderer: marks > MANY_MARKS ? "canvas" : "svg", width: width, height: height });
      chart.instance.on("click", (params) => {
        if (params.data && params.data.details && !params.data.fixed) pick(params.data.name);
      });
    }
    chart.instance.setOption(chart.option, { notMerge: true });
    chart.width = width;
    chart.figure.classList.add("is-live");
    ring(chart);
  }

  function fail(chart, error) {
    console.error("figure " + chart.id + " stays still:", error);
    chart.figure.classList.remove("is-live");
    if (chart.instance) chart.instance.dispose();
    chart.instance = null;
    chart.broken = true;
  }

  function tryDraw(chart) {
    if (chart.broken) return;
    try {
      draw(chart);
    } catch (error) {
      fail(chart, error);
    }
  }

  // Rings the picked sample, or draws its line thick; its name stands at the
  // first ring or line of a page.
  function ring(chart) {
    if (!chart.instance) return;
    const rings = [[], []];
    for (const s of chart.option.series) {
      if (!s.pick || s.type === "bar" || picked === null) continue;
      const side = s.xAxisIndex || 0;
      for (const datum of s.data) {
        if (datum.fixed || datum.name !== picked) continue;
        const named = { name: datum.name, value: datum.value, label: { show: rings[side].length === 0 } };
        if (s.draw === "curve") Object.assign(named, { value: middleOf(datum.parts), symbolSize: 1, itemStyle: { borderColor: "transparent" } });
        rings[side].push(named);
      }
    }
    const series = rings.map((data, i) => ({ id: "picked-" + i, data: data }))
      .filter((s) => seriesOf(chart.option, s.id));
    const lines = chart.option.series.filter((s) => s.pick && s.draw === "curve").map((s) => ({ id: s.id, data: s.data }));
    chart.instance.setOption({ series: series.concat(lines) });
  }

  // The middle point of the longest part of a line.
  function middleOf(parts) {
    const longestPart = parts.reduce((a, b) => (lengthOf(b) > lengthOf(a) ? b : a));
    return pointAlong(longestPart, lengthOf(longestPart) / 2);
  }

  // ---- picking --------------------------------------------------------------

  function pick(sample) {
    const next = sample === picked ? null : sample;
    document.dispatchEvent(new CustomEvent("sample-picked", { detail: { sample: next } }));
  }

  document.addEventListener("sample-picked", (event) => {
    const sample = event.detail && event.detail.sample;
    picked = typeof sample === "string" && sample !== "" ? sample : null;
    for (const e of document.querySelectorAll("[data-sample]")) {
      e.classList.toggle("picked", picked !== null && e.dataset.sample === picked);
    }
    charts.forEach(ring);
  });

  document.addEventListener("keydown", (event) => {
    if (event.key === "Escape" && picked !== null) pick(picked);
  });

  // ---- keyboard -------------------------------------------------------------

  // The samples of a chart in the order in which it shows them.
  function samplesOf(option) {
    return option.series.flatMap((s, series) => (s.pick && Array.isArray(s.data) ? s.data : [])
      .map((datum, at) => ({ datum: datum, series: series, at: at })))
      .filter((m) => m.datum && m.datum.details && m.datum.name && !m.datum.fixed);
  }

  // Lets the keys walk the samples of a chart. The words of the hover box go to
  // readers who cannot see it.
  function walk(chart) {
    const marks = samplesOf(chart.option);
    // The library would call the chart an image, which nobody walks in.
    const described = chart.option.aria && chart.option.aria.label && chart.option.aria.label.description;
    if (marks.length) delete chart.option.aria;
    chart.live.setAttribute("aria-label", (described || "Chart") + (marks.length ? " Arrow keys go from sample to sample, Enter picks one." : ""));
    chart.live.setAttribute("role", marks.length ? "application" : "img");
    if (!marks.length) return;
    const said = element("div", "", { position: "absolute", width: "1px", height: "1px", overflow: "hidden", clipPath: "inset(50%)" });
    said.setAttribute("role", "status");
    chart.live.after(said);
    chart.live.tabIndex = 0;
    let at = -1;
    const show = (next) => {
      at = (next + marks.length) % marks.length;
      const { datum, series, at: index } = marks[at];
      chart.instance.dispatchAction({ type: "showTip", seriesIndex: series, dataIndex: index });
      said.textContent = [datum.name, datum.group, datum.row].filter(Boolean).concat(datum.details.map((d) => d.join(" "))).join(", ");
    };
    const steps = { ArrowRight: 1, ArrowDown: 1, ArrowLeft: -1, ArrowUp: -1 };
    chart.live.addEventListener("keydown", (event) => {
      if (!chart.instance || event.altKey || event.ctrlKey || event.metaKey) return;
      if (steps[event.key]) show(at < 0 ? (steps[event.key] > 0 ? 0 : -1) : at + steps[event.key]);
      else if (event.key === "Home") show(0);
      else if (event.key === "End") show(-1);
      else if ((event.key === "Enter" || event.key === " ") && at >= 0) pick(marks[at].datum.name);
      else return;
      event.preventDefault();
    });
    chart.live.addEventListener("blur", () => {
      if (chart.instance) chart.instance.dispatchAction({ type: "hideTip" });
    });
  }

  // ---- start ----------------------------------------------------------------

  function start() {
    document.head.append(element("style",
      "figure.is-live .still,figure:not(.is-live) .live{display:none}" +
      "@media print{figure.is-live .still{display:block!important}figure .live{display:none!important}}"));
    const observer = new ResizeObserver((entries) => {
      // On the next frame, so that a change of height does not feed back.
      requestAnimationFrame(() => {
        for (const entry of entries) {
          charts.filter((c) => c.live.parentElement === entry.target).forEach(tryDraw);
        }
      });
    });
    const make = (chart, text) => {
      try {
        const read = JSON.parse(text);
        chart.option = read.option;
        chart.layout = read.layout;
        prepare(chart.option, chart.layout);
      } catch (error) {
        fail(chart, error);
        return;
      }
      charts.push(chart);
      walk(chart);
      tryDraw(chart);
      observer.observe(chart.live.parentElement);
    };
    const unpack = (text) => {
      const bytes = Uint8Array.from(atob(text), (c) => c.charCodeAt(0));
      return new Response(new Blob([bytes]).stream().pipeThrough(new DecompressionStream("gzip"))).text();
    };
    // Large charts are made one at a time, and not while the page is moving.
    const queue = [];
    let moved = 0;
    addEventListener("scroll", () => { moved = performance.now(); }, { passive: true });
    const work = () => {
      if (performance.now() - moved < STILL) {
        setTimeout(work, STILL);
        return;
      }
      make(...queue.shift());
      if (queue.length) setTimeout(work, 0);
    };
    const later = (chart, text) => {
      if (queue.push([chart, text]) === 1) setTimeout(work, 0);
    };
    const waiting = new Map(); // what is packed, by figure
    const near = new IntersectionObserver((entries) => {
      for (const { isIntersecting, target: figure } of entries) {
        if (!isIntersecting) continue;
        near.unobserve(figure);
        const { chart, block } = waiting.get(figure);
        unpack(block.textContent).then((text) => later(chart, text), (error) => fail(chart, error));
      }
    }, { rootMargin: "800px" });
    const lives = Array.from(document.querySelectorAll("div.live"));
    for (const block of document.querySelectorAll("script[data-chart]")) {
      const live = lives.find((d) => d.dataset.for === block.dataset.chart);
      const figure = live && live.closest("figure");
      if (!figure) continue;
      const chart = { id: block.dataset.chart, live: live, figure: figure, width: 0, instance: null, broken: false };
      if (block.type === "application/gzip") {
        waiting.set(figure, { chart: chart, block: block });
        near.observe(figure);
      } else {
        make(chart, block.textContent);
      }
    }
  }

  // Lettering is measured when a chart is drawn, so its typeface must be there.
  function startWithFaces() {
    const faces = document.fonts ? ["", "italic ", "bold "].map((s) => document.fonts.load(s + "12px 'Notebook Figures'")) : [];
    Promise.allSettled(faces).then(start);
  }

  if (document.readyState === "loading") document.addEventListener("DOMContentLoaded", startWithFaces);
  else startWithFaces();
})();
