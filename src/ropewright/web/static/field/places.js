// From what a person reads off to a place on the rope, and back; all from the card's maps.
// A place is {at_m, abs_err_m, rel_err_m} in rope position.  What cannot be is refused by throwing
// a NoPlace, which names why: the screen has the words.

export class NoPlace extends Error {
  constructor(why, values = {}) {
    super(why);
    this.why = why;
    this.values = values;
  }
}

const HOOK_SLACK_M = 0.32; // zero of the hook and one reading of it
const PLACE_TOUCH_M = 1e-6;
const LIMITS = {
  hook_m: ["hook_low_m", "hook_high_m"],
  radius_m: ["radius_min_m", "radius_max_m"],
  jib_deg: ["jib_min_deg", "jib_max_deg"],
  boom_m: ["boom_min_m", "boom_max_m"],
  boom_deg: ["boom_min_deg", "boom_max_deg"],
};

/** The two limits of an axis, null where they are not known. */
export const limitsOf = (card, axis) => LIMITS[axis].map((name) => card.travel?.[name] ?? null);

/** The place that lies in front of a person, or that one tapes to along a free run. */
export function placeAt(card, map, position, tapedM = 0) {
  for (const { axis } of map.axes) {
    if (!Number.isFinite(position[axis])) throw new NoPlace("axis missing", { axis });
  }
  const corners = cornersOf(map.axes, position);
  checkTravel(card, map, position, mixed(map.room_m, corners));
  const base = mixed(map.rope_m, corners);
  if (base === null) throw new NoPlace("not here", { point: map.point });
  const free = freeOf(map, corners);
  const [abs, rel] = [mixed(map.abs_err_m, corners), mixed(map.rel_err_m, corners)];
  if (map.kind === "walk") {
    if (!(tapedM >= 0)) throw new NoPlace("taped", {});
    if (free !== null && tapedM > free + abs) throw new NoPlace("beyond the run", { most_m: free });
    const tape = card.readings.tape_m + card.readings.tape_share * tapedM;
    return onRope(card, {
      at_m: base + map.toward_b * tapedM, abs_err_m: abs, rel_err_m: Math.hypot(rel, tape),
    });
  }
  if (free !== null && free < -abs - 1e-9) {
    throw new NoPlace("not on free rope", { point: map.point });
  }
  return onRope(card, { at_m: base, abs_err_m: abs, rel_err_m: rel });
}

function checkTravel(card, map, { hook_m: hook }, room) {
  if (!map.axes.some(({ axis }) => axis === "hook_m")) return;
  const { ground_m: ground } = card.travel;
  if (hook < ground - HOOK_SLACK_M) throw new NoPlace("below the ground", { least_m: ground });
  if (room !== null && room < -HOOK_SLACK_M) {
    throw new NoPlace("above the sheaves", { most_m: hook + room });
  }
}

/** Whether a reading lies beyond a limit switch, which only a bridged one allows. */
export function beyondLimits(card, position) {
  return Object.entries(position).some(([axis, value]) => {
    const [low, high] = limitsOf(card, axis);
    return (low !== null && value < low - 0.3) || (high !== null && value > high + 0.3);
  });
}

function onRope(card, place) {
  const { from_m: low, to_m: high } = card.service;
  const err = place.abs_err_m + place.rel_err_m;
  if (place.at_m < low - PLACE_TOUCH_M - err || place.at_m > high + err) {
    throw new NoPlace("off the rope", { at_m: place.at_m, low_m: low, high_m: high });
  }
  return { ...place, at_m: Math.min(Math.max(place.at_m, low), high) };
}

/** Points of a grid around a position with their weights; the last axis runs fastest. */
function cornersOf(axes, position) {
  let corners = [{ index: 0, weight: 1 }];
  for (const { axis, at } of axes) {
    const value = position[axis];
    let cell = at.findIndex((edge, number) => number > 0 && value <= edge) - 1;
    if (cell < 0) cell = value <= at[0] ? 0 : at.length - 2;
    const share = (value - at[cell]) / (at[cell + 1] - at[cell]);
    corners = corners.flatMap(({ index, weight }) => [
      { index: index * at.length + cell, weight: weight * (1 - share) },
      { index: index * at.length + cell + 1, weight: weight * share },
    ]);
  }
  return corners.filter(({ weight }) => weight !== 0);
}

/** Free rope to the nearer contact, or the length of a free run; null where it is not known. */
function freeOf(map, corners) {
  const sides = [mixed(map.before_m, corners), mixed(map.after_m, corners)];
  const known = sides.filter((side) => side !== null);
  return known.length ? Math.min(...known) : null;
}

function mixed(values, corners) {
  let sum = 0;
  for (const { index, weight } of corners) {
    if (values[index] === null || values[index] === undefined) return null;
    sum += values[index] * weight;
  }
  return sum;
}

/** So far from a mark: towards end B positive, towards end A negative. */
export function placeFromMark(card, mark, offsetM) {
  const side = card.service.turned ? -1 : 1;
  const tape = card.readings
    ? card.readings.tape_m + card.readings.tape_share * Math.abs(offsetM)
    : 0.02 + 0.001 * Math.abs(offsetM);
  return onRope(card, {
    at_m: mark.at_m + side * offsetM,
    abs_err_m: mark.abs_err_m,
    rel_err_m: Math.hypot(mark.rel_err_m, tape),
  });
}

const toPath = (card, ropeM) =>
  card.service.turned ? card.service.to_m - ropeM : ropeM - card.service.from_m;
const toRope = (card, pathM) =>
  card.service.turned ? card.service.to_m - pathM : card.service.from_m + pathM;

/** Wraps that lie side by side in a layer. */
export const visibleWraps = ({ wraps }) => Math.ceil(wraps - 1e-9);

const fromFlange = (layer, wrap, flange) =>
  (layer.layer % 2 === 1) === (flange === "clamp") ? wrap : visibleWraps(layer) + 1 - wrap;

/** A place on the drum: layer, wrap counted from a flange ("clamp", "far") and part of turn. */
export function placeOnDrum(card, drum, { layer: number, wrap, flange, part = null }) {
  const layer = drum.layers.find((one) => one.layer === number);
  if (!layer) throw new NoPlace("no such layer", { most: drum.layers.length });
  const most = visibleWraps(layer);
  if (!(wrap >= 1 && wrap <= most)) throw new NoPlace("no such wrap", { most });
  const inOrder = flange ? fromFlange(layer, wrap, flange) : wrap;
  const at = part ?? (layer.start_part + 0.5) % 1;
  let turns = at - layer.start_part;
  turns += inOrder - 1 + (turns < 0 ? 1 : 0);
  const metres = layer.from_m + Math.min(turns, layer.wraps) * layer.turn_m;
  const pathM = drum.side === "A" ? metres : drum.length_m - metres;
  const share = part === null ? 0.5 : card.readings.part_of_turn;
  return onRope(card, {
    at_m: toRope(card, pathM), abs_err_m: layer.abs_err_m, rel_err_m: share * layer.turn_m,
  });
}

/** Where a place lies once it is wound on; null if the drum is not known or does not hold it. */
export function onDrum(card, place) {
  if (!card.drums.length) return null;
  const pathM = toPath(card, place.at_m);
  const twin = card.drums.length > 1;
  const side = twin && pathM < card.drums[0].length_m / 2 ? "A" : "B";
  const drum = card.drums.find((one) => one.side === side);
  const metres = side === "A" ? pathM : drum.length_m - pathM;
  const last = drum.layers.at(-1);
  if (metres < -1e-9 || metres > last.to_m + 1e-9) return null;
  const layer = drum.layers.findLast((one) => metres >= one.from_m) ?? drum.layers[0];
  const into = Math.min(Math.max((metres - layer.from_m) / layer.turn_m, 0), layer.wraps - 1e-12);
  const wrap = Math.floor(into) + 1;
  const err = Math.hypot(place.abs_err_m, drum.own_err_m) + place.rel_err_m;
  const [low, high] = [metres - err, metres + err];
  const near = drum.zones.filter((zone) => zone.from_m <= high && zone.to_m >= low);
  return {
    side, layer: layer.layer, wrap, metres,
    wraps_err: err / layer.turn_m,
    from_clamp: fromFlange(layer, wrap, "clamp"),
    from_far: fromFlange(layer, wrap, "far"),
    clamp_flange: drum.clamp_flange,
    far_flange: drum.far_flange,
    part: (into - Math.floor(into) + layer.start_part) % 1,
    change: near.some(({ kind }) => kind === "layer change"),
    crossover: near.some(({ kind }) => kind !== "layer change"),
  };
}

/** Hook heights that bring a place in front of a person, the other axes as given; maybe none. */
export function bringTo(card, map, ropeM, others = {}) {
  const hook = map.axes.find(({ axis }) => axis === "hook_m");
  if (!hook || map.kind !== "run") return [];
  const found = [];
  const value = (at) => {
    const corners = cornersOf(map.axes, { ...others, hook_m: at });
    const free = freeOf(map, corners);
    return free !== null && free < 0 ? null : mixed(map.rope_m, corners);
  };
  if (map.axes.some(({ axis }) => axis !== "hook_m" && !Number.isFinite(others[axis]))) return [];
  for (let number = 1; number < hook.at.length; number += 1) {
    const [a, b] = [hook.at[number - 1], hook.at[number]];
    const [first, last] = [value(a), value(b)];
    if (first === null || last === null || first === last) continue;
    const share = (ropeM - first) / (last - first);
    if (share >= 0 && share <= 1) found.push(a + (b - a) * share);
  }
  return found;
}

/** By tape from where the rope leaves end A's fitting, or from the drum clamp at end B. */
export function placeFromEnd(card, end, tapedM) {
  if (!(tapedM >= 0)) throw new NoPlace("taped", {});
  const { from_m: low, to_m: high } = card.service;
  const pathM = end === "A" ? tapedM : high - low - tapedM;
  const { tape_m: fixed = 0.02, tape_share: share = 0.001 } = card.readings ?? {};
  const length = end === "B" ? (card.drums.find(({ side }) => side === "B")?.own_err_m ?? 0) : 0;
  return onRope(card, {
    at_m: toRope(card, pathM), abs_err_m: Math.hypot(length, share * tapedM), rel_err_m: fixed,
  });
}
