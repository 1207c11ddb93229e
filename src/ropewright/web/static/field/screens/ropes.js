// Pick a rope: from the list, or by the link on the label at the crane.

import * as store from "../store.js";
import { ropes, takeCard } from "../sync.js";
import { isOld, session } from "../session.js";
import { h } from "../dom.js";
import { t } from "../texts.js";
import { big, levelWords, note } from "../pieces.js";

export async function ropesScreen(app) {
  const known = await store.kept("ropes", []);
  const cards = await store.all("cards");
  const list = known.length ? known : cards.map(({ card }) => shortOf(card));
  if (!asked) {
    asked = true;
    ropes().then((found) => JSON.stringify(found) !== JSON.stringify(known) && app.refresh());
  }
  const held = new Map(cards.map((one) => [one.rope_id, one]));
  const body = [
    session.me ? h("p.help", null, t("ropes.you", { name: session.me.name })) : note("warn", t("ropes.nobody")),
    isSecureContext || note("warn", t("ropes.not-secure")),
    list.length ? list.map((rope) => row(app, rope, held.get(rope.rope_id))) : h("p", null, t("ropes.none")),
    list.length > 1 && big(t("ropes.take-all"), () => takeAll(app, list), { kind: "quiet" }),
  ];
  return { title: t("ropes.title"), body };
}

let asked = false;

const shortOf = (card) => ({
  rope_id: card.rope_id, crane: card.crane.id, hoist: card.rope.hoist, verdict: card.verdict.level,
  on_hold: card.verdict.on_hold, open_marks: card.marks.length, last_inspection: card.last?.on ?? null,
});

function row(app, rope, held) {
  const old = held && isOld(held.card);
  const there = !held ? t("ropes.no-card") : old ? t("ropes.old-card") : t("ropes.card");
  return h(
    "a.rope", { href: `#/rope/${encodeURIComponent(rope.rope_id)}` },
    h("strong", null, rope.rope_id),
    h(`span.level.${rope.verdict ?? "unknown"}`, null, rope.verdict ? levelWords(rope.verdict) : t("ropes.not-judged")),
    rope.on_hold && h("span.hold", null, t("ropes.on-hold")),
    h("small", null, t("ropes.last", { on: rope.last_inspection ?? t("ropes.never") }), " · ",
      t("ropes.marks", { count: rope.open_marks }), " · ", there),
  );
}

async function takeAll(app, list) {
  for (const { rope_id: id } of list) {
    try {
      await takeCard(id);
    } catch {
      break; // the list shows which ones are not there
    }
  }
  app.refresh();
}

