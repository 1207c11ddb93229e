// Damage that is seen rather than counted, and findings on parts: out of the trade's lists.

import { damageFound, partFound } from "../entries.js";
import { asText, exact, over, whole } from "../exact.js";
import { atPlace, judged, nextId, saveFinding } from "../found.js";
import { h } from "../dom.js";
import { t, word } from "../texts.js";
import { keypad } from "../keypad.js";
import { rulingList } from "../rulings.js";
import { big, choices, note, optionsOf, placeWords, typed, yesNo } from "../pieces.js";
import { cautions } from "./plan.js";

export async function damageScreen(app) {
  const { found, damage = {} } = app.work.draft;
  const title = t("damage.title");
  if (!found?.place) return { title, back: app.rope("plan"), body: [note("warn", t("plan.none"))] };
  const set = (changes) => app.draft({ damage: { ...damage, ...changes } }).then(app.refresh);
  const { lists } = app.card;
  const back = app.rope("what");
  if (!damage.damage) {
    return { title, back, body: [choices(t("damage.which"), optionsOf("kind", Object.keys(lists.damage)), null, (kind) => set({ damage: kind }), { columns: 2 })] };
  }
  const { forms, grades } = lists.damage[damage.damage];
  if (damage.damage === "abrasion" && damage.depth === undefined) {
    return { title, back, body: [
      keypad({ title: t("damage.depth"), help: t("damage.depth-help"), unit: "%", onDone: (text) => set({ depth: text }) }),
      big(t("cannot-say"), () => set({ depth: null }), { kind: "quiet" }),
    ] };
  }
  const own = {
    id: nextId(app.work.inspection), kind: "damage", place: found.place, ...atPlace(found),
    damage: damage.damage, form: damage.form ?? null, grade: damage.grade ?? null,
    depth_share: damage.depth ? asText(over(exact(damage.depth), whole(100))) : null,
    rating_percent: null, length_m: 0, method: "eye", remark: damage.remark ?? "",
    position: found.position, point: found.point,
  };
  const name = word("kind", damage.damage);
  return {
    title: name, back,
    body: [
      h("p.where", null, placeWords(found.place)),
      forms.length > 0 && choices(t("damage.form"), optionsOf("form", forms), damage.form ?? null, (form) => set({ form }), { columns: 2 }),
      grades.length > 0 && choices(t("damage.grade"), optionsOf("grade", grades), damage.grade ?? null, (grade) => set({ grade }), { columns: 2 }),
      typed(t("remark"), damage.remark, (remark) => app.draft({ damage: Object.assign(damage, { remark }) }), { lines: 2 }),
      rulingList(app, judged(app, own)),
      big(t("save"), () => {
        const now = { ...own, remark: app.work.draft.damage?.remark ?? "" };
        return saveFinding(app, now, "finding", damageFound(app.work.inspection.id, now), `${name}, ${placeWords(own.place)}`, { damage: null });
      }, { kind: "main", icon: "lock" }),
      big(t("damage.other"), () => app.draft({ damage: {} }).then(app.refresh), { kind: "quiet" }),
    ],
  };
}

export async function partScreen(app) {
  const draft = app.work.draft.part ?? {};
  const set = (changes) => app.draft({ part: { ...draft, ...changes } }).then(app.refresh);
  const { lists } = app.card;
  const back = app.rope("plan");
  const atDrum = ["drum", "spooling", "rope clamp"].includes(draft.part) && cautions(app.card, "drum");
  const title = draft.part ? word("part", draft.part) : t("part.title");
  if (!app.work.inspection) return { title, back, body: [note("warn", t("plan.none"))] };
  if (!draft.part) {
    return { title, back, body: [choices(t("part.which"), optionsOf("part", Object.keys(lists.parts)), null, (part) => set({ part }), { columns: 2 })] };
  }
  if (!draft.state) {
    return { title, back, body: [
      atDrum,
      choices(t("part.state"), optionsOf("state", lists.parts[draft.part]), null, (state) => set({ state }), { columns: 1 }),
      big(t("part.other"), () => app.draft({ part: {} }).then(app.refresh), { kind: "quiet" }),
    ] };
  }
  const own = {
    id: nextId(app.work.inspection), kind: "part finding", part: draft.part, state: draft.state,
    which: draft.which || t("part.the", { part: draft.part }), dangerous: draft.dangerous ?? null, remark: draft.remark ?? "",
  };
  const save = () => {
    const now = app.work.draft.part ?? {};
    const made = { ...own, which: now.which || own.which, remark: now.remark ?? "" };
    return saveFinding(app, made, "part finding", partFound(app.work.inspection.id, made), `${word("part", own.part)}: ${word("state", own.state)}`, { part: null, found: null });
  };
  return {
    title, back,
    body: [
      h("p.where", null, word("state", draft.state)),
      typed(t("part.which-one"), draft.which, (which) => app.draft({ part: Object.assign(draft, { which }) }), { list: [1, 2, 3].map((number) => `${draft.part} ${number}`) }),
      choices(t("part.dangerous"), yesNo(), draft.dangerous ?? null, (dangerous) => set({ dangerous }), { columns: 2 }),
      typed(t("remark"), draft.remark, (remark) => app.draft({ part: Object.assign(draft, { remark }) }), { lines: 2 }),
      rulingList(app, judged(app, own)),
      big(t("save"), save, { kind: "main", icon: "lock" }),
    ],
  };
}
