// Zoom, pan and pinch for the rope chart; how far it shows is said in metres or feet of the rope.
import { choosing } from "./chart_choice.js";

const STILL_PX = 8; // a finger that moved less than this has tapped
const filled = (words, values) => words.replace(/\{(\w+)\}/g, (whole, name) => values[name] ?? whole);

for (const figure of document.querySelectorAll("[data-chart]")) {
  const view = figure.querySelector(".chart-view");
  const say = figure.querySelector("output");
  const svg = view.querySelector("svg") ?? await fetched(view);
  if (!svg) continue;
  const [x0, y0, w0, h0] = svg.getAttribute("viewBox").split(/\s+/).map(Number);
  let x = x0, y = y0, w = w0;
  const places = [...svg.querySelectorAll("[data-rope-m]")];
  const scale = axis();

  // Where two placed marks lie tells how metres lie on the drawing.
  function axis() {
    const known = places
      .map((one) => ({ m: Number(one.dataset.ropeM), box: one.getBBox() }))
      .filter((one) => Number.isFinite(one.m) && one.box.width < 30)
      .map((one) => ({ m: one.m, x: one.box.x + one.box.width / 2 }));
    known.sort((a, b) => a.m - b.m);
    const a = known[0], b = known[known.length - 1];
    if (!a || !b || b.m - a.m < 1 || Math.abs(b.x - a.x) < 1) return null;
    const per = (b.m - a.m) / (b.x - a.x);
    return (at) => a.m + (at - a.x) * per;
  }
  function show() {
    w = Math.min(w0, Math.max(w0 / 24, w));
    const h = w * h0 / w0;
    x = Math.min(x0 + w0 - w, Math.max(x0, x));
    y = Math.min(y0 + h0 - h, Math.max(y0, y));
    svg.setAttribute("viewBox", `${x} ${y} ${w} ${h}`);
    view.style.touchAction = w < w0 ? "none" : "pan-y";
    if (!say) return;
    const { saysWhole, saysPart, saysTimes } = figure.dataset;
    const [per, unit] = "feet" in figure.dataset ? [0.3048, "ft"] : [1, "m"];
    say.textContent = w >= w0 ? saysWhole
      : scale ? filled(saysPart, { low: (Math.max(0, scale(x)) / per).toFixed(0), high: `${(scale(x + w) / per).toFixed(0)} ${unit}` })
        : filled(saysTimes, { n: (w0 / w).toFixed(1) });
  }
  function zoom(by, at = 0.5, down = 0.3) {
    const here = x + w * at, there = y + w * h0 / w0 * down;
    w = Math.min(w0, Math.max(w0 / 24, w / by));
    x = here - w * at;
    y = there - w * h0 / w0 * down;
    show();
  }
  const part = (event) => {
    const box = view.getBoundingClientRect();
    return (event.clientX - box.left) / box.width;
  };
  figure.querySelector("[data-zoom-in]")?.addEventListener("click", () => zoom(1.6));
  figure.querySelector("[data-zoom-out]")?.addEventListener("click", () => zoom(1 / 1.6));
  figure.querySelector("[data-left]")?.addEventListener("click", () => { x -= w / 3; show(); });
  figure.querySelector("[data-right]")?.addEventListener("click", () => { x += w / 3; show(); });
  figure.querySelector("[data-whole]")?.addEventListener("click", () => { x = x0; y = y0; w = w0; show(); });
  view.addEventListener("keydown", (event) => {
    const acts = { "+": () => zoom(1.6), "=": () => zoom(1.6), "-": () => zoom(1 / 1.6), "0": () => { x = x0; y = y0; w = w0; show(); },
      ArrowLeft: () => { x -= w / 8; show(); }, ArrowRight: () => { x += w / 8; show(); },
      ArrowUp: () => { y -= w / 8; show(); }, ArrowDown: () => { y += w / 8; show(); } };
    if (event.key.startsWith("Arrow") && w >= w0) return;
    if (acts[event.key]) { acts[event.key](); event.preventDefault(); }
  });
  view.addEventListener("wheel", (event) => {
    if (!event.ctrlKey && !event.metaKey) return; // plain scrolling stays the page's
    event.preventDefault();
    zoom(Math.exp(-event.deltaY / 300), part(event));
  }, { passive: false });
  const choice = choosing(figure, view, svg, bringIn);
  const fingers = new Map();
  let pinch = null, tap = null;
  view.addEventListener("pointerdown", (event) => {
    if (event.pointerType === "mouse" && event.button) return;
    fingers.set(event.pointerId, event);
    view.setPointerCapture(event.pointerId);
    pinch = twoFingers();
    tap = fingers.size === 1 ? { x: event.clientX, y: event.clientY } : null;
  });
  view.addEventListener("pointermove", (event) => {
    const last = fingers.get(event.pointerId);
    if (!last) return;
    fingers.set(event.pointerId, event);
    if (tap && Math.hypot(event.clientX - tap.x, event.clientY - tap.y) > STILL_PX) tap = null;
    if (fingers.size === 2) {
      const now = twoFingers();
      if (pinch?.gap > 0) {
        x -= (now.across - pinch.across) * w; // what lay between the fingers stays there
        y -= (now.down - pinch.down) * w * h0 / w0;
        zoom(now.gap / pinch.gap, now.across, now.down);
      }
      pinch = now;
    } else if (w < w0 && !tap) {
      const beyond = pan(event.clientX - last.clientX, event.clientY - last.clientY);
      if (event.pointerType === "touch") window.scrollBy(0, -beyond); // over its edge the page goes on
    }
  });
  for (const end of ["pointerup", "pointercancel"]) {
    view.addEventListener(end, (event) => {
      if (end === "pointerup" && tap) choice.at(event.clientX, event.clientY);
      tap = null;
      fingers.delete(event.pointerId);
      pinch = twoFingers();
    });
  }
  // Moves the drawing by so many pixels; what there was no room for, up or down, comes back.
  function pan(right, down) {
    const per = w / view.clientWidth;
    x -= right * per;
    y -= down * per;
    const wanted = y;
    show();
    return (y - wanted) / per;
  }
  function twoFingers() {
    const [a, b] = [...fingers.values()];
    if (!b) return null;
    const box = view.getBoundingClientRect();
    return { gap: Math.hypot(a.clientX - b.clientX, a.clientY - b.clientY),
      across: ((a.clientX + b.clientX) / 2 - box.left) / box.width,
      down: ((a.clientY + b.clientY) / 2 - box.top) / box.height };
  }
  // Moves the drawing so that something on it can be seen.
  function bringIn(one) {
    if (w >= w0) return;
    const box = one.getBBox(), h = w * h0 / w0;
    if (box.x < x || box.x + box.width > x + w) x = box.x + box.width / 2 - w / 2;
    if (box.y < y || box.y + box.height > y + h) y = box.y + box.height / 2 - h / 2;
    show();
  }
  // A finding in a table shows its place on the chart.
  for (const link of document.querySelectorAll("[data-show-m]")) {
    link.addEventListener("click", () => {
      if (!scale) return;
      const m = Number(link.dataset.showM);
      let low = x0, high = x0 + w0;
      for (let n = 0; n < 40; n += 1) {
        const at = (low + high) / 2;
        if (scale(at) < m) low = at; else high = at;
      }
      w = w0 / 3;
      x = low - w / 2;
      y = y0;
      show();
    });
  }
  figure.querySelector(".chart-bar").hidden = false;
  show();
}

// The picture stands there without this module; with it the drawing itself takes its place.
async function fetched(view) {
  const picture = view.querySelector("img");
  const narrow = view.querySelector("source");
  const chosen = narrow && matchMedia(narrow.media).matches ? narrow.srcset : picture.getAttribute("src");
  const answer = await fetch(chosen).catch(() => null);
  if (!answer || !answer.ok) return null;
  const drawing = new DOMParser().parseFromString(await answer.text(), "image/svg+xml").documentElement;
  if (drawing.localName !== "svg") return null;
  const svg = document.importNode(drawing, true);
  view.replaceChildren(svg);
  return svg;
}
