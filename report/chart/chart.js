// Lays interactive charts over the still figures of a report.
//
// For every <script type="application/json" data-chart="ID"> it makes a chart in
// <div class="live" data-for="ID">, and hides the still figure only once that
// chart has drawn itself. Without the charting library, or when a chart fails,
// the still figure stays. On paper the still figure always shows.
//
// Picking a sample: a click on its mark sends the event "sample-picked" with
// detail {sample} to the document; every chart rings that sample, and elements
// whose data-sample is that name get the class "picked". A second click or
// Escape sends the event with sample null.
//
// Text from the data is only ever set as text: nothing is evaluated and nothing
// is parsed as markup.
(function () {
  "use strict";

  const library = globalThis.echarts;
  if (!library) return;

  const TRIANGLE_HEIGHT = Math.sqrt(3) / 2;
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
    ["median", (params, api) => {
      const at = api.coord([api.value(0), api.value(1)]);
      const half = api.size([0, 1])[1] * 0.38;
      const line = [[at[0], at[1] - half], [at[0], at[1] + half]];
      const ground = path(api, 5, line);
      ground.style.stroke = "#fff";
      return { type: "group", children: [ground, path(api, 2.6, line)] };
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
    box.append(element("div", data.row ? data.group + ", " + data.row : data.group, { color: "#5f5f5f" }));
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
      if (s.type === "custom") s.renderItem = renderers.get(s.draw);
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

  const sizes = new Map([["ternary", sizeTernary], ["facing", sizeFacing], ["profile", sizeProfile]]);

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

  // Finds places for the names of fields, then for temperatures, that cover no
  // point, no other label and no side; a label without one is left out. A name
  // stays in its field: it moves over no boundary, and touches one only where
  // the field is too narrow. Lengths are pixels, y upwards from the first side.
  function placeLabels(option, side, mark) {
    const px = (p) => [p[0] * side, p[1] * side];
    const apart = (a, b) => Math.hypot(a[0] - b[0], a[1] - b[1]);
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
    const fromSegment = (p, [a, b]) => {
      const d = [b[0] - a[0], b[1] - a[1]];
      const f = clamp(0, ((p[0] - a[0]) * d[0] + (p[1] - a[1]) * d[1]) / (d[0] * d[0] + d[1] * d[1] || 1), 1);
      return apart(p, [a[0] + f * d[0], a[1] + f * d[1]]);
    };
    const turn = (a, b, c) => Math.sign((b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]));
    const cuts = (a, b) => bounds.some(([c, d]) => turn(a, b, c) !== turn(a, b, d) && turn(c, d, a) !== turn(c, d, b));
    // A line of text as a chain of discs.
    const discs = (at, text, size, degrees) => {
      const half = Math.max(0, text.length * size * 0.26 - size / 2);
      const n = Math.ceil((2 * half) / (size * 0.6));
      const r = (degrees * Math.PI) / 180;
      return Array.from({ length: n + 1 }, (_, i) => {
        const along = n ? half * ((2 * i) / n - 1) : 0;
        return [at[0] + along * Math.cos(r), at[1] + along * Math.sin(r), size * 0.55];
      });
    };
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

  // The two pages of a spread, and the height below them, from the bottom up:
  // legend, notes, and on narrow screens the lines of the gutter.
  function spread(option, layout, width, measure) {
    const page = (width - measure.left - measure.right - measure.gutter) / 2;
    const lefts = [measure.left, measure.left + page + measure.gutter];
    // A group's name that is wider than its page takes a second or third line.
    const lines = Math.max(...option.title.map((t) => Math.ceil(t.text.length * 7.2 / page)));
    const top = 15 + 15 * clamp(1, lines, 4);
    lefts.forEach((left, i) => {
      option.grid[i] = { left: left, top: top, width: page, height: measure.tall };
      Object.assign(option.title[i], { left: left + page / 2, top: 4 });
      option.title[i].textStyle.width = page - 4;
      option.title[i].textStyle.fontSize = width < 520 ? 12 : 13;
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
      chart.instance = library.init(chart.live, null, { renderer: "svg", width: width, height: height });
      chart.instance.on("click", (params) => {
        if (params.data && params.data.details) pick(params.data.name);
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

  // Rings the picked sample; its name stands at the first ring of a page.
  function ring(chart) {
    if (!chart.instance) return;
    const rings = [[], []];
    for (const s of chart.option.series) {
      if (!s.pick || s.type !== "scatter" || picked === null) continue;
      const side = s.xAxisIndex || 0;
      for (const datum of s.data) {
        if (datum.name !== picked) continue;
        rings[side].push({ name: datum.name, value: datum.value, label: { show: rings[side].length === 0 } });
      }
    }
    const series = rings.map((data, i) => ({ id: "picked-" + i, data: data }))
      .filter((s) => seriesOf(chart.option, s.id));
    chart.instance.setOption({ series: series });
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

  // ---- start ----------------------------------------------------------------

  function start() {
    document.head.append(element("style",
      "figure.is-live .still,figure:not(.is-live) .live{display:none}" +
      "@media print{figure.is-live .still{display:block!important}figure .live{display:none!important}}"));
    const lives = Array.from(document.querySelectorAll("div.live"));
    for (const block of document.querySelectorAll('script[type="application/json"][data-chart]')) {
      const live = lives.find((d) => d.dataset.for === block.dataset.chart);
      const figure = live && live.closest("figure");
      if (!figure) continue;
      const chart = { id: block.dataset.chart, live: live, figure: figure, width: 0, instance: null, broken: false };
      try {
        const read = JSON.parse(block.textContent);
        chart.option = read.option;
        chart.layout = read.layout;
        prepare(chart.option, chart.layout);
      } catch (error) {
        fail(chart, error);
        continue;
      }
      charts.push(chart);
      tryDraw(chart);
    }
    if (typeof ResizeObserver !== "function") return;
    const observer = new ResizeObserver((entries) => {
      // On the next frame, so that a change of height does not feed back.
      requestAnimationFrame(() => {
        for (const entry of entries) {
          charts.filter((c) => c.live.parentElement === entry.target).forEach(tryDraw);
        }
      });
    });
    charts.forEach((c) => observer.observe(c.live.parentElement));
  }

  if (document.readyState === "loading") document.addEventListener("DOMContentLoaded", start);
  else start();
})();
