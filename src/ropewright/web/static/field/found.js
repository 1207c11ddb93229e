// Findings of today: their ids, how they are saved, and what the card's limits make of them.

import { entry, warningShown } from "./entries.js";
import { gravestFirst, judgeBreaks, judgeDamage, judgeDiameter, judgePart, judgeWave, wornPlaces } from "./evaluate.js";
import { t } from "./texts.js";
import { warningWords } from "./rulings.js";

/** The next id of a finding on this phone; two phones never make the same. */
export function nextId({ id, tag, count }) {
  return `${id}-${tag}${count + 1}`;
}

/** A place as an evaluator and an entry want it. */
export const atPlace = (found) => ({
  at_m: found.place.at_m, abs_err_m: found.place.abs_err_m, rel_err_m: found.place.rel_err_m,
});

/** Whether wires or strands stand out at a finding, or may: no hand goes there while rope runs. */
export const standsOut = (card, one) =>
  Boolean(one.groups || one.hand_off || (card.lists.stands_out ?? []).includes(one.damage));

/** Clusters that count beside one: those of today and the open ones, but not what it is the same as. */
function others(app, own) {
  const today = app.work.inspection?.findings ?? [];
  const named = new Map([...today, own].filter((one) => one.same_as).map((one) => [one.same_as, one]));
  const sum = ({ groups }) => groups.reduce((all, { count }) => all + count, 0);
  const open = app.card.findings.filter((one) => {
    const again = named.get(one.id);
    return one.groups && !(again?.groups && sum(again) >= one.count);
  });
  return [...open, ...today.filter((one) => one.groups && one.id !== own.id)];
}

/** Rulings on a finding of today, such as a cluster, a diameter pair, a wave or damage. */
export function judged(app, own) {
  const inspection = app.work.inspection?.kind ?? null;
  const { card } = app;
  if (own.kind === "part finding") return judgePart(card, own, { inspection });
  if (own.kind === "diameter") return judgeDiameter(card, own, { inspection });
  if (own.kind === "waviness") return judgeWave(card, own, { inspection });
  if (own.kind === "damage") return judgeDamage(card, own, { inspection });
  if (!own.groups?.length) return [];
  const today = app.work.inspection?.findings ?? [];
  const worn = wornPlaces([...card.findings, ...today]);
  return judgeBreaks(card, [...others(app, own), own], { worn, inspection }).filter((ruling) =>
    ruling.findings.includes(own.id));
}

/** The rulings on what was saved last. */
export function ruledAgain(app, { finding }) {
  return finding ? judged(app, finding) : [];
}

/** Save a finding with its entry, and with every warning that stood on the screen. */
export async function saveFinding(app, finding, kind, payload, title, rest = {}) {
  const { inspection, rope_id } = app.work;
  const rulings = judged(app, finding);
  const made = entry(rope_id, kind, payload, { title });
  const warnings = gravestFirst(rulings)
    .slice(0, 1) // the gravest stands for all: they are on the screen together
    .filter(({ status }) => status === "reached")
    .map((ruling) => entry(rope_id, "warning shown", warningShown(warningWords(ruling)), { title: t("warning.entry") }));
  const findings = [...inspection.findings, { ...finding, entry_id: made.id, title }];
  await app.save([made, ...warnings], {
    inspection: { ...inspection, count: inspection.count + 1, findings },
    draft: { ...app.work.draft, ...rest, saved: { title, entry_id: made.id, finding } },
  });
  app.go(app.rope("saved"));
}
