// Put the rope on hold: anybody may; only a named person on named evidence takes it off again.

import { entry, held } from "../entries.js";
import { h } from "../dom.js";
import { t, word } from "../texts.js";
import { big, choices, note, optionsOf, typed } from "../pieces.js";

export async function holdScreen(app) {
  const { hold = {} } = app.work.draft;
  const keepIn = (changes) => app.draft({ hold: Object.assign(hold, changes) });
  const set = (changes) => keepIn(changes).then(app.refresh);
  const title = t("hold.title");
  if (hold.done) {
    return { title, back: app.rope(), body: [note("danger", t("hold.is"), "hold"), h("p", null, t("hold.tag")), big(t("hold.back"), () => app.draft({ hold: null }).then(() => app.go(app.rope())), { kind: "main" })] };
  }
  const save = async () => {
    const now = app.work.draft.hold ?? {};
    const reason = [now.event && word("event", now.event), now.words].filter(Boolean).join(": ");
    if (!reason) return set({ problem: true });
    await app.save([entry(app.work.rope_id, "hold", held(reason), { title: t("hold.entry", { reason }) })], { draft: { ...app.work.draft, hold: { done: true } } });
    return app.refresh();
  };
  return {
    title,
    back: app.rope(),
    body: [
      hold.problem && note("warn", t("hold.why-needed"), "unsure"),
      choices(t("hold.why"), optionsOf("event", app.card.lists.events), hold.event ?? null, (event) => set({ event, problem: false }), { columns: 2 }),
      typed(t("hold.words"), hold.words, (words) => keepIn({ words }), { lines: 2 }),
      big(t("hold.go"), save, { kind: "danger", icon: "hold" }),
    ],
  };
}
