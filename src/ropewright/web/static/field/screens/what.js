// What was found here; and, once it is saved, what it means and what to do beside it.

import { h } from "../dom.js";
import { t } from "../texts.js";
import { big, note, placeWords } from "../pieces.js";
import { rulingList } from "../rulings.js";
import { ruledAgain } from "../found.js";

export async function whatScreen(app) {
  const { found } = app.work.draft;
  if (!found?.place) return { title: t("what.title"), back: app.rope("plan"), body: [note("warn", t("plan.none"))] };
  const to = (name) => () => app.go(app.rope(name));
  return {
    title: t("what.title"),
    back: app.rope("place"),
    body: [
      h("p.where", null, placeWords(found.place)),
      big(t("what.cluster"), to("cluster"), { kind: "main", icon: "wires" }),
      big(t("what.diameter"), to("diameter"), { icon: "gauge" }),
      big(t("what.wave"), to("wave"), { icon: "slack" }),
      big(t("what.damage"), to("damage"), { icon: "reached" }),
      big(t("what.part"), to("part"), { icon: "nip" }),
      big(t("what.mark"), to("mark"), { icon: "mark" }),
      big(t("what.nothing"), () => app.draft({ found: null, place: null }).then(to("plan")), { kind: "quiet" }),
    ],
  };
}

export async function savedScreen(app) {
  const saved = app.work.draft.saved;
  const pass = app.work.draft.place?.pass;
  const to = (name) => () => app.go(app.rope(name));
  const on = pass === null || pass === undefined ? to("plan") : () => app.go(app.rope("gate", pass));
  return {
    title: t("saved.title"),
    back: app.rope("plan"),
    body: [
      h("p.where", null, saved?.title ?? ""),
      saved && rulingList(app, ruledAgain(app, saved), saved.finding?.id),
      note("plain", t("saved.kept"), "lock"),
      saved?.photo !== false && big(t("saved.photo"), to("photo"), { icon: "photo" }),
      app.work.draft.found && big(t("saved.mark"), to("mark"), { icon: "mark" }),
      app.work.draft.found && big(t("saved.more"), to("what")),
      big(t(pass === null || pass === undefined ? "saved.plan" : "saved.on"), on, { kind: "main" }),
      big(t("open.hold"), to("hold"), { kind: "danger", icon: "hold" }),
    ],
  };
}
