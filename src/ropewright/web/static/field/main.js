// Starts the app and shows the screen that the address names.

import { h, refill } from "./dom.js";
import { couldKeep, couldNotKeep } from "./entries.js";
import { loadTexts, t } from "./texts.js";
import { entriesFile, keepSyncing, onSync, sync, takeCard } from "./sync.js";
import { countWaiting, keepWork, openSession, session, workOf } from "./session.js";
import * as store from "./store.js";
import { sign } from "./signs.js";
import { big, note, part, saveFile } from "./pieces.js";
import { ropesScreen } from "./screens/ropes.js";
import { openScreen } from "./screens/open.js";
import { beginScreen } from "./screens/begin.js";
import { planScreen } from "./screens/plan.js";
import { gateScreen, passScreen, passedScreen, stoppedScreen } from "./screens/pass.js";
import { placeScreen } from "./screens/place.js";
import { savedScreen, whatScreen } from "./screens/what.js";
import { clusterScreen } from "./screens/cluster.js";
import { diameterScreen, waveScreen } from "./screens/measure.js";
import { damageScreen, partScreen } from "./screens/damage.js";
import { markScreen, photoScreen } from "./screens/mark.js";
import { doneScreen, endScreen } from "./screens/end.js";
import { shiftScreen } from "./screens/shift.js";
import { waitingScreen } from "./screens/waiting.js";
import { settingsScreen } from "./screens/settings.js";
import { holdScreen } from "./screens/hold.js";

const OF_APP = { "": ropesScreen, waiting: waitingScreen, settings: settingsScreen };
const OF_ROPE = {
  "": openScreen, begin: beginScreen, plan: planScreen, gate: gateScreen, pass: passScreen,
  stopped: stoppedScreen, passed: passedScreen, place: placeScreen, what: whatScreen,
  cluster: clusterScreen, diameter: diameterScreen, wave: waveScreen, damage: damageScreen,
  part: partScreen, mark: markScreen, photo: photoScreen, saved: savedScreen, end: endScreen,
  done: doneScreen, shift: shiftScreen, hold: holdScreen,
};

const bar = document.getElementById("bar");
const screen = document.getElementById("screen");

/** What a screen is given to work with. */
const app = {
  card: null,
  work: null,
  go: (address) => {
    if (location.hash === `#${address}`) show();
    else location.hash = address;
  },
  rope: (...parts) => ["/rope", encodeURIComponent(app.work.rope_id), ...parts].join("/"),
  refresh: () => show({ stay: true }),
  /** Keep what is being typed, so that a phone that goes dark loses nothing. */
  async keep(changes = {}) {
    Object.assign(app.work, changes);
    await kept(app.work);
  },
  async draft(changes) {
    app.work.draft = { ...app.work.draft, ...changes };
    await kept(app.work);
  },
  /** Put entries into the queue together with the work; then try to send them. */
  async save(entries, changes = {}) {
    const work = { ...app.work, ...changes };
    try {
      await store.putTogether(entries, work);
    } catch (problem) {
      couldNotKeep(entries);
      throw Object.assign(problem, { entries });
    }
    couldKeep(entries);
    app.work = work;
    unkept.delete(work.rope_id);
    await countWaiting();
    navigator.storage?.persist?.();
    sync();
  },
};

// On a full phone the work goes on from memory, so that what is found can still be written down.
const unkept = new Map();

async function kept(work) {
  try {
    await keepWork(work);
    unkept.delete(work.rope_id);
  } catch (problem) {
    if (problem?.name !== "QuotaExceededError") throw problem;
    unkept.set(work.rope_id, work);
  }
}

let turn = 0;

async function show({ stay = false } = {}) {
  const mine = (turn += 1);
  const parts = location.hash.replace(/^#\/?/, "").split("/");
  let made;
  try {
    made = await madeBy(parts);
    if (!made.bare) await countWaiting(); // another window of this phone may have sent, or been refused
  } catch (problem) {
    made = {
      title: t("problem.title"), back: "/",
      body: [note("danger", t("problem.words")), h("p.help", null, String(problem?.message ?? problem))],
    };
  }
  if (mine !== turn) return; // another screen was asked for meanwhile
  const top = stay ? scrollY : 0;
  document.body.className = made.look ?? "";
  document.body.dataset.screen = parts[0] === "rope" ? parts[2] || "rope" : parts[0] || "ropes";
  document.title = made.title;
  refill(bar, made.bare ? null : barOf(made));
  const only = !made.bare && parts[0] === "rope" && unkept.has(app.work?.rope_id);
  refill(screen, made.bare ? null : h("h1", null, made.title), only && note("danger", t("problem.only-here"), "stop"), made.body);
  if (!stay) screen.focus({ preventScroll: true });
  scrollTo(0, top);
}

async function madeBy([first, ropeId, name = "", ...rest]) {
  if (first !== "rope") return (OF_APP[first] ?? ropesScreen)(app, ropeId, name);
  const id = decodeURIComponent(ropeId);
  app.work = unkept.get(id) ?? (await workOf(id));
  const held = await store.get("cards", id);
  app.card = held?.card ?? null;
  app.takenAt = held?.taken_at ?? null;
  if (!app.card) return withoutCard(id);
  return (OF_ROPE[name] ?? openScreen)(app, ...rest.map(decodeURIComponent));
}

function withoutCard(id) {
  const fetchIt = async () => {
    try {
      await takeCard(id);
      show();
    } catch (problem) {
      refill(screen, h("h1", null, id), note("warn", t("card.none")), h("p.help", null, problem.message), again());
    }
  };
  const again = () => big(t("card.take"), fetchIt, { kind: "main" });
  return { title: id, back: "/", body: [h("p", null, t("card.why")), again()] };
}

function barOf({ back }) {
  const left = back
    ? h("a.back", { href: `#${back}`, "aria-label": t("back") }, "‹")
    : h("span.back.blank");
  return [left, chip(), h("a.settings", { href: "#/settings", "aria-label": t("settings.title") }, "≡")];
}

function chip() {
  const words = session.refused
    ? t("bar.refused", { count: session.refused })
    : session.waiting
      ? t("bar.waiting", { count: session.waiting })
      : t("bar.nothing");
  return h(`a.chip${session.refused ? ".refused" : ""}`, { href: "#/waiting" }, session.refused > 0 && sign("reached"), h("span", null, words));
}

// What is being typed stays as it is; while rope moves nothing changes at all.
function afterSync() {
  if (document.body.dataset.screen === "waiting") show({ stay: true });
  else if (bar.children.length) bar.replaceChild(chip(), bar.querySelector(".chip"));
}

// What goes wrong behind a key is said on the screen: nobody may think that something was kept.
function sayProblem(problem) {
  const words = String(problem?.message ?? problem);
  const full = problem?.name === "QuotaExceededError";
  const entries = problem?.entries ?? [];
  const said = h("div", { id: "problem" },
    note("danger", t(full ? "problem.full" : "problem.not-kept"), "stop"),
    entries.length > 0 && part(t("problem.entries"), entries.map(({ title }) => h("div.item", null, h("strong", null, title)))),
    entries.length > 0 && big(t("problem.save"), () => saveFile(entriesFile(entries)), { kind: "main", under: t("waiting.save-help") }),
    h("p.help", null, words));
  document.getElementById("problem")?.remove();
  screen.prepend(said);
  scrollTo(0, 0);
}

async function start() {
  addEventListener("unhandledrejection", ({ reason }) => sayProblem(reason));
  await loadTexts(async () => {
    const answer = await fetch("/api/texts/en.json");
    if (!answer.ok) throw new Error(String(answer.status));
    return answer.json();
  });
  await openSession();
  addEventListener("hashchange", () => show());
  onSync(afterSync);
  await show();
  keepSyncing();
  sync();
  if ("serviceWorker" in navigator) {
    const registered = await navigator.serviceWorker.register("sw.js", { scope: "./" });
    if (navigator.serviceWorker.controller) registered.active?.postMessage("look for a newer version");
  }
}

start().catch((problem) => {
  refill(screen, h("h1", null, t("problem.title")), h("p", null, t("problem.start")), h("p.help", null, String(problem?.message ?? problem)));
});
