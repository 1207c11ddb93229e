// What every screen is built from.

import { h, s } from "./dom.js";
import { has, headed, t, word } from "./texts.js";
import { sign } from "./signs.js";
import { session } from "./session.js";
import { shown, toTyped, unitName } from "./units.js";

/** A big button; `kind` is "main", "danger", "plain" or "quiet". */
export function big(words, onclick, { kind = "plain", icon = "", disabled = false, under = "" } = {}) {
  return h(
    `button.big.${kind}`, { type: "button", onclick: once(onclick), disabled },
    icon && sign(icon), h("span.words", null, words, under && h("small", null, under)),
  );
}

/** A second tap while the first still works, or when it led to another screen, does nothing. */
function once(act) {
  let busy = false;
  return async () => {
    if (busy) return;
    busy = true;
    const from = location.hash;
    try {
      await act();
      busy = location.hash !== from;
    } catch (problem) {
      busy = false;
      throw problem;
    }
  };
}

/** One choice out of few, as big buttons; picking the chosen one again takes it back. */
export function choices(title, options, current, onPick, { columns = 1, help = "" } = {}) {
  const group = h("div.choices", { role: "group", "aria-label": title, "data-columns": columns });
  for (const { value, words, icon } of options) {
    const chosen = value === current;
    group.append(
      h(
        "button.choice", { type: "button", "aria-pressed": String(chosen), onclick: () => onPick(chosen ? null : value) },
        icon && sign(icon), h("span", null, words),
      ),
    );
  }
  return h("section.asked", null, h("h2", null, title), help && h("p.help", null, help), group);
}

/** Options from words of the trade. */
export const optionsOf = (list, values) =>
  values.map((value) => ({ value, words: word(list, value) }));
export const yesNo = () => [
  { value: true, words: headed(t("yes")) },
  { value: false, words: headed(t("no")) },
];

/** A line that must be seen; `kind` is "danger", "warn" or "plain". */
export const note = (kind, words, icon = "") =>
  h(`div.note.${kind}`, { role: kind === "plain" ? null : "alert" }, icon && sign(icon), h("div", null, words));

/** Something to be ticked. */
export function tick(words, on, onChange, icon = "") {
  return h(
    "button.tick", { type: "button", role: "checkbox", "aria-checked": String(on), onclick: () => onChange(!on) },
    icon && sign(icon), h("span.words", null, words), h("span.box", { "aria-hidden": "true" }, on ? "✓" : ""),
  );
}

/** A line of text to type, where keys cannot do it. */
export function typed(title, value, onChange, { lines = 1, list = [] } = {}) {
  const input = lines > 1
    ? h("textarea", { rows: lines, oninput: (event) => onChange(event.target.value) }, value ?? "")
    : h("input", { value: value ?? "", autocomplete: "off", oninput: (event) => onChange(event.target.value) });
  const offered = list.map((one) =>
    h("button.offer", { type: "button", onclick: () => { input.value = one; onChange(one); } }, one));
  return h("label.text", null, h("span", null, title), input, offered.length ? h("span.offers", null, offered) : null);
}

export const fact = (name, ...value) => h("div.fact", null, h("dt", null, name), h("dd", null, value));
export const facts = (...rows) => h("dl.facts", null, rows);
export const part = (title, ...children) => h("section.part", null, title && h("h2", null, title), children);

/** Hand a file of entries over to the phone's own folders. */
export function saveFile(blob) {
  const link = h("a", { href: URL.createObjectURL(blob), download: "waiting-entries.json" });
  document.body.append(link);
  link.click();
  link.remove();
}

/** Lengths in the person's units. */
export const metres = (value, digits = null) => shown(session.settings.units, "m", value, digits);
export const millimetres = (value, digits = null) => shown(session.settings.units, "mm", value, digits);
/** A taped length as short as it can be said: tenths of a millimetre, hundredths of an inch. */
export function taped(value) {
  const { units } = session.settings;
  return `${toTyped(units, "mm", value, units === "us" ? 2 : 1)} ${unitName(units, "mm")}`;
}
export const plusMinus = (value, err) => `${metres(value, 1)} ± ${metres(Math.max(err, 0.1), 1)}`;
export const placeWords = ({ at_m, abs_err_m = 0, rel_err_m = 0 }) =>
  plusMinus(at_m, abs_err_m + rel_err_m);

/** How a place comes in front of a person, also in the person's own unit. */
export function reachWords({ place, words, hook_m: hook, hook_err_m: err }) {
  const own = session.settings.units === "us" && hook !== null;
  const more = own ? t("reach.hook", { hook: plusMinus(hook, err) }) : "";
  return `${place}: ${[more, words].filter(Boolean).join(" · ")}`;
}

/** Where a place lies on the drum, in words; empty if nobody knows. */
export function drumWords(found) {
  if (!found) return "";
  const words = t("drum.where", {
    layer: found.layer, clamp: found.from_clamp, clamp_flange: found.clamp_flange,
    far: found.from_far, far_flange: found.far_flange, err: Math.max(1, Math.round(found.wraps_err)),
  });
  const zone = found.change ? t("drum.change") : found.crossover ? t("drum.crossover") : "";
  return zone ? `${words} ${zone}` : words;
}

const CHART = { width: 340, height: 140, left: 44, right: 84, top: 30, bottom: 28 };

/** Values of last times, and of today with their spread if given; words say the same. */
export function course(points, now = null, unit = "") {
  const values = points.map(({ value }) => Number(value));
  const all = now ? [...values, now.low, now.high] : values;
  const room = unit ? (Math.max(...all) - Math.min(...all)) / 5 : 0;
  const low = unit ? Math.min(...all) - room : 0;
  const span = Math.max(...all) - low || 1;
  const { width, height, left, right, top: up, bottom } = CHART;
  const steps = Math.max(1, points.length - (now ? 0 : 1));
  const x = (at) => left + ((width - left - right) * at) / steps;
  const y = (value) => up + (height - up - bottom) * (1 - (value - low) / span);
  const marks = points.map(({ value, on }, at) => [
    s("circle", { cx: x(at), cy: y(Number(value)), r: 6, class: "then" }),
    s("text", { x: x(at), y: height - 8, "text-anchor": "middle" }, on.slice(2)),
    s("text", { x: x(at), y: y(Number(value)) - 12, "text-anchor": "middle" }, shortNumber(value)),
  ]);
  const path = values.map((value, at) => `${at ? "L" : "M"}${x(at)} ${y(value)}`).join("");
  const words = now ? (now.low === now.high ? `${now.high}` : `${now.low}–${now.high}`) : "";
  const then = points.map(({ value }) => shortNumber(value)).join(", ");
  const label = now ? t("course.alt", { then, now: words }) : t("course.alt-then", { then });
  return h(
    "figure.course", null,
    s("svg", { viewBox: `0 0 ${width} ${height}`, role: "img", "aria-label": label },
      s("path", { d: `M${left - 24} ${height - bottom}H${width - 8}`, class: "axis" }),
      path && s("path", { d: path, class: "line" }),
      marks,
      now && today(x(points.length), y(now.low), y(now.high), words)),
    h("figcaption", null, unit ? t("course.unit", { unit }) : t("course.count")),
  );
}

const shortNumber = (text) => String(Math.round(Number(text) * 100) / 100);

const today = (at, low, high, words) => [
  s("path", { d: `M${at} ${low}V${high}M${at - 9} ${low}h18M${at - 9} ${high}h18`, class: "spread" }),
  s("path", { d: `M${at} ${high - 8}l8 8-8 8-8-8z`, class: "now" }),
  s("text", { x: at + 14, y: high + 6, class: "strong" }, words),
  s("text", { x: at, y: CHART.height - 8, "text-anchor": "middle" }, t("course.today")),
];

/** Words for a level, such as "remove". */
export const levelWords = (level) => (has(`level.${level}`) ? headed(t(`level.${level}`)) : level);
