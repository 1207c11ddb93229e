// A giant keypad: digits for gloves, one number at a time, nothing to slide and nothing to hold.

import { h, refill } from "./dom.js";
import { t } from "./texts.js";

const KEYS = ["7", "8", "9", "4", "5", "6", "1", "2", "3", ".", "0", "sign"];

/**
 * A number asked with big keys.
 *
 * `value` is the text typed so far, `unit` what stands behind it, `signed` allows a minus,
 * `whole` allows no point.  `onChange` gets every change, `onDone` the number as exact text.
 */
export function keypad({ title, unit, value = "", signed = false, whole = false, help = "", onChange, onDone }) {
  let typed = value;
  const shown = h("output.typed", { "aria-live": "polite" });
  const enter = h("button.key.enter", { type: "button", onclick: finish }, t("keypad.done"));
  const show = () => {
    refill(shown, h("span.number", null, typed || "–"), h("span.unit", null, unit));
    enter.disabled = !isNumber(typed);
    onChange?.(typed);
  };
  function press(key) {
    if (key === "sign") typed = typed.startsWith("-") ? typed.slice(1) : `-${typed}`;
    else if (key === ".") typed = typed.includes(".") || whole ? typed : `${typed || "0"}.`;
    else if (typed.replace(/\D/g, "").length < 8) typed = typed === "0" ? key : typed + key;
    show();
  }
  function back() {
    typed = typed.slice(0, -1);
    show();
  }
  function finish() {
    if (isNumber(typed)) onDone(typed.replace(/\.$/, ""));
  }
  const keys = KEYS.map((key) => {
    if (key === "sign" && !signed) return h("span.key.blank");
    if (key === "." && whole) return h("span.key.blank");
    const words = key === "sign" ? "±" : key;
    const label = key === "sign" ? t("keypad.sign") : null;
    return h("button.key", { type: "button", "aria-label": label, onclick: () => press(key) }, words);
  });
  const pad = h(
    "section.keypad",
    { onkeydown: byKeyboard, "aria-label": title },
    h("h2", null, title),
    help && h("p.help", null, help),
    shown,
    h("div.keys", null, keys),
    h(
      "div.actions", null,
      h("button.key.erase", { type: "button", "aria-label": t("keypad.back"), onclick: back }, "⌫"),
      enter,
    ),
  );
  function byKeyboard(event) {
    if (/^\d$/.test(event.key)) press(event.key);
    else if (event.key === "." || event.key === ",") press(".");
    else if (event.key === "-" && signed) press("sign");
    else if (event.key === "Backspace") back();
    else if (event.key === "Enter" && event.target === pad) finish();
  }
  show();
  return pad;
}

const isNumber = (text) => /^-?\d+(\.\d*)?$/.test(text);
