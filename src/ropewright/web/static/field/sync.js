// Bringing entries to the server and cards to the phone.  Sending the same again is harmless; an
// entry leaves the queue only when the server says that it has it.

import * as store from "./store.js";
import { moment } from "./entries.js";
import { countWaiting, session, setMe } from "./session.js";

const PATIENCE_MS = 15_000;
const AT_ONCE = 20;

/** What the last attempt came to: {state: "never" | "ok" | "offline" | "full" | "login" | "failed", …}. */
export const last = { state: "never", words: "", at: null };

const listeners = new Set();
export const onSync = (listener) => listeners.add(listener);
const tell = () => listeners.forEach((listener) => listener());

async function ask(path, options = {}) {
  const answer = await fetch(path, {
    credentials: "same-origin",
    cache: "no-store",
    signal: AbortSignal.timeout(PATIENCE_MS),
    ...options,
  });
  if (answer.ok) return answer;
  let words = `${answer.status}`;
  try {
    const body = await answer.json();
    words = body.message ?? body.detail ?? words;
  } catch {
    // no words came with it: the number stands for itself
  }
  throw Object.assign(new Error(String(words)), { status: answer.status });
}

/** Where a card is fetched: a name may hold a slash, which an address cannot. */
export const ropeAddress = (ropeId) =>
  encodeURIComponent(ropeId.replaceAll("~", "~7E").replaceAll("/", "~2F"));

/** The ropes the server has; what was known before where it cannot be asked. */
export async function ropes() {
  try {
    const me = await (await ask("/api/v1/me")).json();
    await setMe(me);
    const list = await (await ask("/api/v1/ropes")).json();
    await store.keep("ropes", list);
    note("ok");
    return list;
  } catch (problem) {
    failed(problem);
    return store.kept("ropes", []);
  }
}

/** Fetch a card and keep it for when nobody can be asked; throws with words if it fails. */
export async function takeCard(ropeId) {
  const answer = await ask(`/api/v1/ropes/${ropeAddress(ropeId)}/card`);
  const card = await answer.json();
  await store.put("cards", { rope_id: ropeId, card, taken_at: Date.now() });
  for (const { photos = [] } of card.findings) {
    for (const sha of photos) fetch(photoAddress(sha)).catch(() => {}); // kept by the worker
  }
  return card;
}

export const photoAddress = (sha) => `/api/v1/photos/${encodeURIComponent(sha)}`;

let running = null;

/** Send what waits; several calls at once are one.  `again` also tries what was refused. */
export function sync({ again = false } = {}) {
  running ??= work(again).finally(() => {
    running = null;
    tell();
  });
  return running;
}

async function work(again) {
  try {
    await sendEntries(again);
    await sendPhotos();
    note("ok");
  } catch (problem) {
    failed(problem);
  }
  await countWaiting();
}

function note(state, words = "") {
  Object.assign(last, { state, words, at: Date.now() });
}

function failed(problem) {
  if (problem.status === 401) note("login", problem.message);
  else if (problem.status) note("failed", problem.message);
  else if (problem.name === "QuotaExceededError") note("full");
  else note("offline");
}

async function sendEntries(again) {
  const waiting = (await store.all("entries"))
    .filter(({ state }) => state === "waiting" || (again && state === "refused"))
    .sort((a, b) => a.order - b.order);
  for (let start = 0; start < waiting.length; start += AT_ONCE) {
    await sendSome(waiting.slice(start, start + AT_ONCE));
  }
}

async function sendSome(entries) {
  const body = {
    device: { id: session.device, sent_at: moment() },
    entries: entries.map(({ id, sent }) => ({ id, ...sent })),
  };
  const answer = await ask("/api/v1/entries", {
    method: "POST",
    headers: { "content-type": "application/json" },
    body: JSON.stringify(body),
  });
  const { results, clock_offset_s: off } = await answer.json();
  session.clockOff = off ?? 0;
  await store.keep("clock-off", session.clockOff).catch(() => {}); // a full phone sends all the same
  const said = new Map(results.map((result) => [result.id, result]));
  for (const entry of entries) {
    const result = said.get(entry.id);
    if (!result) continue; // no word of it: it waits
    const taken = result.state === "taken" || result.state === "known";
    const told = { reason: result.reason ?? "", field: result.field ?? "" };
    await settle("entries", { ...entry, ...told, state: taken ? "sent" : "refused" });
  }
}

/** Write down what became of it.  Where a full phone cannot, what the server has makes room. */
async function settle(name, one) {
  try {
    await store.put(name, one);
  } catch (problem) {
    if (problem?.name !== "QuotaExceededError" || one.state !== "sent") throw problem;
    await store.remove(name, one.id);
  }
}

async function sendPhotos() {
  const unsent = new Set(
    (await store.all("entries")).filter(({ state }) => state !== "sent").map(({ id }) => id),
  );
  for (const photo of await store.all("photos")) {
    if (photo.state === "sent" || unsent.has(photo.entry_id)) continue;
    const form = new FormData();
    form.append("entry_id", photo.entry_id);
    form.append("file", photo.blob, "photo.jpg");
    try {
      const { sha256 } = await (
        await ask("/api/v1/photos", { method: "POST", body: form })
      ).json();
      await settle("photos", { ...photo, state: "sent", sha256, reason: "" });
    } catch (problem) {
      if (!problem.status || problem.status === 401) throw problem;
      await store.put("photos", { ...photo, reason: problem.message });
    }
  }
}

/** Everything that waits, as one file that another phone can load. */
export async function waitingFile() {
  const entries = (await store.all("entries")).filter(({ state }) => state !== "sent");
  const photos = [];
  for (const { blob, ...rest } of await store.all("photos")) {
    if (rest.state !== "sent") photos.push({ ...rest, type: blob.type, data: await asBase64(blob) });
  }
  return entriesFile(entries, photos);
}

/** Such a file of these, whether this phone could keep them or not. */
export function entriesFile(entries, photos = []) {
  const made = { waiting_entries: 1, device: session.device, saved_at: moment(), entries, photos };
  return new Blob([JSON.stringify(made, null, 1)], { type: "application/json" });
}

/** Take a file of waiting entries in; what is here already stays as it is.  Throws if it is none. */
export async function loadWaiting(file) {
  const held = JSON.parse(await file.text());
  if (held.waiting_entries !== 1 || !Array.isArray(held.entries)) throw new Error("no such file");
  let taken = 0;
  for (const one of held.entries) {
    if (typeof one?.id !== "string" || typeof one?.sent?.kind !== "string") continue;
    if (await store.get("entries", one.id)) continue;
    await store.put("entries", { ...one, state: one.state === "refused" ? "refused" : "waiting" });
    taken += 1;
  }
  for (const { data, type, ...rest } of held.photos ?? []) {
    if (await store.get("photos", rest.id)) continue;
    const blob = new Blob([Uint8Array.from(atob(data), (one) => one.charCodeAt(0))], { type });
    await store.put("photos", { ...rest, blob, state: "waiting" });
  }
  await countWaiting();
  return taken;
}

async function asBase64(blob) {
  const bytes = new Uint8Array(await blob.arrayBuffer());
  let text = "";
  for (let at = 0; at < bytes.length; at += 0x8000) {
    text += String.fromCharCode(...bytes.subarray(at, at + 0x8000));
  }
  return btoa(text);
}

/** Try again by itself: when a network comes, and now and then; the request itself decides. */
export function keepSyncing() {
  addEventListener("online", () => sync());
  document.addEventListener("visibilitychange", () => document.hidden || sync());
  setInterval(() => session.waiting > session.refused && sync(), 30_000);
}
