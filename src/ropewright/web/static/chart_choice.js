// Choosing on the rope chart: by tap, by Enter, or step by step; what is told comes from the server.
const NEAR_PX = 22; // half of a target of 44 px
const SVG = "http://www.w3.org/2000/svg";

export function choosing(figure, view, svg, bringIn) {
  const panel = figure.querySelector(".chart-choice");
  if (!panel) return { at() {}, clear() {} };
  const told = panel.querySelector(".chart-told");
  const signs = stops();
  const ring = svg.appendChild(document.createElementNS(SVG, "rect"));
  ring.setAttribute("class", "chosen");
  ring.setAttribute("visibility", "hidden");
  let here = -1, asked = 0, list = null;

  // One stop for each flag, from end to end of the drawing; then for each bar.
  function stops() {
    const all = [...svg.querySelectorAll("g.flag[data-keys], g.trouble[data-keys]")];
    const placed = all.map((one) => ({ one, box: one.getBBox(), m: Number(one.dataset.ropeM) }));
    const last = (one) => one.classList.contains("trouble");
    placed.sort((a, b) => last(a.one) - last(b.one) || a.m - b.m || a.box.y - b.box.y);
    placed.forEach(({ one }, n) => {
      one.setAttribute("role", "button");
      one.setAttribute("tabindex", n ? "-1" : "0");
      one.setAttribute("aria-label", titleOf(one));
    });
    if (all.length) svg.setAttribute("role", "group");
    return placed.map(({ one }) => one);
  }
  function titleOf(one) {
    return one.querySelector(":scope > title")?.textContent ?? "";
  }
  function move(to, { focus = true } = {}) {
    if (!signs.length) return;
    const from = here < 0 ? 0 : here;
    here = (to + signs.length) % signs.length;
    signs[from].setAttribute("tabindex", "-1");
    signs[here].setAttribute("tabindex", "0");
    bringIn(signs[here]);
    if (focus) signs[here].focus({ preventScroll: true });
    tell(signs[here]);
  }
  async function tell(one) {
    const box = one.getBBox();
    for (const [name, value] of [["x", box.x - 3], ["y", box.y - 3], ["width", box.width + 6], ["height", box.height + 6]]) {
      ring.setAttribute(name, value);
    }
    ring.setAttribute("visibility", "visible");
    const mine = ++asked, keys = (one.dataset.keys ?? "").split(" ").filter(Boolean);
    told.replaceChildren(plain(titleOf(one))); // at once; the rest when it has come
    const found = keys.length ? await articles(keys) : [];
    if (mine !== asked) return; // something else was chosen meanwhile
    if (found.length) told.replaceChildren(...found);
  }
  function plain(words) {
    const made = document.createElement("p");
    made.textContent = words || panel.dataset.nothing;
    return made;
  }
  async function articles(keys) {
    list ??= listed();
    const page = await list;
    if (!page) { list = null; return []; }
    return keys.map((key) => page.getElementById(key)).filter(Boolean).map((one) => {
      const copy = document.importNode(one, true);
      copy.removeAttribute("id"); // the list itself may stand on this page
      return copy;
    });
  }
  async function listed() {
    if (document.querySelector(".on-chart")) return document;
    const answer = await fetch(panel.dataset.from).catch(() => null);
    if (!answer || !answer.ok) return null;
    return new DOMParser().parseFromString(await answer.text(), "text/html");
  }
  function clear() {
    asked += 1;
    ring.setAttribute("visibility", "hidden");
    told.replaceChildren();
  }
  // What lies under a finger, else the nearest sign within reach of one; else a section.
  function at(x, y) {
    let best = null, least = NEAR_PX;
    for (const one of svg.querySelectorAll("[data-keys]")) {
      const box = one.getBoundingClientRect();
      const gap = Math.hypot(Math.max(box.left - x, 0, x - box.right), Math.max(box.top - y, 0, y - box.bottom));
      if (gap < least) [best, least] = [one, gap];
    }
    const under = document.elementFromPoint(x, y)?.closest("[data-rope-m]");
    if (under && svg.contains(under) && !under.dataset.keys && least > 0) best = under;
    if (!best) return clear();
    const keys = best.dataset.keys?.split(" ")[0];
    const stop = signs.indexOf(best) >= 0 ? signs.indexOf(best)
      : keys ? signs.findIndex((one) => one.dataset.keys.split(" ").includes(keys)) : -1;
    if (stop >= 0) move(stop, { focus: false }); else tell(best);
  }

  panel.querySelector("[data-before]").addEventListener("click", () => move(here < 0 ? signs.length - 1 : here - 1, { focus: false }));
  panel.querySelector("[data-after]").addEventListener("click", () => move(here + 1, { focus: false }));
  svg.addEventListener("keydown", (event) => {
    const n = signs.indexOf(event.target);
    if (n < 0) return;
    const acts = { Enter: () => move(n), " ": () => move(n), ArrowRight: () => move(n + 1), ArrowLeft: () => move(n - 1),
      ArrowDown: () => move(n + 1), ArrowUp: () => move(n - 1), Home: () => move(0), End: () => move(signs.length - 1), Escape: clear };
    if (!acts[event.key]) return;
    acts[event.key]();
    event.preventDefault();
    event.stopPropagation();
  });
  told.addEventListener("click", (event) => {
    const key = event.target.closest("[data-choose]")?.dataset.choose;
    const n = key ? signs.findIndex((one) => one.dataset.keys.split(" ").includes(key)) : -1;
    if (n < 0) return;
    event.preventDefault();
    move(n, { focus: false });
  });
  panel.hidden = false;
  return { at, clear };
}
