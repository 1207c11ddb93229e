// Broken wires at one place: offsets taped from the first break, strands numbered, counted at once.

import { clusterCounted } from "../entries.js";
import { asText, exact, minus } from "../exact.js";
import { atPlace, judged, nextId, saveFinding } from "../found.js";
import { h } from "../dom.js";
import { t, word } from "../texts.js";
import { fromTyped, toTyped, unitName } from "../units.js";
import { session } from "../session.js";
import { keypad } from "../keypad.js";
import { onDrum } from "../places.js";
import { rulingList } from "../rulings.js";
import { big, choices, course, note, part, placeWords, taped, yesNo } from "../pieces.js";
import { nearby } from "./place.js";
import { cautions } from "./plan.js";

const several = (groups) => groups.length > 1;

export async function clusterScreen(app) {
  const { found, cluster = {} } = app.work.draft;
  if (!found?.place) return { title: t("cluster.title"), back: app.rope("plan"), body: [note("warn", t("plan.none"))] };
  const set = (changes) => app.draft({ cluster: { ...cluster, ...changes } }).then(app.refresh);
  if (cluster.break) return { title: t("cluster.one"), back: app.rope("cluster"), body: oneBreak(app, cluster, set) };
  const own = clusterOf(app, cluster);
  const groups = cluster.groups ?? [];
  return {
    title: t("cluster.title"),
    back: app.rope("what"),
    body: [
      h("p.where", null, placeWords(found.place)),
      cautions(app.card, "measure"),
      h("p.help", null, strips(app.card)),
      groups.length > 0 && h("ul.breaks", null, groups.map((one, at) => breakRow(one, at, () => set({ groups: groups.filter((_, other) => other !== at) })))),
      big(groups.length ? t("cluster.next") : t("cluster.first"), () => set({ break: { step: groups.length ? "offset" : "strand", from_mm: "0", to_mm: "0", count: 1 } }), { kind: "main", icon: "wires" }),
      big(t("cluster.length"), () => set({ break: { step: "count", from_mm: "0" } }), { kind: "plain" }),
      groups.length > 0 && again(app, own, cluster, set),
      several(groups) && choices(t("cluster.strip"), yesNo(), cluster.strip ?? null, (strip) => set({ strip }), { columns: 2, help: t("cluster.strip-help", { err: taped(app.card.tape_err_mm) }) }),
      groups.length > 0 && h("div", { class: "live", "aria-live": "polite" }, rulingList(app, judged(app, own), own.id)),
      groups.length > 0 && crossover(app, found.place, cluster, set),
      groups.length > 0 && choices(t("cluster.broken-off"), yesNo(), cluster.ends_broken_off ?? null, (ends_broken_off) => set({ ends_broken_off }), { columns: 2 }),
      groups.length > 0 && big(t("save"), () => save(app, own), { kind: "main", icon: "lock" }),
    ],
  };
}

/** The strips that are laid on: every window of the card's limits. */
function strips(card) {
  const seen = new Map();
  for (const { kind, window, longest_mm } of card.limits) {
    if (kind === "breaks") seen.set(window, longest_mm);
  }
  const words = [...seen].map(([window, mm]) => `${window} = ${taped(mm)}`);
  return t("cluster.strips", { strips: words.join(", ") });
}

/** The cluster as evaluator and entry have it: offsets run towards end B of the steel. */
function clusterOf(app, { groups = [], strip = null, ends_broken_off = null, crossover_damage = null, same_as = null }) {
  const { found, cluster } = app.work.draft;
  const turned = app.card.service.turned;
  const back = (mm) => asText(minus(exact("0"), exact(mm)));
  return {
    id: nextId(app.work.inspection),
    kind: "broken wires",
    inspection_id: app.work.inspection.id,
    place: found.place,
    ...atPlace(found),
    groups: groups.map((one) => ({
      strand: null, site: "unknown", protruding: null, ...one,
      from_mm: turned ? back(one.to_mm) : one.from_mm,
      to_mm: turned ? back(one.from_mm) : one.to_mm,
    })),
    offset_err_mm: several(groups) && strip !== true ? app.card.tape_err_mm : "0",
    method: methodOf(app),
    ends_broken_off, crossover_damage,
    same_as: same_as && same_as !== "other" ? same_as : null,
    remark: cluster?.remark ?? "",
    position: found.position, point: found.point,
  };
}

/** By the pass on which it was found; written for somebody else it counts as seen. */
function methodOf(app) {
  const at = app.work.draft.place?.pass;
  return at === null || at === undefined ? "eye" : app.card.plan.passes[at].method;
}

function breakRow({ from_mm, to_mm, count, strand, site, protruding }, at, remove) {
  const where = from_mm === to_mm ? taped(from_mm) : `${taped(from_mm)} – ${taped(to_mm)}`;
  const words = [
    count > 1 ? t("cluster.count", { count }) : null,
    strand ? t("cluster.strand", { strand }) : null,
    word("site", site ?? "unknown"),
    protruding === true ? t("cluster.stands-out") : protruding === false ? t("cluster.lies-flat") : null,
  ];
  return h("li", null, h("span", null, h("strong", null, where), ` · ${words.filter(Boolean).join(" · ")}`),
    h("button.take-away", { type: "button", "aria-label": t("cluster.remove", { at: at + 1 }), onclick: remove }, "×"));
}

function oneBreak(app, cluster, set) {
  const one = cluster.break;
  const { units } = session.settings;
  const next = (changes) => set({ break: { ...one, ...changes } });
  const finish = (changes) => {
    const { step, ...rest } = { ...one, ...changes };
    set({ break: null, groups: [...(cluster.groups ?? []), rest].sort((a, b) => Number(a.from_mm) - Number(b.from_mm)) });
  };
  const mm = (title, help, done, signed = false) =>
    keypad({ title, help, signed, unit: unitName(units, "mm"), onDone: (text) => done(fromTyped(units, "mm", text)) });
  if (one.step === "count") {
    return keypad({ title: t("cluster.how-many"), unit: "", whole: true, onDone: (text) => Number(text) >= 1 && next({ step: "over", count: Number(text) }) });
  }
  if (one.step === "over") return mm(t("cluster.over"), t("cluster.over-help"), (text) => next({ step: "strand", to_mm: text }));
  if (one.step === "offset") {
    return mm(t("cluster.offset"), t("cluster.offset-help"), (text) => next({ step: "strand", from_mm: text, to_mm: text }), true);
  }
  if (one.step === "strand") {
    const outer = app.card.rope.outer_strands;
    return [
      keypad({ title: t("cluster.which-strand"), help: outer ? t("cluster.strands", { outer }) : "", unit: "", whole: true,
        onDone: (text) => Number(text) >= 1 && next({ step: "site", strand: Number(text) }) }),
      big(t("cluster.no-strand"), () => next({ step: "site", strand: null }), { kind: "quiet" }),
    ];
  }
  if (one.step === "site") {
    const sites = ["crown", "valley", "end", "unknown"].map((value) => ({ value, words: word("site", value) }));
    return choices(t("cluster.site"), sites, null, (site) => next({ step: "out", site }), { help: t("cluster.site-help") });
  }
  const out = [...yesNo(), { value: "unknown", words: t("cannot-say") }];
  return choices(t("cluster.out"), out, null, (value) => finish({ protruding: value === "unknown" ? null : value }), { columns: 1 });
}

/** Is it the same as last time?  Its count and photo stand beside today's. */
function again(app, own, cluster, set) {
  const near = nearby(app.card, own.place).filter(({ groups }) => groups);
  if (!near.length) return null;
  return part(t("again.title"), near.map((one) => {
    const options = [
      { value: one.id, words: t("again.same") },
      { value: "other", words: t("again.other") },
    ];
    const count = own.groups.reduce((sum, group) => sum + group.count, 0);
    const length = toTyped(session.settings.units, "m", String(Math.max(0.1, own.place.abs_err_m)), 1);
    return h("div.item", null,
      h("strong", null, t("again.then", { count: one.count, on: one.on, id: one.id })),
      h("span", null, placeWords(one)),
      course(one.course, { low: count, high: count }),
      one.photos?.map((sha) => h("img.photo", { src: `/api/v1/photos/${sha}`, alt: t("photo.of", { id: one.id }) })),
      choices(t("again.asked", { length }), options, cluster.same_as ?? null, (same_as) => set({ same_as }), { columns: 2 }));
  }));
}

function crossover(app, place, cluster, set) {
  const wound = onDrum(app.card, place);
  if (!wound || !(wound.change || wound.crossover)) return null;
  return choices(t("cluster.crossover"), yesNo(), cluster.crossover_damage ?? null, (crossover_damage) => set({ crossover_damage }), { columns: 2, help: t("cluster.crossover-help") });
}

async function save(app, own) {
  const count = own.groups.reduce((sum, one) => sum + one.count, 0);
  const title = t("cluster.entry", { count, where: placeWords(own.place) });
  await saveFinding(app, own, "cluster", clusterCounted(app.work.inspection.id, own), title, { cluster: null });
}
