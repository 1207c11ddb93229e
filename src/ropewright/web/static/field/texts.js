// Words from the catalogue.  A key that is not there is shown as it is, and found by the tests.

let known = {};

export async function loadTexts(get) {
  known = await get();
}

// The app's own words begin with `field.`; what it shares with the pages stands under the bare key.
const wordsOf = (key) => known[`field.${key}`] ?? known[key];

/** The words of a key with values put in, such as "{count} waiting". */
export function t(key, values = {}) {
  const words = wordsOf(key);
  if (words === undefined) return `[field.${key}]`;
  return words.replace(/\{(\w+)\}/g, (whole, name) => (name in values ? String(values[name]) : whole));
}

/** Whether the catalogue has a key. */
export const has = (key) => wordsOf(key) !== undefined;

/** Words with a capital at their head, to stand alone. */
export const headed = (words) => words.charAt(0).toUpperCase() + words.slice(1);

/** The words for a value out of a list, such as a kind of damage; the value itself if none. */
export function word(list, value) {
  const key = `${list}.${String(value).replace(/[^a-z0-9]+/gi, "-").toLowerCase()}`;
  return has(key) ? headed(t(key)) : String(value);
}
