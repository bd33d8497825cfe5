// Live pictures in place of the drawings: one instant read in all of them, one zoom for all. The data
// are in the page; times are counted from the period's start on the clock of the place.
(() => {
  "use strict";
  const data = JSON.parse(document.getElementById("data").textContent);
  const live = data.pictures.filter((picture) => picture.across === "clock");
  if (!live.length || typeof uPlot !== "function") return;
  const end = live[0].edges.at(-1);
  const view = { from: 0, to: end, at: null };
  const plots = [];

  const two = (n) => String(n).padStart(2, "0");
  const months = "Jan Feb Mar Apr May Jun Jul Aug Sep Oct Nov Dec".split(" ");
  // The page's own clock as if it were UTC: the viewer's zone never enters.
  const local = (s) => new Date(Math.round(data.start + s) * 1000);
  const clock = (s) => `${two(local(s).getUTCHours())}:${two(local(s).getUTCMinutes())}`;
  const day = (s) => `${local(s).getUTCDate()} ${months[local(s).getUTCMonth()]}`;

  const colour = (name) =>
    getComputedStyle(document.documentElement).getPropertyValue("--" + name).trim();

  // The page's pattern of a layer as a fill for a canvas.
  function fillOf(ctx, word) {
    const pattern = document.getElementById("p-" + word);
    const ratio = devicePixelRatio || 1;
    const tile = document.createElement("canvas");
    tile.width = tile.height = Math.round(8 * ratio);
    const pen = tile.getContext("2d");
    pen.scale(tile.width / 8, tile.height / 8);
    pen.fillStyle = getComputedStyle(pattern.querySelector("rect")).fill;
    if (pen.fillStyle !== "none" && word !== "quiet") pen.fillRect(0, 0, 8, 8);
    const stroke = getComputedStyle(pattern.querySelector("path"));
    pen.strokeStyle = stroke.stroke;
    pen.lineWidth = 1.75;
    const path = pattern.querySelector("path").getAttribute("d");
    if (path) pen.stroke(new Path2D(path));
    return ctx.createPattern(tile, "repeat");
  }

  // The look of a line, as the style sheet has it in the legend.
  const lineOf = (picture, word) =>
    getComputedStyle(document.querySelector(`#${picture.id} .legend .l-${word}`));
  const dashOf = (picture, word) => lineOf(picture, word).strokeDasharray.match(/[\d.]+/g)?.map(Number);

  // Layers one on the other, the whole stack first so that the lower ones lie on top.
  function stacked(picture) {
    const tops = [];
    const sum = new Array(picture.edges.length).fill(0);
    for (const layer of picture.layers) {
      for (let i = 0; i < sum.length; ++i) sum[i] += layer.values[i] ?? layer.values.at(-1) ?? 0;
      tops.push(sum.slice());
    }
    return { layers: picture.layers.slice().reverse(), values: tops.reverse() };
  }

  function seriesOf(picture) {
    if (picture.kind === "lines")
      return {
        values: picture.layers.map((layer) => layer.values),
        series: picture.layers.map((layer) => ({
          stroke: () => lineOf(picture, layer.word).stroke,
          width: 3,
          dash: dashOf(picture, layer.word),
          points: { show: false },
        })),
      };
    const stack = picture.kind === "stack" ? stacked(picture) : {
      layers: picture.layers,
      values: picture.layers.map((layer) => [...layer.values, layer.values.at(-1)]),
    };
    return {
      values: stack.values,
      series: stack.layers.map((layer) => ({
        stroke: () => colour("paper"),
        fill: (u) => fillOf(u.ctx, layer.word),
        width: 0.5,
        paths: uPlot.paths.stepped({ align: 1 }),
        points: { show: false },
      })),
    };
  }

  function drawStripes(u, picture) {
    const { left, top, width, height } = u.bbox;
    const ctx = u.ctx;
    ctx.save();
    ctx.beginPath();
    ctx.rect(left, top, width, height);
    ctx.clip();
    for (const level of picture.levels)
      if (level.above) {
        ctx.fillStyle = fillOf(ctx, "quiet");
        ctx.fillRect(left, top, width, u.valToPos(level.value, "y", true) - top);
      }
    for (const stripes of picture.stripes)
      for (const [from, to] of stripes.spans) {
        const x = u.valToPos(from, "x", true);
        const foot = stripes.atFoot ? 16 * devicePixelRatio : height;
        ctx.fillStyle = fillOf(ctx, stripes.word);
        ctx.fillRect(x, top + height - foot, Math.max(1, u.valToPos(to, "x", true) - x), foot);
      }
    ctx.restore();
  }

  function drawLevels(u, picture) {
    const ctx = u.ctx;
    const ratio = devicePixelRatio || 1;
    ctx.save();
    ctx.strokeStyle = ctx.fillStyle = colour("ink");
    ctx.lineWidth = 2 * ratio;
    ctx.font = `${16 * ratio}px system-ui, sans-serif`;
    for (const level of picture.levels) {
      const y = u.valToPos(level.value, "y", true);
      ctx.setLineDash([9 * ratio, 5 * ratio]);
      ctx.beginPath();
      ctx.moveTo(u.bbox.left, y);
      ctx.lineTo(u.bbox.left + u.bbox.width, y);
      ctx.stroke();
      ctx.setLineDash([]);
      const near = (other) => Math.abs(u.valToPos(other.value, "y", true) - y) < 22 * ratio;
      const atEnd = picture.levels.slice(0, picture.levels.indexOf(level)).some(near);
      const x = atEnd ? u.bbox.left + u.bbox.width - 6 * ratio : u.bbox.left + 6 * ratio;
      ctx.textAlign = atEnd ? "right" : "left";
      ctx.lineJoin = "round";
      ctx.strokeStyle = colour("paper");
      ctx.lineWidth = 4 * ratio;
      ctx.strokeText(level.name, x, y - 6 * ratio);
      ctx.fillText(level.name, x, y - 6 * ratio);
      ctx.strokeStyle = colour("ink");
      ctx.lineWidth = 2 * ratio;
    }
    ctx.restore();
  }

  function drawMarks(u, picture) {
    const ctx = u.ctx;
    const ratio = devicePixelRatio || 1;
    ctx.save();
    ctx.strokeStyle = colour("ink");
    ctx.fillStyle = colour("paper");
    ctx.lineWidth = 2.5 * ratio;
    ctx.setLineDash([]);
    for (const mark of picture.marks) {
      if (mark.at < view.from || mark.at > view.to) continue;
      ctx.beginPath();
      const x = u.valToPos(mark.at, "x", true), y = u.valToPos(mark.value, "y", true);
      ctx.arc(x, y, (mark.inside ? 12 : 5) * ratio, 0, 7);
      ctx.fill();
      ctx.stroke();
      if (!mark.inside) continue;
      ctx.font = `${16 * ratio}px system-ui, sans-serif`;
      ctx.textAlign = "center";
      ctx.textBaseline = "middle";
      ctx.fillStyle = colour("ink");
      ctx.fillText(mark.inside, x, y);
      ctx.fillStyle = colour("paper");
    }
    ctx.restore();
  }

  const hours = [0.25, 0.5, 1, 2, 3, 4, 6, 12, 24, 48, 96, 168, 336, 720, 1440, 2880, 8760];

  function clockSteps(u, axis, from, to) {
    const most = Math.max(2, Math.floor(u.bbox.width / devicePixelRatio / 58));
    const step = 3600 * (hours.find((h) => (to - from) / (h * 3600) <= most) ?? 8760);
    const steps = [];
    let at = Math.ceil((data.start + from) / step - 1e-9) * step - data.start;
    for (; at <= to + 1; at += step) steps.push(at);
    return steps;
  }

  const axisLook = {
    stroke: () => colour("ink"),
    grid: { stroke: () => colour("faint"), width: 1 },
    ticks: { stroke: () => colour("ink"), width: 1, size: 6 },
    font: "16px system-ui, sans-serif",
  };

  function makePlot(picture) {
    const figure = document.getElementById(picture.id);
    const holder = figure.querySelector(".drawn");
    const box = document.createElement("div");
    box.className = "plot";
    box.setAttribute("role", "img");
    box.setAttribute("aria-label", `${picture.title}. ${picture.text}`);
    holder.classList.add("has-plot");
    holder.append(box);
    const reading = document.createElement("p");
    reading.className = "reading";
    holder.after(reading);
    const { values, series } = seriesOf(picture);
    const plot = new uPlot({
      width: holder.clientWidth,
      height: holder.clientWidth < 700 ? 250 : 280,
      legend: { show: false },
      cursor: { drag: { x: false, y: false }, y: false, points: { show: false } },
      scales: {
        x: { time: false, range: () => [view.from, view.to] },
        y: { range: [picture.low, picture.high] },
      },
      axes: [
        { ...axisLook, size: 34, splits: clockSteps,
          values: (u, steps) => steps.map((s) => (view.to - view.from > 3 * 86400 ? day(s) : clock(s))) },
        { ...axisLook, size: 62, values: (u, steps) => steps.map(String) },
      ],
      series: [{}, ...series],
      hooks: {
        drawClear: [(u) => drawStripes(u, picture)],
        draw: [(u) => drawLevels(u, picture), (u) => drawMarks(u, picture)],
      },
    }, [picture.edges, ...values], box);
    plots.push({ picture, plot, box, holder, reading });
    return plot;
  }

  const shown = (picture, value) =>
    value === null || value === undefined ? (picture.kind === "bars" ? "outside its hours" : "none")
      : picture.unit === "W" ? `${Math.round(value)} W` : `${value.toFixed(1)} ${picture.unit}`;

  // What a picture says at an instant: a curve between its edges, a mean of its interval.
  function valueAt(picture, layer, at) {
    const edges = picture.edges;
    let i = edges.findIndex((edge) => edge > at) - 1;
    if (i < 0) i = edges.length - 2;
    if (picture.kind !== "lines") return layer.values[i];
    const [a, b] = [layer.values[i], layer.values[i + 1]];
    if (a === null || b === null) return null;
    return a + ((b - a) * (at - edges[i])) / (edges[i + 1] - edges[i]);
  }

  function read(at) {
    view.at = Math.min(end, Math.max(0, at));
    for (const { picture, plot, reading } of plots) {
      plot.setCursor({ left: plot.valToPos(view.at, "x"), top: 10 }, false);
      const parts = picture.layers.map((l) => `${l.name} ${shown(picture, valueAt(picture, l, view.at))}`);
      reading.textContent = `${day(view.at)} ${clock(view.at)}: ${parts.join("; ")}`;
    }
    slider.value = String(Math.round(view.at));
    slider.setAttribute("aria-valuetext", `${day(view.at)} ${clock(view.at)}`);
    now.textContent = `${day(view.at)} ${clock(view.at)}`;
  }

  function zoom(from, to) {
    const least = Math.min(end, 1800);
    const width = Math.min(end, Math.max(least, to - from));
    const middle = (from + to) / 2;
    view.from = Math.min(Math.max(0, middle - width / 2), end - width);
    view.to = view.from + width;
    for (const { plot, box } of plots) {
      plot.setScale("x", { min: view.from, max: view.to });
      box.dataset.view = `${Math.round(view.from)} ${Math.round(view.to)}`;
    }
    if (view.at !== null) read(view.at);
  }

  function scaled(by) {
    const middle = view.at !== null && view.at >= view.from && view.at <= view.to
      ? view.at : (view.from + view.to) / 2;
    zoom(middle - (middle - view.from) * by, middle + (view.to - middle) * by);
  }

  const controls = document.createElement("div");
  controls.className = "controls";
  const caption = document.createElement("label");
  caption.textContent = "Read all pictures at ";
  const now = document.createElement("output");
  caption.append(now);
  const slider = document.createElement("input");
  Object.assign(slider, { type: "range", min: "0", max: String(Math.round(end)), step: "300" });
  slider.addEventListener("input", () => read(Number(slider.value)));
  caption.append(slider);
  controls.append(caption);
  for (const [text, act] of [
    ["Closer", () => scaled(0.5)],
    ["Wider", () => scaled(2)],
    ["Whole period", () => zoom(0, end)],
  ]) {
    const button = document.createElement("button");
    button.type = "button";
    button.textContent = text;
    button.addEventListener("click", act);
    controls.append(button);
  }
  document.querySelector("#pictures h2").after(controls);
  document.documentElement.classList.add("live");

  // One finger reads, sideways; two zoom. A finger that goes up or down scrolls the page.
  function follow(plot) {
    const over = plot.over;
    const fingers = new Map();
    let pinch = null;
    const timeAt = (x) => plot.posToVal(x - over.getBoundingClientRect().left, "x");
    const ends = () => [...fingers.values()].sort((a, b) => a - b);
    over.addEventListener("pointerdown", (event) => {
      fingers.set(event.pointerId, event.clientX);
      if (fingers.size === 2) {
        const [a, b] = ends();
        pinch = { a: timeAt(a), b: timeAt(b) };
      } else read(timeAt(event.clientX));
    });
    over.addEventListener("pointermove", (event) => {
      if (fingers.has(event.pointerId)) fingers.set(event.pointerId, event.clientX);
      else if (event.pointerType !== "mouse") return;
      if (!pinch) {
        read(timeAt(event.clientX));
        return;
      }
      const [a, b] = ends();
      const rect = over.getBoundingClientRect();
      const rate = (pinch.b - pinch.a) / Math.max(20, b - a);
      const from = pinch.a - rate * (a - rect.left);
      zoom(from, from + rate * rect.width);
    });
    for (const name of ["pointerup", "pointercancel", "pointerleave"])
      over.addEventListener(name, (event) => {
        fingers.delete(event.pointerId);
        if (fingers.size < 2) pinch = null;
      });
  }

  for (const picture of live) follow(makePlot(picture));
  read(0);

  const again = () => {
    for (const { plot, holder } of plots) {
      const width = holder.clientWidth;
      if (width > 0) plot.setSize({ width, height: width < 700 ? 250 : 280 });
    }
    if (view.at !== null) read(view.at);
  };
  addEventListener("resize", again);
  matchMedia("(prefers-color-scheme: dark)").addEventListener("change", again);
})();
