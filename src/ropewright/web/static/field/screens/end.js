// The end of an inspection: what was looked at, what was not seen and who accepts that, what now.

import { notSeen } from "../coverage.js";
import { entry, finished, hiddenFound, itemExamined, unseenAccepted } from "../entries.js";
import { levelOf } from "../evaluate.js";
import { judged } from "../found.js";
import { h } from "../dom.js";
import { t, word } from "../texts.js";
import { isCompetent, session, today } from "../session.js";
import { bringTo } from "../places.js";
import { oldCard, rulingList } from "../rulings.js";
import { big, choices, levelWords, metres, note, part, placeWords, tick, typed } from "../pieces.js";

const LIMITS = "limit switches";
const STATES = () => ["seen", "not seen", "not fitted"].map((value) => ({ value, words: word("item-state", value) }));

export async function endScreen(app) {
  const { inspection, draft } = app.work;
  const title = t("end.title");
  if (!inspection) return { title, back: app.rope(), body: [note("warn", t("plan.none"))] };
  const own = draft.end ?? { items: {}, accepted: {} };
  const keepIn = (changes) => app.draft({ end: Object.assign(own, changes) });
  const set = (changes) => keepIn(changes).then(app.refresh);
  const left = notSeen(app.card, inspection.passes, "eye");
  const said = Object.values(own.items).filter(Boolean).length;
  const undated = left.some((one) => { const held = own.accepted[keyOf(one)]; return held?.by && !held.until; });
  return {
    title,
    back: app.rope("plan"),
    body: [
      h("p.help", null, t("end.items-help")),
      app.card.lists.items.map((item) =>
        choices(word("item", item), STATES(), own.items[item] ?? null, (state) => set({ items: { ...own.items, [item]: state } }), { columns: 3 })),
      part(t("end.unseen"), left.length ? left.map((one) => unseenPiece(one, own, set, keepIn)) : h("p", null, t("end.all-seen"))),
      tick(t("end.limits"), Boolean(own.limits), (limits) => set({ limits }), "limits"),
      typed(t("remark"), own.remark, (remark) => keepIn({ remark }), { lines: 2 }),
      said === 0 && note("warn", t("end.no-items"), "unsure"),
      big(t("end.go"), () => finish(app, own, left), { kind: "main", icon: "lock", disabled: !own.limits || undated }),
    ],
  };
}

/** What is accepted belongs to this section and no other, whatever passes are made afterwards. */
const keyOf = ({ from_m, to_m }) => `${from_m}-${to_m}`;

function unseenPiece(one, own, set, keepIn) {
  const at = keyOf(one);
  const where = { from: metres(one.from_m, 1), to: metres(one.to_m, 1) };
  const known = own.accepted[at] ?? {};
  const causes = ["grease", "dead wraps on the drum", "guard", "not reached"].map((value) => ({ value, words: word("cause", value) }));
  const change = (changes) => set({ accepted: { ...own.accepted, [at]: { ...known, ...changes } } });
  return h("div.item", { "data-unseen": at },
    h("strong", null, t("end.section", where)),
    choices(t("end.cause"), causes, known.cause ?? null, (cause) => change({ cause }), { columns: 2 }),
    isCompetent()
      ? [
          tick(t("end.accept", { name: session.me.name }), Boolean(known.by), (by) => change({ by, until: known.until ?? inDays(31) }), "unsure"),
          known.by && h("label.text", null, h("span", null, t("end.until")), h("input", { type: "date", value: known.until, onchange: (event) => change({ until: event.target.value }) })),
          known.by && typed(t("end.reason"), known.reason, (reason) => keepIn({ accepted: { ...own.accepted, [at]: Object.assign(known, { reason }) } })),
        ]
      : h("p.help", null, t("end.not-competent")));
}

function inDays(days) {
  const day = new Date();
  day.setDate(day.getDate() + days);
  return today(day);
}

async function finish(app, own, left) {
  const { inspection, rope_id } = app.work;
  const { id } = inspection;
  const make = (kind, payload, title) => entry(rope_id, kind, payload, { title });
  const states = { [LIMITS]: "seen", ...Object.fromEntries(Object.entries(own.items).filter(([, state]) => state)) };
  const items = Object.entries(states).map(([item, state]) =>
    make("examined", itemExamined(id, item, state, item === LIMITS && state === "seen" ? t("end.limits") : ""), `${word("item", item)}: ${word("item-state", state)}`));
  const sections = left.flatMap((one) => {
    const { cause, by, until, reason } = own.accepted[keyOf(one)] ?? {};
    const where = t("end.section", { from: metres(one.from_m, 1), to: metres(one.to_m, 1) });
    return [
      cause && cause !== "not reached" && make("hidden section", hiddenFound(id, one, cause), where),
      by && make("unseen accepted", unseenAccepted(id, one, until, reason || t("end.no-reason")), where),
    ].filter(Boolean);
  });
  const last = inspection.joined ? [] : [make("inspection finished", finished(id, own.remark), t("end.entry"))];
  await app.save([...items, ...sections, ...last], { inspection: { ...inspection, finished: true }, draft: { ...app.work.draft, end: null } });
  app.go(app.rope("done"));
}

/** What to do now, and where to look again; finished, but not signed. */
export async function doneScreen(app) {
  const { inspection } = app.work;
  if (!inspection) return { title: t("done.title"), back: app.rope(), body: [note("warn", t("plan.none"))] };
  const rulings = inspection.findings.flatMap((one) => judged(app, one));
  const grave = rulings.filter(({ status }) => status !== "below");
  const worst = ["remove", "decide", "incomplete"].find((level) => grave.some((one) => levelOf(one) === level));
  const again = [
    ...(inspection.marks ?? []),
    ...inspection.findings.filter(({ place }) => place).map((one) => ({ ...one, name: one.title })),
  ];
  return {
    title: t("done.title"),
    back: app.rope(),
    body: [
      note("plain", t("done.not-signed"), "book"),
      oldCard(app.card),
      worst ? note("danger", t(`done.${worst}`), worst === "incomplete" ? "unsure" : "hold") : note("plain", t("done.nothing"), "below"),
      worst && worst !== "incomplete" && big(t("open.hold"), () => app.go(app.rope("hold")), { kind: "danger", icon: "hold" }),
      grave.length > 0 && part(t("done.rulings"), rulingList(app, grave)),
      part(t("done.again"), again.length ? again.map((one) => againPiece(app, one)) : h("p", null, t("done.no-again"))),
      inspection.findings.length > 0 && part(t("done.found", { count: inspection.findings.length }), inspection.findings.map(({ title }) => h("p", null, title))),
      app.card.office.length > 0 && h("details", null, h("summary", null, t("done.office")),
        app.card.office.map(({ cite, title, why }) => h("div.item", null, h("strong", null, title), h("span", null, why), h("span.clause", null, cite)))),
      h("p.help", null, t("done.level", { on: app.card.made_at, level: levelWords(app.card.verdict.level) })),
      big(t("done.waiting"), () => app.go("/waiting"), { kind: "main" }),
      big(t("done.close"), () => app.keep({ inspection: null, draft: {} }).then(() => app.go("/")), { kind: "quiet" }),
    ],
  };
}

function againPiece(app, one) {
  const map = app.card.place_maps.find(({ point }) => point === one.point);
  const heights = map ? bringTo(app.card, map, one.place.at_m, one.position ?? {}) : [];
  return h("div.item", null, h("strong", null, one.name), h("span", null, placeWords(one.place)),
    heights.slice(0, 1).map((hook) => h("span.reach", null, t("done.hook", { hook: metres(hook, 1), point: map.point }))));
}
