// A mark beside the damage, and a photo with a scale in it.

import * as store from "../store.js";
import { entry, markMade } from "../entries.js";
import { countWaiting, newUuid } from "../session.js";
import { sync } from "../sync.js";
import { h } from "../dom.js";
import { t } from "../texts.js";
import { big, choices, note, optionsOf, placeWords, typed } from "../pieces.js";

const MADE_OF = ["paint", "tape", "cable tie"];

export async function markScreen(app) {
  const { found, mark = {} } = app.work.draft;
  const title = t("mark.title");
  if (!found?.place || !app.work.inspection) return { title, back: app.rope("plan"), body: [note("warn", t("plan.none"))] };
  const keepIn = (changes) => app.draft({ mark: Object.assign(mark, changes) });
  const set = (changes) => keepIn(changes).then(app.refresh);
  const taken = [...app.card.marks, ...(app.work.inspection.marks ?? [])].map(({ name }) => name);
  const save = async () => {
    const name = (app.work.draft.mark?.name ?? "").trim();
    if (!name || taken.includes(name)) return set({ problem: name ? "taken" : "none" });
    const made = { name, made_of: mark.made_of ?? "", place: found.place, ...found.place, position: found.position, point: found.point };
    const { inspection, rope_id } = app.work;
    const one = entry(rope_id, "mark", markMade(made), { title: t("mark.entry", { name }) });
    await app.save([one], { inspection: { ...inspection, marks: [...(inspection.marks ?? []), made] }, draft: { ...app.work.draft, mark: null, saved: { title: t("mark.entry", { name }), photo: false } } });
    return app.go(app.rope("saved"));
  };
  return {
    title,
    back: app.rope("what"),
    body: [
      h("p.where", null, placeWords(found.place)),
      mark.problem && note("warn", t(`mark.${mark.problem}`), "unsure"),
      typed(t("mark.name"), mark.name, (name) => keepIn({ name }), { list: nextNames(taken) }),
      choices(t("mark.made-of"), optionsOf("mark-of", MADE_OF), mark.made_of ?? null, (made_of) => set({ made_of }), { columns: 3 }),
      h("p.help", null, t("mark.help")),
      big(t("save"), save, { kind: "main", icon: "lock" }),
    ],
  };
}

function nextNames(taken) {
  const numbers = taken.map(Number).filter(Number.isFinite);
  return [String(Math.max(0, ...numbers) + 1)];
}

export async function photoScreen(app) {
  const saved = app.work.draft.saved;
  const title = t("photo.title");
  const back = app.rope("saved");
  if (!saved?.entry_id) return { title, back: app.rope("plan"), body: [note("warn", t("plan.none"))] };
  const photos = (await store.all("photos")).filter(({ entry_id: id }) => id === saved.entry_id);
  const take = async (event) => {
    const [file] = event.target.files;
    if (!file) return;
    await store.put("photos", { id: newUuid(), entry_id: saved.entry_id, blob: file, state: "waiting", reason: "", taken_at: Date.now() });
    await countWaiting();
    sync();
    app.refresh();
  };
  const input = h("input.file", { type: "file", accept: "image/*", capture: "environment", id: "photo", onchange: take });
  return {
    title, back,
    body: [
      h("p.where", null, saved.title),
      note("plain", t("photo.scale"), "gauge"),
      h("label.big.main", { for: "photo" }, h("span.words", null, t("photo.take"))), input,
      photos.map(({ blob }) => h("img.photo", { src: URL.createObjectURL(blob), alt: t("photo.own") })),
      big(t("photo.done"), () => app.go(back), { kind: photos.length ? "main" : "quiet" }),
    ],
  };
}
