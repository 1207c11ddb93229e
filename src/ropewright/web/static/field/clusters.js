// Clusters of broken wires, chained where one window could touch two of them, and counted.

import { exact, loosely, nmDown, nmUp } from "./exact.js";
import { spotsOf, widened } from "./sections.js";
import { sureCount, worstWindow } from "./windows.js";

/** A cluster ready to be counted: its section, where it may lie, its spots. */
export function prepared(cluster) {
  const froms = cluster.groups.map((group) => loosely(exact(group.from_mm)));
  const tos = cluster.groups.map((group) => loosely(exact(group.to_mm)));
  const section = {
    from: cluster.at_m + Math.min(...froms) / 1000,
    to: cluster.at_m + Math.max(...tos) / 1000,
  };
  const offset = loosely(exact(cluster.offset_err_mm ?? "0")) / 1000;
  const spots = spotsOf(cluster);
  const around = widened(section, cluster.abs_err_m ?? 0);
  for (const spot of spots) spot.around = around;
  return {
    id: cluster.id,
    inspection: cluster.inspection_id,
    crossover: cluster.crossover_damage === true,
    groups: cluster.groups,
    abs_err_m: cluster.abs_err_m ?? 0,
    section,
    reach: widened(section, (cluster.rel_err_m ?? 0) + offset),
    spots,
  };
}

/** What surely counts and what may count of each cluster. */
export const sortedOut = (clusters, certainty) =>
  clusters.map((cluster) => {
    const said = cluster.spots.map((spot) => [spot, ...certainty(spot)]);
    return {
      cluster,
      sure: said.filter(([, sure]) => sure).map(([spot]) => spot),
      possible: said.filter(([, , may]) => may).map(([spot]) => spot),
    };
  });

/** Clusters chained wherever two of them could touch one window, in metres. */
export function chained(sorted, windowM) {
  const chains = [];
  let end = 0;
  const ordered = [...sorted].sort(
    (a, b) =>
      a.cluster.reach.from - b.cluster.reach.from || a.cluster.reach.to - b.cluster.reach.to,
  );
  for (const one of ordered) {
    const { from, to } = one.cluster.reach;
    if (chains.length && from <= end + windowM + 1e-9) {
      chains.at(-1).push(one);
      end = Math.max(end, to);
    } else {
      chains.push([one]);
      end = to;
    }
  }
  return chains;
}

/** Sure and possible count in the worst window of a chain; null when nothing can count. */
export function countInWindow(chain, limit) {
  const longest = nmUp(exact(limit.longest_mm));
  const shortest = nmDown(exact(limit.shortest_mm));
  const held = chain.filter(({ possible }) => possible.length);
  const groups =
    held.length === 1 // offsets of one cluster keep their taped error
      ? held[0].possible.map((spot) => spot.alone)
      : held.flatMap(({ possible }) => possible.map((spot) => spot.apart));
  const worst = worstWindow(groups, longest);
  if (!worst) return null;
  const certain = shortest === longest && isCertain(chain);
  return {
    lower: certain ? worst.lower : sureLower(chain, shortest),
    upper: worst.upper,
    section: { from: worst.from / 1e9, to: worst.to / 1e9 },
  };
}

function isCertain(chain) {
  const inspections = new Set(
    chain.filter(({ possible }) => possible.length).map(({ cluster }) => cluster.inspection),
  );
  return (
    inspections.size === 1 &&
    chain.every(({ sure, possible }) => sure.length === possible.length) &&
    (chain.length === 1 ||
      chain.every(({ possible }) => possible.every((spot) => spot.apart.err === spot.alone.err)))
  );
}

/** What is certain: within one cluster, or across clusters of one inspection. */
function sureLower(chain, window) {
  const together = new Map();
  for (const { cluster, sure } of chain) {
    if (!sure.length) continue;
    together.set(cluster.inspection, [...(together.get(cluster.inspection) ?? []), sure]);
  }
  let best = 0;
  for (const own of together.values()) {
    const everything = own.flat();
    if (own.length > 1) {
      best = Math.max(best, sureCount(everything.map((spot) => spot.apart), window));
    }
    if (own.length === 1 || everything.some((spot) => spot.apart.err !== spot.alone.err)) {
      for (const sure of own) {
        best = Math.max(best, sureCount(sure.map((spot) => spot.alone), window));
      }
    }
  }
  return best;
}

/** Where the clusters of a chain lie with a window over them, give or take their error. */
export function spreadOf(chain, window) {
  const sections = chain.map(({ cluster }) => cluster.section);
  const err = Math.max(...chain.map(({ cluster }) => cluster.abs_err_m));
  return {
    from: Math.min(window.from, ...sections.map(({ from }) => from)) - err,
    to: Math.max(window.to, ...sections.map(({ to }) => to)) + err,
  };
}
