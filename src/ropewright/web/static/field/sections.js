// Sections of rope, and what a section meets: drum layers, sheaves, crossovers, ends, bending.

import { exact, loosely, nmDown, nmOfMetres, nmUp } from "./exact.js";

const TOUCH_M = 1e-9;

export const widened = (section, by) => ({ from: section.from - by, to: section.to + by });
export const overlaps = (a, b) => a.from <= b.to && b.from <= a.to;
const contains = (a, b) => a.from <= b.from + TOUCH_M && b.to <= a.to + TOUCH_M;

function union(sections) {
  const merged = [];
  for (const one of [...sections].sort((a, b) => a.from - b.from || a.to - b.to)) {
    const last = merged.at(-1);
    if (last && one.from <= last.to + TOUCH_M) last.to = Math.max(last.to, one.to);
    else merged.push({ ...one });
  }
  return merged;
}

const every = (values) =>
  values.every((v) => v === true) ? true : values.some((v) => v === false) ? false : null;
const any = (values) =>
  values.some((v) => v === true) ? true : values.every((v) => v === false) ? false : null;

/** What a whole section is exposed to; unknown wherever its parts disagree. */
export function exposureOver(card, section) {
  const stated = card.zones.filter((zone) => overlaps({ from: zone.from_m, to: zone.to_m }, section));
  if (!stated.length) return card.elsewhere;
  const said = union(stated.map((zone) => ({ from: zone.from_m, to: zone.to_m })));
  const parts = said.some((piece) => contains(piece, section)) ? stated : [...stated, card.elsewhere];
  if (parts.length === 1) return parts[0];
  const drums = new Set(parts.map((part) => part.drum));
  const sheaves = parts.map((part) => part.sheaves);
  return {
    drum: drums.size === 1 ? parts[0].drum : "unknown",
    sheaves: ["plastic", "unknown", "steel"].find((kind) => sheaves.includes(kind)) ?? "none",
    crossover: every(parts.map((part) => part.crossover)),
    near_end: any(parts.map((part) => part.near_end)),
    bends: any(parts.map((part) => part.bends)),
  };
}

/** Breaks of one cluster as spots: their group, where they lie, both ways of counting them. */
export function spotsOf(cluster) {
  const base = nmOfMetres(cluster.at_m);
  const aloneErr = nmUp(exact(cluster.offset_err_mm ?? "0"));
  const apartErr = aloneErr + nmOfMetres(cluster.rel_err_m ?? 0);
  return cluster.groups.map((group) => {
    const [fromMm, toMm] = [exact(group.from_mm), exact(group.to_mm)];
    const [from, to] = [base + nmDown(fromMm), base + nmDown(toMm)];
    return {
      group,
      abs_err_m: cluster.abs_err_m ?? 0,
      section: {
        from: cluster.at_m + loosely(fromMm) / 1000,
        to: cluster.at_m + loosely(toMm) / 1000,
      },
      alone: { from, to, count: group.count, err: aloneErr },
      apart: { from, to, count: group.count, err: apartErr },
    };
  });
}
