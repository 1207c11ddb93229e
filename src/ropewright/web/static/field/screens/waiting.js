// What waits for the server, what it refused and why, and how to carry it over by file.

import * as store from "../store.js";
import { last, loadWaiting, sync, waitingFile } from "../sync.js";
import { countWaiting, newUuid, session } from "../session.js";
import { h } from "../dom.js";
import { t, word } from "../texts.js";
import { big, note, part, saveFile } from "../pieces.js";

let message = "";

export async function waitingScreen(app, name, id) {
  const entries = (await store.all("entries")).sort((a, b) => a.order - b.order);
  if (name === "mend") return mendScreen(app, entries.find((one) => one.id === id));
  const refused = entries.filter(({ state }) => state === "refused");
  const waiting = entries.filter(({ state }) => state === "waiting");
  const photos = (await store.all("photos")).filter(({ state }) => state !== "sent");
  const file = h("input.file", { type: "file", accept: "application/json,.json", id: "load", onchange: (event) => load(app, event) });
  return {
    title: t("waiting.title"),
    back: "/",
    body: [
      stateNote(refused.length),
      message && note("plain", message),
      Math.abs(session.clockOff) > 60 && note("warn", t(session.clockOff > 0 ? "waiting.clock-ahead" : "waiting.clock-behind", { minutes: Math.round(Math.abs(session.clockOff) / 60) })),
      big(t("waiting.send"), () => sync({ again: true }).then(app.refresh), { kind: "main" }),
      refused.length > 0 && part(t("waiting.refused"), refused.map((one) => refusedPiece(app, one))),
      part(t("waiting.entries", { count: waiting.length }), waiting.map((one) => h("div.item", null, h("strong", null, one.title), h("span", null, `${one.sent.rope_id} · ${one.sent.happened_at.slice(0, 16).replace("T", " ")}`)))),
      photos.length > 0 && part(t("waiting.photos", { count: photos.length }), photos.map(({ reason }) => reason && h("p", null, reason))),
      h("p.help", null, t("waiting.sent", { count: entries.length - waiting.length - refused.length })),
      big(t("waiting.save"), save, { kind: "plain", under: t("waiting.save-help") }),
      h("label.big.plain", { for: "load" }, h("span.words", null, t("waiting.load"))), file,
    ],
  };
}

function stateNote(refused) {
  const at = last.at ? new Date(last.at).toTimeString().slice(0, 5) : "";
  if (last.state === "ok" && refused) {
    return note("danger", t("waiting.state.not-all", { at, count: refused }), "reached");
  }
  const kinds = { ok: "plain", never: "plain", offline: "warn", full: "danger", login: "warn", failed: "danger" };
  const words = t(`waiting.state.${last.state}`, { at, words: last.words });
  return note(kinds[last.state], last.state === "login" ? [words, " ", h("a.link", { href: "/login?next=/field/" }, t("waiting.login"))] : words);
}

const refusedPiece = (app, one) =>
  h("div.item.refused", { "data-entry": one.id },
    h("strong", null, one.title), h("span", null, t("waiting.why", { why: one.reason })),
    big(t("waiting.mend"), () => app.go(`/waiting/mend/${one.id}`), { kind: "main" }));

const save = async () => saveFile(await waitingFile());

async function load(app, event) {
  const [file] = event.target.files;
  if (!file) return;
  try {
    message = t("waiting.loaded", { count: await loadWaiting(file) });
  } catch {
    message = t("waiting.no-file");
  }
  sync();
  app.refresh();
}

// --- Mending ------------------------------------------------------------------------------------

/** Every value of an entry that a person can put right, with its path. */
function leaves(value, path = []) {
  if (value !== null && typeof value === "object") {
    return Object.entries(value).flatMap(([key, one]) => leaves(one, [...path, key]));
  }
  return [{ path, value }];
}

function withLeaf(value, [key, ...rest], changed) {
  const copy = Array.isArray(value) ? [...value] : { ...value };
  copy[key] = rest.length ? withLeaf(copy[key], rest, changed) : changed;
  return copy;
}

function mendScreen(app, one) {
  const title = t("mend.title");
  if (!one) return { title, back: "/waiting", body: [note("plain", t("mend.gone"))] };
  let sent = one.sent;
  const fields = [...leaves(sent.payload, ["payload"]), { path: ["happened_on"], value: sent.happened_on }];
  const again = async (fresh) => {
    const id = fresh ? newUuid() : one.id;
    if (fresh) await store.remove("entries", one.id);
    await store.put("entries", { ...one, id, sent, state: "waiting", reason: "", field: "" });
    await countWaiting();
    await sync();
    app.go("/waiting");
  };
  return {
    title,
    back: "/waiting",
    body: [
      h("p.where", null, one.title),
      note("warn", t("waiting.why", { why: one.reason }), "unsure"),
      fields.map(({ path, value }) => leafPiece(path, value, one.field, (changed) => { sent = withLeaf(sent, path, changed); })),
      big(t("mend.go"), () => again(false), { kind: "main" }),
      /already|other content/.test(one.reason) && big(t("mend.new"), () => again(true), { kind: "plain" }),
    ],
  };
}

/** What was typed as a number or as yes and no again; what is neither goes as it is and is refused. */
function likeBefore(before, text) {
  const said = text.trim().toLowerCase();
  if (typeof before === "number" && /^-?\d+(\.\d+)?$/.test(said)) return Number(said);
  if (typeof before === "boolean" && ["true", "false"].includes(said)) return said === "true";
  return text;
}

function leafPiece(path, value, field, onChange) {
  const name = path.filter((key) => !["payload", "what"].includes(key)).map((key) => word("mend.name", key)).join(" · ");
  const named = field.replace(/\[(\d+)\]/g, ".$1").replace(/^payload\./, "");
  const meant = field && path.join(".").endsWith(named);
  const input = h("input", { value: String(value), oninput: ({ target }) => onChange(likeBefore(value, target.value)) });
  return h(`label.text${meant ? ".meant" : ""}`, null, h("span", null, name), input);
}
