// What is measured: a pair of diameters at right angles, and the gap of a wave.

import { readingTaken, waveFound } from "../entries.js";
import { asText, exact, over, plus, rounded, whole } from "../exact.js";
import { atPlace, judged, nextId, saveFinding } from "../found.js";
import { h } from "../dom.js";
import { t } from "../texts.js";
import { fromTyped, unitName } from "../units.js";
import { session } from "../session.js";
import { keypad } from "../keypad.js";
import { rulingList } from "../rulings.js";
import { onDrum } from "../places.js";
import { big, choices, course, fact, facts, millimetres, note, optionsOf, placeWords, yesNo } from "../pieces.js";
import { nearby } from "./place.js";
import { cautions } from "./plan.js";

const TENSIONS = ["empty hook", "slack", "with load"];
const nowhere = (app, title) => ({ title, back: app.rope("plan"), body: [note("warn", t("plan.none"))] });

export async function diameterScreen(app) {
  const { found, diameter = {} } = app.work.draft;
  if (!found?.place) return nowhere(app, t("diameter.title"));
  const set = (changes) => app.draft({ diameter: { ...diameter, ...changes } }).then(app.refresh);
  const readings = diameter.readings_mm ?? [];
  const { units } = session.settings;
  const back = app.rope("what");
  if (readings.length < 2 && !diameter.only) {
    const done = (text) => positive(text) && set({ readings_mm: [...readings, fromTyped(units, "mm", text)] });
    return {
      title: t("diameter.title"), back,
      body: [
        cautions(app.card, "measure"),
        keypad({ title: t(`diameter.${readings.length ? "second" : "first"}`), help: t(`diameter.${readings.length ? "second" : "first"}-help`), unit: unitName(units, "mm"), onDone: done }),
        readings.length > 0 && big(t("diameter.only"), () => set({ only: true }), { kind: "quiet" }),
      ],
    };
  }
  const own = {
    id: nextId(app.work.inspection), kind: "diameter", place: found.place, ...atPlace(found),
    readings_mm: readings, method: "gauge", crushed_by_crossover: diameter.crushed ?? null,
    tension: diameter.tension ?? "", position: found.position, point: found.point,
  };
  const wound = onDrum(app.card, found.place);
  const near = nearby(app.card, found.place).find(({ kind, course: held }) => kind === "diameter" && held.length);
  const mean = readings.length === 2 ? over(plus(exact(readings[0]), exact(readings[1])), whole(2)) : null;
  return {
    title: t("diameter.title"), back,
    body: [
      h("p.where", null, placeWords(found.place)),
      facts(
        fact(t("diameter.readings"), readings.map((one) => millimetres(one)).join(", ")),
        mean && fact(t("diameter.mean"), millimetres(asText(mean))),
        app.card.rope.reference_mm && fact(t("diameter.reference"), millimetres(app.card.rope.reference_mm))),
      mean && near && course(near.course, { low: Number(rounded(mean, 2)), high: Number(rounded(mean, 2)) }, "mm"),
      rulingList(app, judged(app, own)),
      wound && (wound.change || wound.crossover) && choices(t("diameter.crushed"), yesNo(), diameter.crushed ?? null, (crushed) => set({ crushed }), { columns: 2 }),
      choices(t("diameter.tension"), optionsOf("tension", TENSIONS), diameter.tension ?? null, (tension) => set({ tension }), { columns: 3 }),
      big(t("save"), () => saveFinding(app, own, "reading", readingTaken(app.work.inspection.id, own), t("diameter.entry", { where: placeWords(own.place) }), { diameter: null }), { kind: "main", icon: "lock" }),
      big(t("diameter.again"), () => app.draft({ diameter: {} }).then(app.refresh), { kind: "quiet" }),
    ],
  };
}

const positive = (text) => Number(text) > 0;

export async function waveScreen(app) {
  const { found, wave = {} } = app.work.draft;
  if (!found?.place) return nowhere(app, t("wave.title"));
  const set = (changes) => app.draft({ wave: { ...wave, ...changes } }).then(app.refresh);
  const { units } = session.settings;
  const back = app.rope("what");
  if (wave.gap_mm === undefined) {
    return { title: t("wave.title"), back, body: [cautions(app.card, "measure"), keypad({ title: t("wave.gap"), help: t("wave.gap-help"), unit: unitName(units, "mm"), onDone: (text) => set({ gap_mm: fromTyped(units, "mm", text) }) })] };
  }
  if (wave.length_m === undefined) {
    return { title: t("wave.title"), back, body: [keypad({ title: t("wave.length"), help: t("wave.length-help"), unit: unitName(units, "m"), onDone: (text) => set({ length_m: Number(fromTyped(units, "m", text)) }) })] };
  }
  const own = {
    id: nextId(app.work.inspection), kind: "waviness", place: found.place, ...atPlace(found),
    gap_mm: wave.gap_mm, length_m: wave.length_m, method: "gauge", position: found.position, point: found.point,
  };
  return {
    title: t("wave.title"), back,
    body: [
      h("p.where", null, placeWords(found.place)),
      facts(fact(t("wave.gap-was"), millimetres(wave.gap_mm))),
      rulingList(app, judged(app, own)),
      big(t("save"), () => saveFinding(app, own, "finding", waveFound(app.work.inspection.id, own), t("wave.entry", { where: placeWords(own.place) }), { wave: null }), { kind: "main", icon: "lock" }),
      big(t("diameter.again"), () => app.draft({ wave: {} }).then(app.refresh), { kind: "quiet" }),
    ],
  };
}
