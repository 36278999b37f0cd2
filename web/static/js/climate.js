// Draws the plots of a place's climate. The page has the same in tables and
// works without this script.
const box = document.querySelector("[data-climate]");
const dark = matchMedia("(prefers-color-scheme: dark)");
let plots = [];

const token = (name) => getComputedStyle(document.documentElement).getPropertyValue(name).trim();

// hatch shades the stretches in which the place was not dry.
function hatch(u, spans) {
  const { ctx } = u;
  const { left, top, width, height } = u.bbox;
  ctx.save();
  ctx.beginPath();
  for (const [from, to] of spans) {
    const start = Math.max(u.valToPos(from, "x", true), left);
    const end = Math.min(u.valToPos(to, "x", true), left + width);
    if (end > start) ctx.rect(start, top, Math.max(end - start, 2), height);
  }
  ctx.fillStyle = token("--stop-wash");
  ctx.fill();
  ctx.clip();
  ctx.beginPath();
  for (let x = left - height; x < left + width; x += 12) {
    ctx.moveTo(x, top + height);
    ctx.lineTo(x + height, top);
  }
  ctx.strokeStyle = token("--stop");
  ctx.globalAlpha = 0.4;
  ctx.stroke();
  ctx.restore();
}

// limit draws a limit as a dashed line.
function limit(u, value) {
  if (value === null) return;
  const { ctx } = u;
  const y = u.valToPos(value, "y", true);
  if (y < u.bbox.top || y > u.bbox.top + u.bbox.height) return;
  ctx.save();
  ctx.beginPath();
  ctx.setLineDash([8, 6]);
  ctx.lineWidth = 2;
  ctx.strokeStyle = token("--stop-text");
  ctx.moveTo(u.bbox.left, y);
  ctx.lineTo(u.bbox.left + u.bbox.width, y);
  ctx.stroke();
  ctx.restore();
}

const axis = (size) => ({ stroke: token("--ink"), grid: { stroke: token("--line"), width: 1 },
  ticks: { stroke: token("--line"), width: 1 }, font: `14px ${token("--sans")}`, size });

// stamp writes an instant as everywhere else: 2026-11-20 08:00, in the shop's
// zone.
const stamp = (at, zone) => new Date(at * 1000).toLocaleString("sv-SE", { timeZone: zone || undefined, dateStyle: "short", timeStyle: "short" });

// marks writes the instants of an axis as short as their steps allow.
const marks = (zone) => (u, splits, i, space, step) => splits.map((at) => {
  const [day, hour] = stamp(at, zone).split(" ");
  if (step >= 28 * 86400) return day.slice(0, 7);
  return hour === "00:00" || step >= 86400 ? day.slice(5) : hour;
});

// line is one series; dash tells it from the others without colour.
const line = (label, unit, stroke, dash) => ({ label, stroke, width: 2, dash, spanGaps: false, points: { size: 4 },
  value: (u, v) => (v === null || v === undefined ? "no reading" : `${v.toFixed(1)} ${unit}`) });

function draw(where, data, series, columns, limits) {
  const low = Math.min(...limits.filter((v) => v !== null));
  const high = Math.max(...limits.filter((v) => v !== null));
  const options = {
    width: where.clientWidth, height: 280,
    series: [{ label: "When", value: (u, at) => (at === null || at === undefined ? "–" : stamp(at, data.zone)) }, ...series],
    axes: [{ ...axis(36), values: marks(data.zone) }, axis(52)],
    scales: { y: { range: (u, min, max) => uPlot.rangeNum(Math.min(min ?? low, low), Math.max(max ?? high, high), 0.1, true) } },
    hooks: { drawAxes: [(u) => hatch(u, data.not_dry)], draw: [(u) => limits.forEach((v) => limit(u, v))] },
    legend: { live: true },
  };
  if (data.zone) options.tzDate = (at) => uPlot.tzDate(new Date(at * 1000), data.zone);
  plots.push(new uPlot(options, [data.at, ...columns], where));
}

function drawAll(data) {
  plots.forEach((p) => p.destroy());
  plots = [];
  const ink = token("--ink");
  const copper = token("--copper");
  const blue = token("--do");
  const damp = [], dampColumns = [], warm = [], warmColumns = [];
  for (const l of data.loggers) {
    damp.push(line(`${l.name} highest`, "%", ink), line(`${l.name} lowest`, "%", copper, [3, 3]));
    dampColumns.push(l.highest_rh_pct, l.lowest_rh_pct);
    warm.push(line(`${l.name} warmest`, "°C", ink), line(`${l.name} coldest`, "°C", copper, [3, 3]), line(`${l.name} dew point`, "°C", blue, [12, 4]));
    warmColumns.push(l.highest_c, l.lowest_c, l.dew_point_c);
  }
  draw(box.querySelector("[data-plot=humidity]"), data, damp, dampColumns, [data.max_rh_pct]);
  draw(box.querySelector("[data-plot=temperature]"), data, warm, warmColumns, [data.lowest_c, data.highest_c]);
}

async function start() {
  const answer = await fetch(box.dataset.climate);
  if (!answer.ok) return;
  const data = await answer.json();
  if (data.at.length === 0) return;
  box.hidden = false;
  drawAll(data);
  dark.addEventListener("change", () => drawAll(data));
  new ResizeObserver(() => plots.forEach((p) => p.setSize({ width: p.root.parentElement.clientWidth, height: 280 }))).observe(box);
}

if (box && window.uPlot) start();
