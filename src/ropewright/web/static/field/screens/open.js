// What stands open at this rope: verdict, holds, marks, last counts and photos; read by name.

import { handoverTaken, entry } from "../entries.js";
import { photoAddress, takeCard } from "../sync.js";
import { isOld, session } from "../session.js";
import { h, refill } from "../dom.js";
import { t, word } from "../texts.js";
import { big, course, levelWords, note, part, placeWords, reachWords } from "../pieces.js";

export async function openScreen(app) {
  const { card, work } = app;
  const old = isOld(card);
  const read = work.read_card === cardMark(card);
  const going = work.inspection && !work.inspection.finished;
  return {
    title: card.rope_id,
    back: "/",
    body: [
      card.invented && note("plain", t("invented")),
      verdict(card, old),
      card.holds.length > 0 && part(t("open.holds"), card.holds.map((one) => note("danger", one, "hold"))),
      card.told.length > 0 && part(t("open.told"), card.told.map((one) => note("warn", one, "book"))),
      part(t("open.marks"), card.marks.length ? card.marks.map(markPiece) : h("p", null, t("open.no-marks"))),
      part(t("open.findings"), card.findings.length ? [...card.findings].sort(gravest).map(findingPiece) : h("p", null, t("open.no-findings"))),
      card.parts.length > 0 && part(t("open.parts"), card.parts.map(partPiece)),
      read ? begin(app, going) : acknowledge(app),
      h("p.help", null, t("open.card", { on: card.made_at, until: card.expires_at })),
      newCard(app),
    ],
  };
}

const cardMark = (card) => `${card.made_at} ${card.book_head} ${card.rules_hash}`;

/** Where the rope stands; on an old card only where it stood, whatever that was. */
function verdict(card, old) {
  const { level, sentence } = card.verdict;
  if (!old) return h(`div.verdict.${level}`, null, h("strong", null, levelWords(level)), h("span", null, sentence));
  return h(`div.verdict.old${["remove", "decide"].includes(level) ? `.${level}` : ""}`, { role: "alert" }, h("strong", null, t("open.no-verdict")),
    h("span", null, t("open.then", { on: card.made_at, level: levelWords(level) })));
}

function acknowledge(app) {
  if (!session.me) return note("warn", t("open.nobody"));
  const told = [
    ...app.card.holds, ...app.card.told,
    ...app.card.marks.map(({ name }) => t("open.told-mark", { name })),
    ...app.card.findings.map(({ id, kind }) => `${id}: ${kind}`),
  ];
  const read = async () => {
    const made = entry(app.work.rope_id, "handover taken", handoverTaken(told), { title: t("open.read-title") });
    await app.save([made], { read_card: cardMark(app.card) });
    app.refresh();
  };
  return big(t("open.read"), read, { kind: "main", under: t("open.by", { name: session.me.name }) });
}

function begin(app, going) {
  return h("div.stack", null,
    going && big(t("open.go-on", { id: app.work.inspection.id }), () => app.go(app.rope("plan")), { kind: "main", icon: "eye" }),
    !going && big(t("open.shift"), () => app.go(app.rope("shift")), { kind: "main", icon: "barrier" }),
    !going && big(t("open.inspect"), () => app.go(app.rope("begin")), { kind: "main", icon: "eye" }),
    big(t("open.hold"), () => app.go(app.rope("hold")), { kind: "danger", icon: "hold" }),
  );
}

function newCard(app) {
  const place = h("div");
  const fetchIt = async () => {
    try {
      await takeCard(app.work.rope_id);
      app.refresh();
    } catch (problem) {
      refill(place, note("warn", t("card.not-now")), h("p.help", null, problem.message));
    }
  };
  return h("div", null, big(t("card.fresh"), fetchIt, { kind: "quiet" }), place);
}

const ORDER = ["broken wires", "damage", "waviness", "diameter"];
const rank = ({ kind, damage }) => ORDER.indexOf(damage ? "damage" : kind);
const gravest = (a, b) => rank(a) - rank(b) || a.at_m - b.at_m;

const wayBack = (one) => [
  one.hand_off && note("danger", t("place.hand-off"), "wires"),
  one.reaches.length
    ? one.reaches.slice(0, 2).map((reach) => h("span.reach", null, reachWords(reach)))
    : one.not_reached.map((why) => h("span.reach", null, why)),
];

function markPiece(mark) {
  return h("div.item", null,
    h("strong", null, t("open.mark", { name: mark.name }), mark.made_of && ` · ${mark.made_of}`),
    h("span", null, placeWords(mark)), wayBack(mark));
}

function findingPiece(one) {
  return h("div.item", { "data-finding": one.id },
    h("strong", null, `${word("kind", one.kind)}${one.count ? ` · ${one.count}` : ""}`),
    h("span", null, `${placeWords(one)} · ${one.on} · ${one.id}`),
    one.remark && h("span", null, one.remark),
    one.asks && note("warn", one.asks, "unsure"),
    one.course.length > 1 && course(one.course, null, one.count ? "" : "mm"),
    one.photos.map((sha) => h("img.photo", { src: photoAddress(sha), alt: t("photo.of", { id: one.id }), loading: "lazy" })),
    wayBack(one));
}

const partPiece = (one) =>
  h("div.item", null, h("strong", null, `${word("part", one.part)} · ${one.which}`),
    h("span", null, `${one.state} · ${one.on}`), one.remark && h("span", null, one.remark));
