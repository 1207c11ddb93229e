// Zoom, pan and pinch for the rope chart; how far it shows is said in metres of the rope.
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
    say.textContent = w >= w0 ? "whole rope"
      : scale ? `${Math.max(0, scale(x)).toFixed(0)} to ${scale(x + w).toFixed(0)} m` : `${(w0 / w).toFixed(1)} times`;
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
  const fingers = new Map();
  let before = null;
  view.addEventListener("pointerdown", (event) => {
    fingers.set(event.pointerId, event);
    view.setPointerCapture(event.pointerId);
    before = gap();
  });
  view.addEventListener("pointermove", (event) => {
    const last = fingers.get(event.pointerId);
    if (!last) return;
    fingers.set(event.pointerId, event);
    if (fingers.size === 2) {
      const now = gap();
      if (before > 0) zoom(now / before, middle());
      before = now;
    } else if (w < w0) {
      x -= (event.clientX - last.clientX) / view.clientWidth * w;
      y -= (event.clientY - last.clientY) / view.clientWidth * w;
      show();
    }
  });
  for (const end of ["pointerup", "pointercancel"]) {
    view.addEventListener(end, (event) => { fingers.delete(event.pointerId); before = gap(); });
  }
  function gap() {
    const [a, b] = [...fingers.values()];
    return b ? Math.hypot(a.clientX - b.clientX, a.clientY - b.clientY) : 0;
  }
  function middle() {
    const [a, b] = [...fingers.values()];
    return (part(a) + part(b)) / 2;
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
