// Who uses this phone, how they like it, what is in hand.

import * as store from "./store.js";

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
    session.device = crypto.randomUUID();
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

/** The day at this place, by the phone. */
export function today(now = new Date()) {
  const pad = (value) => String(value).padStart(2, "0");
  return `${now.getFullYear()}-${pad(now.getMonth() + 1)}-${pad(now.getDate())}`;
}
