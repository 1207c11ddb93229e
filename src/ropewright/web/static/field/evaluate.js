// The one evaluator: what the limits on a card make of findings.  It draws nothing and knows no
// rule by name: all that differs between rules is on the card.

import { compare, exact, minus, over, passes, plus, times, whole } from "./exact.js";
import { chained, countInWindow, prepared, sortedOut, spreadOf } from "./clusters.js";
import { exposureOver, overlaps, widened } from "./sections.js";

const END_ZONE_IN_DIAMETERS = exact("29/4");
const toMetres = (mm) => Number(mm.n) / Number(mm.d) / 1000;

/** Rulings on broken wires.  `worn` are places with worn outer wires: {from, to, depth_share}. */
export function judgeBreaks(card, clusters, { worn = [], inspection = null } = {}) {
  const ready = clusters
    .map(prepared)
    .sort((a, b) => a.section.from - b.section.from || a.section.to - b.section.to);
  return asked(card, ["breaks", "bunched"], inspection).flatMap((limit) =>
    limit.kind === "breaks"
      ? judgeCount(card, limit, ready, worn)
      : judgeBunched(card, limit, ready),
  );
}

/** Limits of some kinds that an inspection asks for. */
export const asked = (card, kinds, inspection) =>
  card.limits.filter(
    ({ kind, at }) =>
      kinds.includes(kind) && (inspection === null || !at.length || at.includes(inspection)),
  );

function judgeCount(card, limit, clusters, worn) {
  const sorted = sortedOut(clusters, certaintyOf(card, limit));
  const made = [];
  for (const chain of chained(sorted, toMetres(exact(limit.longest_mm)))) {
    const counted = countOf(card, limit, chain);
    if (counted) made.push(ruleCount(card, limit, chain, counted, worn));
  }
  return made;
}

function certaintyOf(card, limit) {
  const sites = new Set(limit.sites);
  const crown = sites.has("crown") || sites.has("unknown");
  return ({ group, around, section, abs_err_m }) => {
    let [sure, may] =
      group.site === "unknown" ? [crown, true] : [sites.has(group.site), sites.has(group.site)];
    if (limit.protruding_only) {
      sure = sure && group.protruding === true;
      may = may && group.protruding !== false;
    }
    if (limit.where === "anywhere") return [sure, may];
    const [endSure, endMay] = atAnEnd(card, group, around, section, abs_err_m);
    if (limit.where === "at an end") {
      const isEnd = group.site === "end";
      return [(sure || isEnd) && endSure, (may || isEnd) && endMay];
    }
    return [sure && !endMay, may && !endSure];
  };
}

function atAnEnd(card, group, around, section, err) {
  if (group.site === "end") return [true, true];
  if (exposureOver(card, around).near_end === false) return [false, false];
  let sure = exposureOver(card, section).near_end;
  let may = exposureOver(card, widened(section, err)).near_end;
  const zone = toMetres(times(END_ZONE_IN_DIAMETERS, exact(card.rope.diameter_mm)));
  const [low, high] = [card.service.from_m + zone, card.service.to_m - zone];
  if (sure === null) sure = section.to + err <= low || section.from - err >= high;
  if (may === null) may = section.from - err <= low || section.to + err >= high;
  return [sure, sure || may];
}

function countOf(card, limit, chain) {
  const all = countInWindow(chain, limit);
  if (!all || limit.per === "rope") return all;
  const spots = chain.flatMap(({ possible }) => possible);
  const numbered = new Set(spots.map(({ group }) => group.strand));
  if (numbered.size === 1 && !numbered.has(null)) return all;
  const strands = [...numbered].filter((strand) => strand !== null).sort((a, b) => a - b);
  let best = null;
  for (const strand of strands.length ? strands : [0]) {
    const counted = countInWindow(inStrand(chain, strand), limit);
    if (!counted) continue;
    if (!best || counted.upper > best.upper) {
      best = { ...counted, lower: Math.max(counted.lower, best?.lower ?? 0) };
    } else if (counted.lower > best.lower) {
      best = { ...best, lower: counted.lower, section: counted.section };
    }
  }
  if (!best) return null;
  const outer = card.rope.outer_strands;
  const shared = outer ? Math.ceil(all.lower / outer) : 0;
  return { ...best, lower: Math.max(best.lower, shared) };
}

const inStrand = (chain, strand) =>
  chain.map(({ cluster, sure, possible }) => ({
    cluster,
    sure: sure.filter(({ group }) => group.strand === strand),
    possible: possible.filter(({ group }) => group.strand === null || group.strand === strand),
  }));

function ruleCount(card, limit, chain, counted, worn) {
  const spread = spreadOf(chain, counted.section);
  const exposure = exposureOver(card, spread);
  const inCrossover = exposure.crossover === true && exposure.drum === "multi";
  const zone =
    inCrossover && chain.every(({ cluster }) => cluster.crossover) ? "multi" : "single";
  const figure = limit.limit[zone];
  const value = figure.value === null ? null : wornLimit(exact(figure.value), limit, spread, worn);
  const missing = [];
  let status = "below";
  if (value === null) {
    status = "not assessable";
    missing.push("limit");
  } else if (passes(whole(counted.lower), value, limit.compare)) {
    status = "reached";
  } else if (passes(whole(counted.upper), value, limit.compare)) {
    status = "not assessable";
    missing.push(...whyStraddles(limit, chain));
  } else if (limit.steel_sheaves_only && ["plastic", "unknown"].includes(exposure.sheaves)) {
    status = "not assessable";
    missing.push(exposure.sheaves === "plastic" ? "plastic sheaves" : "sheave material");
  }
  return rulingOf(limit, status, {
    lower: counted.lower, upper: counted.upper, limit: value, zone,
    section: counted.section, spread, missing,
    unknown: figure.unknown, findings: chain.map(({ cluster }) => cluster.id),
  });
}

function wornLimit(value, limit, place, worn) {
  let factor = null;
  for (const one of worn.filter((wear) => overlaps(wear, place))) {
    for (const row of limit.worn) {
      const counts =
        one.depth_share === null ||
        compare(times(exact(one.depth_share), whole(100)), exact(row.percent)) >= 0;
      const by = exact(row.factor);
      if (counts && (factor === null || compare(by, factor) < 0)) factor = by;
    }
  }
  return factor === null ? value : times(value, factor);
}

function whyStraddles(limit, chain) {
  const groups = chain.flatMap(({ cluster }) => cluster.groups);
  const why = ["count closely"];
  if (limit.shortest_mm !== limit.longest_mm) why.push("lay length");
  if (limit.per === "strand" && groups.some(({ strand }) => strand === null)) why.push("strands");
  if (groups.some(({ site }) => site === "unknown")) why.push("site");
  if (limit.protruding_only && groups.some(({ protruding }) => protruding === null)) {
    why.push("protruding");
  }
  return why;
}

function judgeBunched(card, limit, clusters) {
  const outer = card.rope.outer_strands;
  const made = [];
  const sorted = sortedOut(clusters, () => [true, true]);
  for (const chain of chained(sorted, toMetres(exact(limit.longest_mm)))) {
    const counted = countInWindow(chain, limit);
    if (!counted || counted.upper < limit.least) continue;
    const spread = spreadOf(chain, counted.section);
    if (["single", "multi"].includes(exposureOver(card, spread).drum)) continue;
    const strands = chain.flatMap(({ cluster }) => cluster.groups.map((group) => group.strand));
    const [lower, upper] = outer
      ? mostInNeighbours(chain, limit, outer)
      : [0, counted.upper];
    const missing = [];
    let status = "below";
    if (lower >= limit.least) status = "reached";
    else if (upper >= limit.least) {
      status = "not assessable";
      missing.push(strands.includes(null) || !outer ? "strands" : "count closely");
    }
    made.push(
      rulingOf({ ...limit, compare: "reached" }, status, {
        lower, upper, limit: whole(limit.least), zone: "single", section: counted.section, spread,
        missing, unknown: [], findings: chain.map(({ cluster }) => cluster.id),
      }),
    );
  }
  return made;
}

function mostInNeighbours(chain, limit, outer) {
  const numbered = new Set(
    chain.flatMap(({ cluster }) => cluster.groups.map(({ strand }) => strand)),
  );
  const runs = Array.from({ length: outer }, (_, first) =>
    Array.from({ length: limit.strands }, (_, step) => ((first + step) % outer) + 1),
  );
  const wanted = runs.filter((run) => run.some((strand) => numbered.has(strand)));
  let [lower, upper] = [0, 0];
  for (const run of wanted.length ? wanted : runs.slice(0, 1)) {
    const clusters = chain.map(({ cluster }) => cluster);
    const counted = countInWindow(
      sortedOut(clusters, ({ group: { strand } }) => {
        const inside = strand !== null && run.includes(strand);
        return [inside, inside || strand === null || strand > outer];
      }),
      limit,
    );
    if (counted) [lower, upper] = [Math.max(lower, counted.lower), Math.max(upper, counted.upper)];
  }
  return [lower, upper];
}

function rulingOf(limit, status, rest) {
  const { id, kind, cite, title, words, window, compare: how, demand, remedy, who, by_when } = limit;
  return {
    id, kind, cite, title, words, window, compare: how, demand, remedy, who, by_when, status, ...rest,
  };
}

/** Rulings on a pair of diameters [mm as text] at a place. */
export function judgeDiameter(card, reading, { inspection = null } = {}) {
  const place = { from: reading.at_m, to: reading.at_m };
  const exposure = exposureOver(card, widened(place, reading.abs_err_m ?? 0));
  const crushed =
    reading.crushed_by_crossover === true &&
    exposure.crossover === true &&
    exposure.drum === "multi";
  const limits = asked(card, ["diameter"], inspection).filter(
    (limit) => !(limit.except_crushed && crushed),
  );
  if (reading.readings_mm.length !== 2) {
    return limits.map((limit) => rulingOf(limit, "not assessable", { missing: ["second reading"] }));
  }
  const [a, b] = reading.readings_mm.map(exact);
  const measured = over(plus(a, b), whole(2));
  return limits.map((limit) => {
    const baseline = exact(limit.baseline_mm);
    const lost = limit.change === "decrease" ? minus(baseline, measured) : minus(measured, baseline);
    const value = limit.unit === "mm" ? lost : times(over(lost, exact(limit.of_mm)), whole(100));
    const edge = exact(limit.limit);
    const status = passes(value, edge, limit.compare) ? "reached" : "below";
    return rulingOf(limit, status, { value, limit: edge, unit: limit.unit, measured, missing: [] });
  });
}

/** Rulings on a wave's gap [mm as text]. */
export function judgeWave(card, wave, { inspection = null } = {}) {
  const section = { from: wave.at_m, to: wave.at_m + (wave.length_m ?? 0) };
  const { bends } = exposureOver(card, widened(section, wave.abs_err_m ?? 0));
  return asked(card, ["waviness"], inspection)
    .filter((limit) => limit.section_bends !== (bends === false))
    .map((limit) => {
      const [value, edge] = [exact(wave.gap_mm), exact(limit.limit_mm)];
      const status = passes(value, edge, limit.compare) ? "reached" : "below";
      return rulingOf(limit, status, { value, limit: edge, unit: "mm", missing: [] });
    });
}

/** Rulings on damage that is seen: its kind, form, grade and worn depth as far as stated. */
export function judgeDamage(card, damage, { inspection = null } = {}) {
  const section = { from: damage.at_m, to: damage.at_m + (damage.length_m ?? 0) };
  const { bends } = exposureOver(card, widened(section, damage.abs_err_m ?? 0));
  const found = asked(card, ["damage"], inspection)
    .filter((limit) => mayCount(limit, damage, bends))
    .map((limit) => (limit.ratings ? rated(limit, damage) : seen(limit, damage)));
  if (damage.damage !== "abrasion") return found;
  const worn = asked(card, ["worn wires"], inspection).map((limit) => {
    if (damage.depth_share === null) {
      return rulingOf(limit, "not assessable", { missing: ["depth"] });
    }
    const [value, edge] = [exact(damage.depth_share), exact(limit.share)];
    const status = passes(value, edge, limit.compare) ? "reached" : "below";
    return rulingOf(limit, status, { missing: [] });
  });
  return [...found, ...worn];
}

function mayCount(limit, damage, bends) {
  if (!limit.findings.includes(damage.damage)) return false;
  if (limit.on_bending_rope !== null && bends !== null && bends !== limit.on_bending_rope) {
    return false;
  }
  if (limit.forms.length && damage.form !== null && !limit.forms.includes(damage.form)) return false;
  return !limit.grades.length || damage.grade === null || limit.grades.includes(damage.grade);
}

function seen(limit, damage) {
  const missing = [];
  if (limit.forms.length && damage.form === null) missing.push("form");
  if (limit.grades.length && damage.grade === null) missing.push("grade");
  return rulingOf(limit, missing.length ? "not assessable" : "reached", { missing });
}

function rated(limit, damage) {
  const printed = damage.grade === null ? null : limit.ratings[damage.grade] ?? null;
  const known = [printed, damage.rating_percent].filter((value) => value !== null).map(exact);
  if (!known.length) return rulingOf(limit, "not assessable", { missing: ["grade"] });
  const value = known.reduce((most, one) => (compare(one, most) > 0 ? one : most));
  const edge = exact(limit.limit_percent);
  return rulingOf(limit, compare(value, edge) >= 0 ? "reached" : "below", {
    value, limit: edge, unit: "%", missing: [],
  });
}

/** Rulings on a finding on a part; a limit without states takes what no other one names. */
export function judgePart(card, { part, state }, { inspection = null } = {}) {
  const speaking = asked(card, ["part"], inspection).filter(({ parts }) => parts.includes(part));
  const named = speaking.filter(({ states }) => states.includes(state));
  const rest = speaking.filter(({ states }) => !states.length);
  return (named.length ? named : rest).map((limit) => rulingOf(limit, "reached", { missing: [] }));
}

const LEVELS = ["remove", "decide", "incomplete", "monitor", "clear"];

/** What a ruling calls for by itself. */
export function levelOf({ status, demand, kind, upper, value }) {
  if (status === "reached") return demand;
  if (status === "not assessable") return "incomplete";
  if ((kind === "breaks" || kind === "bunched") && upper > 0) return "monitor";
  return value && value.n > 0n ? "monitor" : "clear";
}

/** Rulings with the gravest first. */
export const gravestFirst = (rulings) =>
  [...rulings].sort((a, b) => LEVELS.indexOf(levelOf(a)) - LEVELS.indexOf(levelOf(b)));

/** Places with worn outer wires, as wide as their error makes them. */
export const wornPlaces = (findings) =>
  findings
    .filter(({ damage }) => damage === "abrasion")
    .map((one) => ({
      ...widened({ from: one.at_m, to: one.at_m + (one.length_m ?? 0) }, one.abs_err_m ?? 0),
      depth_share: one.depth_share ?? null,
    }));
