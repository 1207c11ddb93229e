// The operator's check before the shift: OK, not OK, could not see; and yesterday's marks.

import { entry, finished, handoverTaken, inspectionBegun, itemExamined, partFound } from "../entries.js";
import { newUuid, session, today } from "../session.js";
import { h } from "../dom.js";
import { t, word } from "../texts.js";
import { big, choices, note, optionsOf, tick, typed } from "../pieces.js";
import { cautions } from "./plan.js";
import { oldCard } from "../rulings.js";

const ANSWERS = () => ["ok", "not-ok", "not-seen"].map((value) => ({ value, words: t(`shift.${value}`) }));

export async function shiftScreen(app) {
  const { card, work } = app;
  const own = work.draft.shift ?? { answers: {}, words: {} };
  const keepIn = (changes) => app.draft({ shift: Object.assign(own, changes) });
  const set = (changes) => keepIn(changes).then(app.refresh);
  const title = t("shift.title");
  if (!session.me) return { title, back: app.rope(), body: [note("warn", t("open.nobody"))] };
  if (own.done) return { title, back: "/", body: doneBody(app, own) };
  const items = card.lists.shift;
  const all = items.every((item) => own.answers[item]) && (!card.marks.length || own.marks);
  return {
    title,
    back: app.rope(),
    body: [
      cautions(card, "before"),
      oldCard(card),
      card.holds.map((one) => note("danger", one, "hold")),
      card.told.map((one) => note("warn", one, "book")),
      cautions(card, "drum"),
      items.map((item) => [
        choices(word("shift-item", item), ANSWERS(), own.answers[item] ?? null, (answer) => set({ answers: { ...own.answers, [item]: answer } }), { columns: 3 }),
        own.answers[item] === "not-ok" && whatIsWrong(app, item, own, set, keepIn),
      ]),
      card.marks.length > 0 && tick(t("shift.marks", { names: card.marks.map(({ name }) => name).join(", ") }), Boolean(own.marks), (marks) => set({ marks }), "mark"),
      big(t("shift.go"), () => finish(app, own), { kind: "main", icon: "lock", disabled: !all }),
      big(t("open.hold"), () => app.go(app.rope("hold")), { kind: "danger", icon: "hold" }),
    ],
  };
}

/** What is wrong: out of the part's own list, so that the rules can judge it; and in own words. */
function whatIsWrong(app, item, own, set, keepIn) {
  const states = app.card.lists.parts[app.card.lists.part_of_item[item]] ?? [];
  return [
    states.length > 0 && choices(t("part.state"), optionsOf("state", states), own.states?.[item] ?? null,
      (state) => set({ states: { ...own.states, [item]: state } }), { columns: 2 }),
    typed(t("shift.what"), own.words[item], (words) => keepIn({ words: Object.assign(own.words, { [item]: words }) }), { lines: 2 }),
  ];
}

const saidOf = (own, item) =>
  [own.states?.[item] && word("state", own.states[item]), own.words[item]].filter(Boolean).join(", ");

async function finish(app, own) {
  const { rope_id } = app.work;
  const chance = newUuid().slice(0, 4);
  const id = `${today()}-shift-${chance}`;
  const make = (kind, payload, title) => entry(rope_id, kind, payload, { title });
  const found = Object.entries(own.answers).filter(([, answer]) => answer === "not-ok");
  const items = Object.entries(own.answers).map(([item, answer]) => {
    const words = saidOf(own, item);
    const remark = answer === "not-ok" ? `${t("shift.not-ok")}${words ? `: ${words}` : ""}` : "";
    return make("examined", itemExamined(id, item, answer === "not-seen" ? "not seen" : "seen", remark), `${word("item", item)}: ${t(`shift.${answer}`)}`);
  });
  const parts = found.filter(([item]) => own.states?.[item]).map(([item], at) => {
    const [part, state] = [app.card.lists.part_of_item[item], own.states[item]];
    const one = { id: `${id}-${at + 1}`, part, state, which: word("item", item), remark: own.words[item] ?? "" };
    return make("part finding", partFound(id, one), `${word("part", part)}: ${word("state", state)}`);
  });
  const notSeen = Object.entries(own.answers).filter(([, answer]) => answer === "not-seen").map(([item]) => item);
  const told = app.card.marks.map(({ name }) => t("open.told-mark", { name }));
  await app.save([
    make("inspection begun", inspectionBegun({ id, kind: "shift", conditions: {}, remark: "" }), t("shift.entry")),
    ...items,
    ...parts,
    make("handover taken", handoverTaken([...app.card.holds, ...app.card.told, ...told]), t("open.read-title")),
    make("inspection finished", finished(id, cameTo(found.length, notSeen).join(". ")), t("end.entry")),
  ], { draft: { ...app.work.draft, shift: { ...own, done: true, found: found.map(([item]) => item), not_seen: notSeen } } });
  app.refresh();
}

/** What the check came to: 'nothing to report' only where everything could be seen. */
function cameTo(count, notSeen) {
  const items = notSeen.map((item) => word("item", item)).join(", ");
  return [
    count > 0 ? t("shift.report", { count }) : !notSeen.length && t("shift.nothing"),
    items && t("shift.unseen", { items }),
  ].filter(Boolean);
}

function doneBody(app, own) {
  const close = () => app.draft({ shift: null }).then(() => app.go("/"));
  return [
    own.found.length
      ? [
          note("danger", t("shift.report", { count: own.found.length }), "hold"),
          own.found.map((item) => h("p", null, `${word("item", item)}: ${saidOf(own, item)}`)),
          h("p", null, t("shift.tell")),
          big(t("open.hold"), () => app.go(app.rope("hold")), { kind: "danger", icon: "hold" }),
        ]
      : !own.not_seen.length && note("plain", t("shift.nothing"), "below"),
    own.not_seen.length > 0 && note("warn", cameTo(0, own.not_seen), "unsure"),
    big(t("shift.close"), close, { kind: "main" }),
  ];
}
