// The plan: which passes, from where, which way, how fast, how long; and what to do besides.

import { soFar } from "../coverage.js";
import { standsOut } from "../found.js";
import { h } from "../dom.js";
import { t, word } from "../texts.js";
import { arrowOf, sign } from "../signs.js";
import { bringTo } from "../places.js";
import { overlaps, widened } from "../sections.js";
import { session } from "../session.js";
import { big, metres, note, part, reachWords } from "../pieces.js";

export async function planScreen(app) {
  const { card, work } = app;
  const inspection = work.inspection;
  if (!inspection) return { title: t("plan.title"), back: app.rope(), body: [note("warn", t("plan.none")), big(t("begin.title"), () => app.go(app.rope("begin")), { kind: "main" })] };
  const { plan } = card;
  return {
    title: t("plan.title"),
    back: app.rope(),
    body: [
      h("p.help", null, t("plan.code", { id: inspection.id })),
      inspection.passes.length > 0 && progress(card, inspection),
      cautions(card, "before"),
      plan ? plan.passes.map((pass, at) => passPiece(app, pass, at)) : note("warn", t("plan.missing", { why: card.plan_missing })),
      big(t("plan.write"), () => toPlace(app, null), { kind: "plain", icon: "two-people", under: t("plan.write-help") }),
      big(t("plan.part"), () => app.go(app.rope("part")), { icon: "nip" }),
      big(t("plan.end"), () => app.go(app.rope("end")), { kind: "main", icon: "lock" }),
      plan && plan.unseen.length > 0 && part(t("plan.unseen"), plan.unseen.map(unseenPiece)),
      plan && part(t("plan.trouble"), plan.trouble.map((spot) => h("div.item", null, h("strong", null, spot.words), spot.reach && h("span", null, reachWords(spot.reach))))),
      plan && h("details", null, h("summary", null, t("plan.steps")),
        h("ol.steps", null, plan.steps.map((step) => h("li", null, h("strong", null, step.title), step.words.map((one) => h("span", null, one)), step.cautions.map((one) => h("span.caution", null, one)))))),
    ],
  };
}

function progress(card, { passes }) {
  const { seen, all } = soFar(card, passes, "eye");
  return note("plain", t("plan.so-far", { seen: metres(seen, 0), all: metres(all, 0) }), "eye");
}

/** Cautions of one moment with their signs, to be read. */
export const cautions = (card, moment) =>
  h("ul.cautions", null, card.cautions.filter((one) => one.moment === moment).map((one) =>
    h("li", null, sign(one.sign), h("span", null, one.words))));

/** From where to where the crane goes, also in the person's own unit. */
export function travelWords({ travel, axis, how, start, end }) {
  if (session.settings.units !== "us" || axis !== "hook_m" || how !== "run") return travel;
  return `${t("plan.hook", { from: metres(start.hook_m, 1), to: metres(end.hook_m, 1) })} · ${travel}`;
}

/** The way the rope may run, as an arrow with words. */
export function directionPiece(direction, size = "") {
  if (!direction) return null;
  const arrow = arrowOf(direction.motion);
  return h(`div.direction${direction.motion ? "" : ".none"}`, null, sign(arrow, size), h("span", null, direction.words));
}

function passPiece(app, pass, at) {
  const done = app.work.inspection.passes.some((one) => one.at === at);
  return h("article.pass", { "data-pass": at },
    h("header", null, sign(pass.how === "walk" ? "walk" : pass.method),
      h("strong", null, `${word("method", pass.method)} · ${pass.place}`), done && h("span.done", null, t("plan.done"))),
    h("p", null, travelWords(pass)),
    pass.how === "run" && directionPiece(pass.direction),
    h("p.numbers", null,
      pass.how === "run"
        ? t("plan.speed", { speed: metres(pass.rope_m_per_s, 2), minutes: Math.ceil(pass.minutes) })
        : t("plan.walk", { minutes: Math.ceil(pass.minutes) })),
    handsOff(app, pass),
    big(done ? t("plan.again") : t("plan.begin"), () => app.go(app.rope("gate", at)), { kind: done ? "quiet" : "main" }));
}

/** Where no hand may lie on a pass: by the card, and by what was found today. */
export const handsOff = (app, pass) =>
  [...pass.hands_off.map(handsOffWords), ...foundToday(app, pass)].map((words) => note("danger", words, "wires"));

function handsOffWords(off) {
  const where = { from: metres(off.from_m, 1), to: metres(off.to_m, 1), why: off.why };
  if (off.hook_from_m !== null) {
    return t("plan.hand-off-hook", { ...where, low: metres(off.hook_from_m, 1), high: metres(off.hook_to_m, 1) });
  }
  return off.crane ? t("plan.hand-off-crane", { ...where, crane: off.crane }) : t("plan.hand-off", where);
}

function foundToday({ card, work }, pass) {
  if (pass.method !== "feel") return [];
  const map = card.place_maps.find(({ point }) => point === pass.place);
  return work.inspection.findings.filter((one) => one.place && standsOut(card, one)).flatMap((one) => {
    const err = one.place.abs_err_m + one.place.rel_err_m;
    const here = widened({ from: one.place.at_m, to: one.place.at_m + (one.length_m ?? 0) }, err);
    if (!pass.sections.some(({ from_m: from, to_m: to }) => overlaps({ from, to }, here))) return [];
    const heights = map && pass.how === "run" ? [here.from, one.place.at_m, here.to].flatMap((at) => bringTo(card, map, at, pass.start)) : [];
    if (!heights.length) return [t("plan.hand-off-today", { what: one.title })];
    return [t("plan.hand-off-today-hook", { what: one.title, low: metres(Math.min(...heights), 1), high: metres(Math.max(...heights), 1) })];
  });
}

const unseenPiece = (one) =>
  h("div.item", null, h("strong", null, t("plan.section", { from: metres(one.from_m, 1), to: metres(one.to_m, 1), method: word("method", one.method) })), h("span", null, one.why), h("span", null, one.how));

/** To the place of a finding, from a pass or from somebody who calls it out. */
export async function toPlace(app, at) {
  const pass = at === null ? null : app.card.plan.passes[at];
  const map = pass ? app.card.place_maps.findIndex(({ point }) => point === pass.place) : -1;
  const held = pass?.start ?? {};
  const beside = Object.fromEntries(Object.entries(held).filter(([axis, value]) => value !== null && axis !== (pass.axis ?? "")));
  await app.draft({ place: { pass: at, how: app.card.place_maps.length ? "crane" : "end", map: map >= 0 ? map : app.card.place_maps.length > 1 ? null : 0, position: pass && pass.how === "walk" ? { ...beside, ...only(held, pass.axis) } : beside }, found: null });
  app.go(app.rope("place"));
}

const only = (held, axis) => (axis && held[axis] !== null && held[axis] !== undefined ? { [axis]: held[axis] } : {});
