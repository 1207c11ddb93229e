// Rulings in words: what is reached, what is near, what could not be said and why.

import { asText, rounded } from "./exact.js";
import { gravestFirst, levelOf } from "./evaluate.js";
import { h } from "./dom.js";
import { sign } from "./signs.js";
import { t, word } from "./texts.js";
import { levelWords, note } from "./pieces.js";
import { isOld } from "./session.js";

const ICONS = { reached: "reached", "not assessable": "unsure", below: "below" };

/** A ruling in one line: what was found. */
export function foundWords(ruling) {
  if (ruling.lower !== undefined) {
    const count = ruling.lower === ruling.upper ? `${ruling.upper}` : `${ruling.lower}–${ruling.upper}`;
    return t(ruling.upper === 1 ? "ruling.break" : "ruling.breaks", { count, window: ruling.window });
  }
  if (ruling.value) {
    const value = ruling.value.n < 0n ? "0" : rounded(ruling.value, 2);
    return t("ruling.value", { value, unit: ruling.unit });
  }
  return ruling.title;
}

const hasLimit = ({ limit, kind }) => Boolean(limit) || kind === "breaks";
const limitWords = (ruling) =>
  ruling.kind === "breaks" && ruling.limit
    ? t(ruling.compare === "reached" ? "ruling.limit" : "ruling.limit-over", { limit: asText(ruling.limit) })
    : t("ruling.limit-words", { words: ruling.words });

/** One ruling with its clause. */
export function rulingPiece(ruling, own = null) {
  const others = own ? (ruling.findings ?? []).filter((id) => id !== own) : [];
  const level = levelOf(ruling);
  return h(
    `li.ruling.${ruling.status.replace(" ", "-")}`, { "data-limit": ruling.id, "data-status": ruling.status },
    sign(ICONS[ruling.status]),
    h("div", null,
      h("strong", null, t(`ruling.status.${ruling.status.replace(" ", "-")}`)),
      h("span.found", null, foundWords(ruling), hasLimit(ruling) && ` · ${limitWords(ruling)}`),
      others.length > 0 && h("span.found", null, t("ruling.together", { others: others.join(", ") })),
      h("span.clause", null, `${ruling.cite}: ${ruling.title}`),
      ruling.status === "reached" && h("span.demand", null, t("ruling.demand", { level: levelWords(level), who: ruling.who, by: ruling.by_when })),
      (ruling.missing ?? []).map((one) => h("span.missing", null, word("missing", one))),
      (ruling.unknown ?? []).length > 0 && h("span.missing", null, t("ruling.stricter", { what: ruling.unknown.join(", ") }))),
  );
}

/** All rulings, the gravest first, with one plain warning on top. */
export function rulingList(app, rulings, own = null) {
  if (!rulings.length) return h("p.help", null, t("ruling.none"));
  const ordered = gravestFirst(rulings);
  return h("div", null, oldCard(app.card), headline(ordered), h("ul.rulings", null, ordered.map((one) => rulingPiece(one, own))));
}

/** Beside everything that is judged by a card whose last good day is over. */
export const oldCard = (card) =>
  isOld(card) && note("warn", t("ruling.old-card", { on: card.made_at, until: card.expires_at }), "unsure");

/** The one thing to know: reached, count closely, or below. */
export function headline(ordered) {
  const [first] = ordered;
  if (first.status === "reached") {
    const level = levelOf(first);
    return h("div.headline.reached", { role: "alert" }, sign("reached"), h("strong", null, t(`headline.${level === "remove" ? "remove" : "decide"}`)));
  }
  if (first.status === "not assessable") {
    const close = ordered.some((one) => (one.missing ?? []).includes("count closely"));
    return h("div.headline.unsure", { role: "alert" }, sign("unsure"), h("strong", null, t(close ? "headline.close" : "headline.missing")));
  }
  return h("div.headline.below", null, sign("below"), h("strong", null, t("headline.below")));
}

/** Plain words of a warning for the record. */
export const warningWords = (ruling) =>
  `${foundWords(ruling)}; ${ruling.words}; ${ruling.cite}`;
