// A pass: the cautions as a gate, then the phone is put away; it asks for nothing while rope moves.

import { entry, passMade } from "../entries.js";
import { h } from "../dom.js";
import { t, word } from "../texts.js";
import { sign } from "../signs.js";
import { fromTyped, unitName } from "../units.js";
import { session } from "../session.js";
import { keypad } from "../keypad.js";
import { NoPlace, placeAt } from "../places.js";
import { big, metres, note, tick } from "../pieces.js";
import { directionPiece, handsOff, toPlace, travelWords } from "./plan.js";
import { problemWords } from "./place.js";

const passOf = (app, at) => app.card.plan.passes[Number(at)];

const mapOf = ({ card }, { place }) => card.place_maps.find(({ point }) => point === place);

function cautionsFor(card, pass) {
  const moments = pass.how === "walk" ? ["measure"] : pass.method === "feel" ? ["pass", "hand"] : ["pass"];
  return card.cautions.filter(({ moment }) => moments.includes(moment));
}

export async function gateScreen(app, at) {
  const pass = passOf(app, at);
  const list = cautionsFor(app.card, pass);
  const gate = app.work.draft.gate?.at === at ? app.work.draft.gate : { at, ticked: [] };
  const set = (number, on) => {
    const ticked = on ? [...gate.ticked, number] : gate.ticked.filter((one) => one !== number);
    app.draft({ gate: { at, ticked } }).then(app.refresh);
  };
  const all = list.every((_, number) => gate.ticked.includes(number));
  return {
    title: t("gate.title", { method: word("method", pass.method), place: pass.place }),
    back: app.rope("plan"),
    body: [
      h("p", null, travelWords(pass)),
      pass.how === "run" && directionPiece(pass.direction, "large"),
      handsOff(app, pass),
      h("div.stack", null, list.map((one, number) =>
        tick(one.words, gate.ticked.includes(number), (on) => set(number, on), one.sign))),
      big(pass.how === "run" ? t("gate.go") : t("gate.go-walk"), () => app.draft({ gate: null }).then(() => app.go(app.rope("pass", at))), { kind: "main", icon: pass.how === "run" ? "screen-away" : "walk", disabled: !all }),
    ],
  };
}

/** While rope moves: one thing to read, one key for when it stands. */
export async function passScreen(app, at) {
  const pass = passOf(app, at);
  const moving = pass.how === "run";
  return {
    title: t(moving ? "pass.moving" : "pass.walking"),
    look: "still",
    bare: true,
    body: [
      h("div.away", null,
        sign(moving ? "screen-away" : "walk", "huge"),
        h("h1", null, t(moving ? "pass.moving" : "pass.walking")),
        h("p", null, t(moving ? "pass.eyes" : "pass.isolated")),
        moving && directionPiece(pass.direction, "large")),
      big(t(moving ? "pass.stopped" : "pass.found"), () => app.go(app.rope("stopped", at)), { kind: "main", icon: "stop" }),
    ],
  };
}

export async function stoppedScreen(app, at) {
  const pass = passOf(app, at);
  const stop = app.work.draft.stop?.at === at ? app.work.draft.stop : { at };
  const set = (changes) => app.draft({ stop: { ...stop, ...changes } }).then(app.refresh);
  const ready = stop.stands && stop.off;
  const leave = (act) => app.draft({ stop: null }).then(act);
  return {
    title: t("stopped.title"),
    body: [
      tick(t(pass.how === "run" ? "stopped.stands" : "stopped.isolated"), Boolean(stop.stands), (stands) => set({ stands }), "stop"),
      tick(t("stopped.off"), Boolean(stop.off), (off) => set({ off }), "hand-off"),
      big(t("stopped.snag"), () => leave(() => toPlace(app, Number(at))), { kind: "main", icon: "wires", disabled: !ready }),
      big(t("stopped.on"), () => leave(() => app.go(app.rope("gate", at))), { icon: pass.method, disabled: !ready }),
      big(t("stopped.done"), () => leave(() => app.go(app.rope("passed", at))), { icon: "limits", disabled: !ready }),
    ],
  };
}

export async function passedScreen(app, at) {
  const pass = passOf(app, at);
  const draft = app.work.draft.passed ?? {};
  const back = app.rope("plan");
  if (draft.early) return { title: t("passed.early"), back, body: early(app, pass, Number(at)) };
  const hook = pass.axis === "hook_m" && pass.how === "run";
  const whole = (method) => record(app, pass, Number(at), pass.sections, endsOf(pass), method);
  return {
    title: t("passed.title"),
    back,
    body: [
      h("p", null, `${word("method", pass.method)} · ${pass.place}`),
      pass.sections.map(({ from_m, to_m }) => h("p", null, t("passed.section", { from: metres(from_m, 1), to: metres(to_m, 1) }))),
      pass.method === "eye"
        ? [
            big(t("passed.round"), () => whole("eye-round"), { icon: "two-people", under: t("passed.round-help") }),
            big(t("passed.one-side"), () => whole("eye"), { icon: "eye" }),
          ]
        : big(t("passed.whole"), () => whole(pass.method), { kind: "main" }),
      hook && mapOf(app, pass) && big(t("passed.part"), () => app.draft({ passed: { early: true } }).then(app.refresh)),
      big(t("passed.not"), () => app.go(back), { kind: "quiet" }),
    ],
  };
}

const endsOf = ({ start, end, axis }) =>
  axis === "hook_m" ? { hook_from_m: start.hook_m, hook_to_m: end.hook_m } : { hook_from_m: null, hook_to_m: null };

function early(app, pass, at) {
  const { units } = session.settings;
  const again = (problem) => app.draft({ passed: { early: true, problem } }).then(app.refresh);
  const done = (text) => {
    const hook = Number(fromTyped(units, "m", text));
    const map = mapOf(app, pass);
    try {
      const seen = [pass.start.hook_m, hook].map((height) => placeAt(app.card, map, { ...pass.start, hook_m: height }).at_m);
      const [from_m, to_m] = seen.sort((a, b) => a - b);
      const sections = pass.sections
        .map((one) => ({ from_m: Math.max(one.from_m, from_m), to_m: Math.min(one.to_m, to_m) }))
        .filter((one) => one.to_m > one.from_m);
      if (!sections.length) throw new NoPlace("not here", { point: pass.place });
      return record(app, pass, at, sections, { hook_from_m: pass.start.hook_m, hook_to_m: hook });
    } catch (problem) {
      if (!problem.why) throw problem;
      return again({ why: problem.why, values: problem.values });
    }
  };
  const { problem } = app.work.draft.passed;
  return [
    problem && note("warn", problemWords(problem), "unsure"),
    keypad({ title: t("passed.until"), unit: unitName(units, "m"), signed: true, onDone: done }),
  ];
}

async function record(app, pass, at, sections, ends, method = pass.method) {
  const { inspection, rope_id } = app.work;
  const title = `${word("method", method)}: ${pass.place}`;
  const entries = sections.map((one) =>
    entry(rope_id, "pass", passMade(inspection.id, { ...one, ...ends, method, place: pass.place, rope_m_per_s: pass.how === "run" ? pass.rope_m_per_s : 0 }), { title }));
  const passes = [...inspection.passes, { at, method: pass.method, sections }];
  const draft = { ...app.work.draft, passed: null };
  await app.save(entries, { inspection: { ...inspection, passes }, draft });
  app.go(app.rope("plan"));
}
