// Exact numbers: limits and measured values are text on the card and stay exact here.

const NUMBER = /^(-?)(\d+)(?:\.(\d+))?$/;
const RATIO = /^(-?\d+)\/([1-9]\d*)$/;

/** An exact number from its text, such as "7.2" or "20/3". */
export function exact(text) {
  const value = String(text);
  const ratio = RATIO.exec(value);
  if (ratio) return reduced(BigInt(ratio[1]), BigInt(ratio[2]));
  const found = NUMBER.exec(value);
  if (!found) throw new RangeError(`not an exact number: ${value}`);
  const [, sign, whole, part = ""] = found;
  const size = BigInt(whole + part);
  return reduced(sign ? -size : size, 10n ** BigInt(part.length));
}

function reduced(n, d) {
  let [a, b] = [n < 0n ? -n : n, d];
  while (b) [a, b] = [b, a % b];
  return a > 1n ? { n: n / a, d: d / a } : { n, d };
}

export const plus = (a, b) => reduced(a.n * b.d + b.n * a.d, a.d * b.d);
export const minus = (a, b) => reduced(a.n * b.d - b.n * a.d, a.d * b.d);
export const times = (a, b) => reduced(a.n * b.n, a.d * b.d);
export const over = (a, b) => {
  if (b.n === 0n) throw new RangeError("division by zero");
  return b.n < 0n ? reduced(-a.n * b.d, -b.n * a.d) : reduced(a.n * b.d, a.d * b.n);
};
export const whole = (count) => ({ n: BigInt(count), d: 1n });

/** Below zero, zero or above zero as a is smaller than, equal to or larger than b. */
export function compare(a, b) {
  const left = a.n * b.d - b.n * a.d;
  return left < 0n ? -1 : left > 0n ? 1 : 0;
}

/** Whether a value passes a limit: "reached" counts the limit itself, "more than" does not. */
export function passes(value, limit, how) {
  const sign = compare(value, limit);
  return how === "reached" ? sign >= 0 : sign > 0;
}

/** As text again: a decimal where it ends, else a ratio. */
export function asText(value) {
  let [rest, twos, fives] = [value.d, 0, 0];
  while (rest % 2n === 0n) [rest, twos] = [rest / 2n, twos + 1];
  while (rest % 5n === 0n) [rest, fives] = [rest / 5n, fives + 1];
  if (rest !== 1n) return `${value.n}/${value.d}`;
  const digits = Math.max(twos, fives);
  const size = ((value.n < 0n ? -value.n : value.n) * 10n ** BigInt(digits)) / value.d;
  const text = size.toString().padStart(digits + 1, "0");
  const cut = text.length - digits;
  const body = digits ? `${text.slice(0, cut)}.${text.slice(cut)}` : text;
  return value.n < 0n ? `-${body}` : body;
}

/** Rounded for the screen, halves away from zero; never for a comparison. */
export function rounded(value, digits) {
  const scale = 10n ** BigInt(digits);
  const size = value.n < 0n ? -value.n : value.n;
  const scaled = (2n * size * scale + value.d) / (2n * value.d);
  const text = scaled.toString().padStart(digits + 1, "0");
  const cut = text.length - digits;
  const body = digits ? `${text.slice(0, cut)}.${text.slice(cut)}` : text;
  return value.n < 0n && scaled > 0n ? `-${body}` : body;
}

/** A floating number for drawing and for places; never for a comparison with a limit. */
export const loosely = (value) => Number(value.n) / Number(value.d);

const NM_PER_MM = 1_000_000n;
const floorDiv = (n, d) => (n >= 0n ? n / d : -((-n + d - 1n) / d));

/** Whole nanometres of a length in mm, rounded down: breaks one window apart stay within it. */
export const nmDown = (mm) => Number(floorDiv(mm.n * NM_PER_MM, mm.d));
/** Whole nanometres of a length in mm, rounded up. */
export const nmUp = (mm) => -Number(floorDiv(-mm.n * NM_PER_MM, mm.d));

/** Whole nanometres of a place in metres, halves to even. */
export function nmOfMetres(metres) {
  const size = metres * 1e9;
  const down = Math.floor(size);
  const part = size - down;
  if (part !== 0.5) return Math.round(size);
  return down % 2 === 0 ? down : down + 1;
}
