// The most broken wires that any window of a length can hold: exact, on whole nanometres.
// A group is {from, to, count, err}: so many breaks somewhere between from and to, and the whole
// group may lie err to either side.  Windows are closed: both ends belong to them.

const pigeonhole = (count, length, window) =>
  Math.ceil(count / Math.max(1, Math.ceil(length / window)));

/** The worst window: what is sure (lower), what may be (upper), and where the upper one lies. */
export function worstWindow(groups, window) {
  if (!(window > 0)) throw new RangeError("a window is longer than nothing");
  const held = groups.filter((group) => group.count > 0);
  if (!held.length) return null;
  if (held.length === 1) {
    const [{ from, to, count }] = held;
    const start = from + Math.floor((to - from - window) / 2);
    return { lower: pigeonhole(count, to - from, window), upper: count, from: start, to: start + window };
  }
  const reach = reachOf(held);
  let [upper, start] = [0, 0];
  for (const { low } of reach) {
    // the window that just reaches this group's near end: all that touches it
    const left = low - window;
    let count = 0;
    for (const other of reach) if (other.low <= low && other.high >= left) count += other.count;
    if (count > upper) [upper, start] = [count, left];
  }
  const touched = reach.filter(({ low, high }) => low <= start + window && high >= start);
  const earliest = Math.max(...touched.map(({ low }) => low)) - window;
  const latest = Math.min(...touched.map(({ high }) => high));
  const begin = Math.floor((earliest + latest) / 2);
  return { lower: within(held, reach, window), upper, from: begin, to: begin + window };
}

/** What surely lies within one window, 0 without breaks. */
export function sureCount(groups, window) {
  const held = groups.filter((group) => group.count > 0);
  return held.length ? within(held, reachOf(held), window) : 0;
}

function reachOf(groups) {
  return groups
    .map(({ from, to, count, err }) => ({ low: from - err, high: to + err, count }))
    .sort((a, b) => a.low - b.low || a.high - b.high || a.count - b.count);
}

function within(groups, reach, window) {
  let lower = 0;
  for (const { from, to, count } of groups) {
    const some = to - from > window ? pigeonhole(count, to - from, window) : count;
    lower = Math.max(lower, some);
  }
  reach.forEach(({ low }, number) => {
    // the window that begins at this group's near end
    let count = 0;
    for (const other of reach.slice(number)) {
      if (other.low <= low + window && other.high <= low + window) count += other.count;
    }
    lower = Math.max(lower, count);
  });
  return lower;
}
