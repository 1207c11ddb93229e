// Where on the rope: by the height that was read and read back, on the drum, from a mark, by tape.

import { h } from "../dom.js";
import { t, word } from "../texts.js";
import { fromTyped, toTyped, unitName } from "../units.js";
import { session } from "../session.js";
import { keypad } from "../keypad.js";
import { standsOut } from "../found.js";
import { beyondLimits, onDrum, placeAt, placeFromEnd, placeFromMark, placeOnDrum, visibleWraps } from "../places.js";
import { cautions } from "./plan.js";
import { big, choices, drumWords, fact, facts, metres, note, placeWords } from "../pieces.js";

const AXIS_BASE = { hook_m: "m", radius_m: "m", boom_m: "m", jib_deg: null, boom_deg: null };

export async function placeScreen(app) {
  const { card, work } = app;
  const draft = work.draft.place;
  if (!work.inspection || !draft) return { title: t("place.title"), back: app.rope("plan"), body: [note("warn", t("plan.none"))] };
  const set = (changes) => app.draft({ place: { ...draft, ...changes } }).then(app.refresh);
  const asking = step(app, draft, set);
  const ways = [
    card.place_maps.length && { value: "crane", words: t("place.crane") },
    card.drums.length && { value: "drum", words: t("place.drum") },
    card.marks.length + (work.inspection.marks ?? []).length && { value: "mark", words: t("place.mark") },
    { value: "end", words: t("place.end") },
  ].filter(Boolean);
  const restart = (how) => app.draft({ place: { how: how ?? draft.how, map: draft.map, pass: draft.pass, position: {} } }).then(app.refresh);
  return {
    title: t("place.title"),
    back: app.rope("plan"),
    body: [
      draft.problem && note("warn", problemWords(draft.problem), "unsure"),
      draft.how === "drum" && cautions(card, "drum"),
      asking,
      !draft.read && h("details", null, h("summary", null, t("place.other")),
        choices(t("place.how"), ways, draft.how, restart, { columns: 2 })),
    ],
  };
}

/** Why there is no such place, in words. */
export const problemWords = ({ why, values = {} }) =>
  t(`no-place.${why.replaceAll(" ", "-")}`, Object.fromEntries(Object.entries(values).map(readable)));

function readable([key, value]) {
  if (key.endsWith("_m")) return [key, metres(value, 1)];
  return [key, key === "axis" ? word("axis", value) : value];
}

function step(app, draft, set) {
  if (draft.how === "crane") return crane(app, draft, set);
  if (draft.how === "drum") return drum(app, draft, set);
  if (draft.how === "mark") return mark(app, draft, set);
  return end(app, draft, set);
}

/** A length asked with big keys, in the person's units. */
function length(app, draft, set, name, { title, help = "", signed = false, base = "m", keep }) {
  const { units } = session.settings;
  const unit = base ? unitName(units, base) : "°";
  const done = (text) => set({ typing: null, problem: null, ...keep(base ? fromTyped(units, base, text) : text) });
  return keypad({
    title, help, signed, unit,
    value: draft.typing?.name === name ? draft.typing.text : "",
    onChange: (text) => app.draft({ place: Object.assign(draft, { typing: { name, text } }) }),
    onDone: done,
  });
}

// --- The crane's position -----------------------------------------------------------------------

function crane(app, draft, set) {
  const { card } = app;
  const where = choices(
    t("place.where"), card.place_maps.map(({ point }, value) => ({ value, words: point })), draft.map ?? null,
    (value) => value !== null && set({ map: value, position: {}, read: false, taped: undefined }),
  );
  if (draft.map === null) return where;
  const map = card.place_maps[draft.map ?? 0];
  const missing = map.axes.find(({ axis }) => !Number.isFinite(draft.position?.[axis]));
  if (missing) {
    const { axis } = missing;
    return [
      length(app, draft, set, axis, {
        title: t(`axis-asked.${axis.replace("_", "-")}`), help: t("place.reads", { point: map.point }),
        signed: axis === "hook_m", base: AXIS_BASE[axis],
        keep: (text) => ({ position: { ...draft.position, [axis]: Number(text) }, read: false }),
      }),
      h("details", null, h("summary", null, t("place.stand", { point: map.point })), where),
    ];
  }
  if (!draft.read) return readBack(app, draft, set, map);
  if (map.kind === "walk" && draft.taped === undefined) {
    return length(app, draft, set, "taped", { title: t("place.taped"), help: t("place.taped-help"), keep: (text) => ({ taped: Number(text) }) });
  }
  return result(app, draft, set, () => placeAt(card, map, draft.position, draft.taped ?? 0));
}

/** The height is read by one and repeated by the other before anything is written. */
function readBack(app, draft, set, map) {
  const { units } = session.settings;
  const rows = map.axes.map(({ axis }) => {
    const base = AXIS_BASE[axis];
    const value = draft.position[axis];
    const words = base ? `${toTyped(units, base, String(value), 2)} ${unitName(units, base)}` : `${value}°`;
    return h("p.readback", null, h("small", null, t(`axis.${axis.replace("_", "-")}`)), words);
  });
  return h("section.part", null,
    h("h2", null, t("place.read-back")), rows,
    beyondLimits(app.card, draft.position) && note("warn", t("place.beyond"), "limits"),
    big(t("place.same"), () => set({ read: true }), { kind: "main" }),
    big(t("place.not-same"), () => set({ position: {}, read: false, typing: null }), { kind: "quiet" }));
}

// --- The drum -----------------------------------------------------------------------------------

function drum(app, draft, set) {
  const { card } = app;
  const sides = card.drums.map(({ side }, value) => ({ value, words: t("drum.side", { side }) }));
  if (sides.length > 1 && draft.drum === undefined) return choices(t("drum.which"), sides, null, (value) => set({ drum: value }), { columns: 2 });
  const one = card.drums[draft.drum ?? 0];
  if (!draft.layer) {
    const layers = one.layers.map(({ layer }) => ({ value: layer, words: t("drum.layer", { layer }) }));
    return choices(t("drum.which-layer"), layers, null, (layer) => set({ layer }), { columns: 2, help: t("drum.layer-help") });
  }
  if (!draft.flange) {
    const flanges = [{ value: "clamp", words: one.clamp_flange }, { value: "far", words: one.far_flange }];
    return choices(t("drum.which-flange"), flanges, null, (flange) => set({ flange }));
  }
  if (!draft.wrap) {
    const most = visibleWraps(one.layers.find(({ layer }) => layer === draft.layer));
    return keypad({
      title: t("drum.which-wrap", { flange: draft.flange === "clamp" ? one.clamp_flange : one.far_flange }),
      help: t("drum.most", { most }), unit: "", whole: true, onDone: (text) => set({ wrap: Number(text), problem: null }),
    });
  }
  if (draft.part === undefined) {
    const parts = [0, 0.25, 0.5, 0.75].map((value) => ({ value, words: t(`drum.part.${value * 4}`) }));
    return [
      choices(t("drum.which-part"), parts, null, (value) => set({ part: value }), { columns: 2, help: t("drum.part-help") }),
      big(t("drum.no-part"), () => set({ part: null }), { kind: "quiet" }),
    ];
  }
  return result(app, draft, set, () => placeOnDrum(card, one, draft));
}

// --- From a mark, and by tape from an end -------------------------------------------------------

const WAYS = () => [
  { value: 1, words: t("place.toward-b") },
  { value: -1, words: t("place.toward-a") },
];

function mark(app, draft, set) {
  const marks = [...app.card.marks, ...(app.work.inspection.marks ?? [])];
  if (!draft.mark) {
    return choices(t("place.which-mark"), marks.map(({ name, made_of }) => ({ value: name, words: `${name}${made_of ? ` · ${made_of}` : ""}` })), null, (name) => set({ mark: name }));
  }
  if (!draft.way) return choices(t("place.which-way", { name: draft.mark }), WAYS(), null, (way) => set({ way }));
  if (draft.taped === undefined) return length(app, draft, set, "taped", { title: t("place.from-mark", { name: draft.mark }), keep: (text) => ({ taped: Number(text) }) });
  const found = marks.find(({ name }) => name === draft.mark);
  return result(app, draft, set, () => placeFromMark(app.card, found, draft.way * draft.taped));
}

function end(app, draft, set) {
  const ends = ["A", "B"].map((value) => ({ value, words: t(`place.end-${value.toLowerCase()}`) }));
  if (!draft.end) return choices(t("place.which-end"), ends, null, (value) => set({ end: value }));
  if (draft.taped === undefined) return length(app, draft, set, "taped", { title: t("place.from-end", { end: draft.end }), keep: (text) => ({ taped: Number(text) }) });
  return result(app, draft, set, () => placeFromEnd(app.card, draft.end, draft.taped));
}

// --- What it came to ----------------------------------------------------------------------------

function result(app, draft, set, find) {
  let place;
  try {
    place = find();
  } catch (problem) {
    if (!problem.why) throw problem;
    const again = { how: draft.how, map: draft.map, pass: draft.pass, position: {}, problem: { why: problem.why, values: problem.values } };
    return [
      note("warn", problemWords(problem), "unsure"),
      big(t("place.again"), () => app.draft({ place: again }).then(app.refresh), { kind: "main" }),
    ];
  }
  const wound = drumWords(onDrum(app.card, place));
  const near = nearby(app.card, place);
  const use = () => app.draft({ found: { place, position: draft.how === "crane" ? draft.position : null, point: draft.how === "crane" ? app.card.place_maps[draft.map ?? 0].point : null } }).then(() => app.go(app.rope("what")));
  return h("section.part.result", { "data-at": place.at_m },
    h("h2", null, t("place.here")),
    h("p.readback", null, placeWords(place)),
    facts(
      wound && fact(t("place.on-drum"), wound),
      near.map(({ name, beyond }) => fact(t("place.near"), nearWords(name, beyond)))),
    standsNear(app, place) && note("danger", t("place.hand-off"), "wires"),
    big(t("place.use"), use, { kind: "main" }),
    big(t("place.again"), () => app.draft({ place: { how: draft.how, map: draft.map, pass: draft.pass, position: {} } }).then(app.refresh), { kind: "quiet" }));
}

const nearWords = (name, beyond) =>
  t(beyond >= 0 ? "place.beyond-it" : "place.before-it", { name, far: placeFar(Math.abs(beyond)) });
const placeFar = (value) => `${toTyped(session.settings.units, "m", value.toFixed(4), 1)} ${unitName(session.settings.units, "m")}`;

const NEAR_M = 3;
const isNear = (one, place) =>
  Math.abs(place.at_m - one.at_m) <= NEAR_M + place.abs_err_m + place.rel_err_m + one.abs_err_m + one.rel_err_m;
const standsNear = ({ card, work }, place) =>
  [...card.marks, ...card.findings, ...work.inspection.findings.filter((one) => one.place)]
    .some((one) => standsOut(card, one) && isNear(one, place));

/** Marks and open findings near a place, the nearest first. */
export function nearby(card, place) {
  const side = card.service.turned ? -1 : 1;
  return [
    ...card.marks.map((one) => ({ ...one, name: t("open.mark", { name: one.name }) })),
    ...card.findings.map((one) => ({ ...one, name: `${one.id} (${word("kind", one.kind)})` })),
  ]
    .filter((one) => isNear(one, place))
    .map((one) => ({ ...one, beyond: side * (place.at_m - one.at_m) }))
    .sort((a, b) => Math.abs(a.beyond) - Math.abs(b.beyond))
    .slice(0, 4);
}

