// Begin an inspection, or join one that another phone began.

import { entry, inspectionBegun } from "../entries.js";
import { session, today } from "../session.js";
import { h } from "../dom.js";
import { t, word } from "../texts.js";
import { big, choices, note, optionsOf, typed, yesNo } from "../pieces.js";

const GREASE = ["none", "thin", "right", "too much", "hides the wires"];
const LIGHT = ["daylight", "overcast", "lamp"];
const LETTERS = "abcdefghjkmnpqrstuvwxyz23456789";

export async function beginScreen(app) {
  const { card, work } = app;
  const draft = work.draft.begin ?? {};
  const set = (changes) => app.draft({ begin: { ...draft, ...changes } }).then(app.refresh);
  const typedIn = (changes) => app.draft({ begin: Object.assign(draft, changes) });
  const asOperator = !(session.me?.roles ?? []).some((role) => role !== "operator");
  const kinds = card.lists.inspections.filter((kind) => kind !== "shift");
  return {
    title: t("begin.title"),
    back: app.rope(),
    body: [
      asOperator && note("warn", t("begin.operator")),
      choices(t("begin.kind"), optionsOf("inspection", kinds), draft.kind ?? null, (kind) => set({ kind }), { columns: 2 }),
      choices(t("begin.light"), optionsOf("light", LIGHT), draft.light ?? null, (light) => set({ light }), { columns: 3 }),
      choices(t("begin.cleaned"), yesNo(), draft.rope_cleaned ?? null, (rope_cleaned) => set({ rope_cleaned }), { columns: 2 }),
      choices(t("begin.grease"), optionsOf("grease", GREASE), draft.grease ?? null, (grease) => set({ grease }), { columns: 2 }),
      typed(t("begin.weather"), draft.weather, (weather) => typedIn({ weather })),
      typed(t("begin.second"), draft.second, (second) => typedIn({ second })),
      big(t("begin.go"), () => start(app, draft), { kind: "main", disabled: !draft.kind }),
      h("details", { open: Boolean(draft.wrong) }, h("summary", null, t("begin.join")),
        card.unfinished.map(({ id, kind, on }) =>
          big(t("begin.join-this", { id }), () => joined(app, id, kind), { under: `${word("inspection", kind)} · ${on}` })),
        h("p.help", null, t("begin.join-help")),
        draft.wrong && note("warn", t("begin.no-code"), "unsure"),
        typed(t("begin.code"), draft.code, (code) => typedIn({ code })),
        big(t("begin.join-go"), () => join(app, draft.code))),
    ],
  };
}

function newId() {
  const chance = crypto.getRandomValues(new Uint8Array(4));
  return `${today()}-${[...chance].map((one) => LETTERS[one % LETTERS.length]).join("")}`;
}

const ownTag = () => session.device.replaceAll("-", "").slice(0, 4);

const fresh = (id, kind) => ({
  id, kind, tag: ownTag(), count: 0, findings: [], passes: [], items: {}, begun_on: today(),
});

async function start(app, draft) {
  const id = newId();
  const { kind, second, light, weather, rope_cleaned, grease } = draft;
  const payload = inspectionBegun({
    id, kind,
    conditions: { light, weather, rope_cleaned, grease, remark: second ? t("begin.second-was", { second }) : "" },
  });
  const made = entry(app.work.rope_id, "inspection begun", payload, { title: t("begin.entry", { id }) });
  await app.save([made], { inspection: fresh(id, kind), draft: {} });
  app.go(app.rope("plan"));
}

async function join(app, code) {
  const said = (code ?? "").trim().toLowerCase();
  const id = /^[a-z0-9]{4}$/.test(said) ? `${today()}-${said}` : said;
  if (!/^\d{4}-\d\d-\d\d-[a-z0-9]{4}$/.test(id)) {
    await app.draft({ begin: { ...app.work.draft.begin, code: said, wrong: true } });
    return app.refresh();
  }
  return joined(app, id, null);
}

async function joined(app, id, kind) {
  await app.keep({ inspection: { ...fresh(id, kind), joined: true }, draft: {} });
  app.go(app.rope("plan"));
}
