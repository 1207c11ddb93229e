// Who uses this phone, how they like it, what is in hand.

import * as store from "./store.js";

/** An id that nobody else makes; also where a page without TLS lacks the browser's own. */
export function newUuid() {
  if (crypto.randomUUID) return crypto.randomUUID();
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  bytes[6] = (bytes[6] & 0x0f) | 0x40;
  bytes[8] = (bytes[8] & 0x3f) | 0x80;
  const hex = [...bytes].map((one) => one.toString(16).padStart(2, "0")).join("");
  return [hex.slice(0, 8), hex.slice(8, 12), hex.slice(12, 16), hex.slice(16, 20), hex.slice(20)].join("-");
}

const DEFAULTS = { units: "metric", hand: "right", theme: "auto" };

export const session = {
  me: null,
  settings: { ...DEFAULTS },
  device: "",
  clockOff: 0,
  waiting: 0,
  refused: 0,
};

export async function openSession() {
  session.me = await store.kept("me");
  session.settings = { ...DEFAULTS, ...(await store.kept("settings", {})) };
  session.clockOff = await store.kept("clock-off", 0);
  session.device = await store.kept("device", "");
  if (!session.device) {
    session.device = newUuid();
    await store.keep("device", session.device);
  }
  await countWaiting();
  dress();
}

export async function setMe(me) {
  session.me = me;
  await store.keep("me", me);
  if (!(await store.kept("settings"))) {
    session.settings = { ...DEFAULTS, units: me.units, hand: me.hand, theme: me.theme };
    dress();
  }
}

export async function change(settings) {
  session.settings = { ...session.settings, ...settings };
  await store.keep("settings", session.settings);
  dress();
}

export async function countWaiting() {
  const entries = await store.all("entries");
  const photos = await store.all("photos");
  session.refused = entries.filter(({ state }) => state === "refused").length;
  session.waiting =
    entries.filter(({ state }) => state !== "sent").length +
    photos.filter(({ state }) => state !== "sent").length;
}

function dress() {
  const { theme, hand } = session.settings;
  document.documentElement.dataset.theme = theme;
  document.documentElement.dataset.hand = hand;
}

/** Whether the person may say as a competent person that something was not seen. */
export const isCompetent = () =>
  (session.me?.roles ?? []).some((role) => ["inspector", "external examiner"].includes(role));

/** The work at one rope: the inspection in hand, what was done, what is being typed. */
export async function workOf(ropeId) {
  return (await store.get("work", ropeId)) ?? { rope_id: ropeId, inspection: null, draft: {} };
}
export const keepWork = (work) => store.put("work", work);

/** Whether a card's last good day is over. */
export const isOld = (card) => card.expires_at < today();

/** The day at this place, by the phone. */
export function today(now = new Date()) {
  const pad = (value) => String(value).padStart(2, "0");
  return `${now.getFullYear()}-${pad(now.getMonth() + 1)}-${pad(now.getDate())}`;
}
