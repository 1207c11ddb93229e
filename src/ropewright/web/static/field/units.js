// Metric or US units on the screen; inside and in entries always metres and millimetres, exact.

import { asText, exact, over, rounded, times } from "./exact.js";

const FOOT = exact("0.3048");
const INCH = exact("25.4");

/** Units of a person: short names, and how many digits are shown. */
const UNITS = {
  metric: {
    m: { per: exact("1"), name: "m", digits: 2 },
    mm: { per: exact("1"), name: "mm", digits: 2 },
  },
  us: {
    m: { per: FOOT, name: "ft", digits: 1 },
    mm: { per: INCH, name: "in", digits: 3 },
  },
};

const unit = (units, base) => UNITS[units === "us" ? "us" : "metric"][base];

/** What a person reads beside a number of metres ("m") or millimetres ("mm"). */
export const unitName = (units, base) => unit(units, base).name;

/** Text typed in a person's unit as exact text in metres or millimetres. */
export const fromTyped = (units, base, text) => asText(times(exact(text), unit(units, base).per));

/** Exact text in metres or millimetres as a number in the person's unit, without the unit. */
export function toTyped(units, base, text, digits = null) {
  const value = over(exact(text), unit(units, base).per);
  const short = rounded(value, digits ?? unit(units, base).digits);
  return short.includes(".") ? short.replace(/\.?0+$/, "") : short;
}

/** A length with its unit. */
export function shown(units, base, value, digits = null) {
  const text = typeof value === "number" ? decimal(value) : value;
  const places = digits ?? unit(units, base).digits;
  return `${rounded(over(exact(text), unit(units, base).per), places)} ${unit(units, base).name}`;
}

/** Exact text of a float, without an exponent, to a tenth of a millimetre of a metre. */
export function decimal(value, digits = 4) {
  const text = value.toFixed(digits).replace(/\.?0+$/, "");
  return text === "-0" || text === "" ? "0" : text;
}
