// Entries as the logbook takes them: what equals its default is left out, numbers are text.

import { decimal } from "./units.js";
import { newUuid, session, today } from "./session.js";

const text = (value) => (typeof value === "number" ? decimal(value) : value);

/** Only what says something: defaults, nothing and empty text stay out. */
function said(fields, defaults = {}) {
  return Object.fromEntries(
    Object.entries(fields).filter(
      ([key, value]) =>
        value !== null && value !== undefined && value !== "" && value !== defaults[key] &&
        !(Array.isArray(value) && !value.length),
    ),
  );
}

const person = () => ({ person: session.me.person_id });
const placed = (place) => ({
  at_m: text(place.at_m),
  ...said(
    { abs_err_m: text(place.abs_err_m ?? 0), rel_err_m: text(place.rel_err_m ?? 0) },
    { abs_err_m: "0", rel_err_m: "0" },
  ),
});
const section = ({ from_m, to_m }) => ({ from_m: text(from_m), to_m: text(to_m) });

/** A moment of this phone's clock with its offset from UTC. */
export function moment(now = new Date()) {
  const off = -now.getTimezoneOffset();
  const pad = (value) => String(Math.floor(Math.abs(value))).padStart(2, "0");
  const clock = [now.getHours(), now.getMinutes(), now.getSeconds()].map(pad).join(":");
  const sign = off < 0 ? "-" : "+";
  return `${today(now)}T${clock}${sign}${pad(off / 60)}:${pad(Math.abs(off) % 60)}`;
}

let made = 0;

// Entries that a full phone could not keep may be in a file by now: the same again is the same entry.
const notKept = new Map();
const contentOf = ({ sent: { rope_id, kind, payload } }) => JSON.stringify([rope_id, kind, payload]);
export const couldNotKeep = (entries) => entries.forEach((one) => notKept.set(contentOf(one), one));
export const couldKeep = (entries) => entries.forEach((one) => notKept.delete(contentOf(one)));

/** An entry that waits for the server; `happened` is the moment of the phone's clock. */
export function entry(ropeId, kind, payload, { happened = new Date(), title = "" } = {}) {
  const now = new Date();
  made += 1;
  const before = notKept.get(contentOf({ sent: { rope_id: ropeId, kind, payload } }));
  if (before) return before;
  return {
    id: newUuid(),
    order: now.getTime() * 1000 + (made % 1000),
    state: "waiting",
    reason: "",
    field: "",
    title,
    sent: {
      kind,
      rope_id: ropeId,
      happened_on: today(happened),
      happened_at: moment(happened),
      typed_at: moment(now),
      person_id: session.me?.person_id ?? null,
      payload,
    },
  };
}

export function inspectionBegun({ id, kind, conditions, remark }) {
  const made = said(conditions, { grease: "unknown" });
  return {
    inspection_id: id,
    kind,
    on: today(),
    by: [person()],
    ...said({ remark }),
    ...(Object.keys(made).length ? { conditions: made } : {}),
  };
}

export const passMade = (id, pass) => ({
  inspection_id: id,
  what: {
    method: pass.method,
    section: section(pass),
    ...said({
      point: pass.place,
      hook_from_m: pass.hook_from_m === null ? null : text(pass.hook_from_m),
      hook_to_m: pass.hook_to_m === null ? null : text(pass.hook_to_m),
      rope_speed_m_per_s: pass.rope_m_per_s ? text(pass.rope_m_per_s) : null,
      remark: pass.remark,
    }),
  },
});

export const hiddenFound = (id, part, cause) => ({
  inspection_id: id,
  what: { section: section(part), ...said({ cause }, { cause: "grease" }) },
});

export const unseenAccepted = (id, part, until, reason) => ({
  inspection_id: id,
  what: { section: section(part), by: person(), until, reason },
});

export const itemExamined = (id, item, state, remark = "") => ({
  inspection_id: id,
  what: { item, state, ...said({ remark }) },
});

const finding = (found) => ({
  finding_id: found.id,
  place: placed(found.place),
  ...said({ method: found.method, same_as: found.same_as, remark: found.remark }),
});

export const clusterCounted = (id, found) => ({
  inspection_id: id,
  what: {
    ...finding(found),
    groups: found.groups.map(({ from_mm, to_mm, count, site, strand, protruding }) => ({
      from_mm, to_mm, count, ...said({ site, strand, protruding }, { site: "crown" }),
    })),
    ...said(
      {
        offset_err_mm: found.offset_err_mm,
        crossover_damage: found.crossover_damage,
        ends_broken_off: found.ends_broken_off,
      },
      { offset_err_mm: "0" },
    ),
  },
});

export const readingTaken = (id, found) => ({
  inspection_id: id,
  what: {
    ...finding(found),
    readings_mm: found.readings_mm,
    ...said({ tension: found.tension, crushed_by_crossover: found.crushed_by_crossover }),
  },
});

export const waveFound = (id, found) => ({
  inspection_id: id,
  what: {
    is: "waviness",
    ...finding(found),
    gap_mm: found.gap_mm,
    ...said({ length_m: text(found.length_m ?? 0) }, { length_m: "0" }),
  },
});

export const damageFound = (id, found) => ({
  inspection_id: id,
  what: {
    is: "damage",
    ...finding(found),
    damage: found.damage,
    ...said(
      {
        length_m: text(found.length_m ?? 0), form: found.form, grade: found.grade,
        depth_share: found.depth_share,
      },
      { length_m: "0" },
    ),
  },
});

export const partFound = (id, found) => ({
  inspection_id: id,
  what: {
    finding_id: found.id,
    part: found.part,
    which: found.which,
    state: found.state,
    ...said({ dangerous: found.dangerous, remark: found.remark }),
  },
});

export const markMade = ({ name, place, made_of }) => ({
  name,
  place: placed(place),
  ...said({ made_of }),
  on: today(),
});

export const finished = (id, remark) => ({ inspection_id: id, ...said({ remark }) });
export const handoverTaken = (told) => ({ by: person(), ...said({ told }) });
export const held = (reason) => ({ hold_id: newUuid(), on: today(), reason });
export const warningShown = (words) => ({ warning_id: newUuid(), words, to: person() });
