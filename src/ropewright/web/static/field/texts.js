// Words from the catalogue.  A key that is not there is shown as it is, and found by the tests.

let known = {};

export async function loadTexts(get) {
  known = await get();
}

/** The words of a key with values put in, such as "{count} waiting". */
export function t(key, values = {}) {
  const words = known[`field.${key}`];
  if (words === undefined) return `[field.${key}]`;
  return words.replace(/\{(\w+)\}/g, (whole, name) => (name in values ? String(values[name]) : whole));
}

/** Whether the catalogue has a key. */
export const has = (key) => `field.${key}` in known;

/** The words for a value out of a list, such as a kind of damage; the value itself if none. */
export function word(list, value) {
  const key = `${list}.${String(value).replace(/[^a-z0-9]+/gi, "-").toLowerCase()}`;
  return has(key) ? t(key) : String(value);
}
