// Own pictograms: plain shapes, no colour needed to tell them apart.

import { s } from "./dom.js";

const line = (d) => s("path", { d, class: "line" });
const solid = (d) => s("path", { d, class: "solid" });
const ring = (cx, cy, r) => s("circle", { cx, cy, r, class: "line" });
const dot = (cx, cy, r) => s("circle", { cx, cy, r, class: "solid" });
const barred = () => line("M12 12 88 88");

const hand = "M34 84V52l-10-12 6-6 12 10V20h8v22-28h8v28-24h8v26-18h8v32c0 14-6 26-16 26z";
const body = (x) => [dot(x, 26, 9), line(`M${x} 38v26M${x - 13} 48h26M${x} 64l-10 22M${x} 64l10 22`)];

const DRAWN = {
  book: () => [line("M16 20q18-6 34 4 16-10 34-4v60q-18-6-34 4-16-10-34-4zM50 24v60")],
  "two-people": () => [...body(30), ...body(70)],
  weather: () => [line("M24 52q-10-22 14-26 6-14 24-8 18 0 16 18 12 2 6 16z"), solid("M52 54 36 78h12l-6 18 22-28H52z")],
  barrier: () => [line("M8 40h84v18H8zM20 40 34 58M42 40 56 58M64 40 78 58M20 58v28M80 58v28")],
  stop: () => [line("M34 8h32l26 26v32L66 92H34L8 66V34z"), solid("M28 44h44v12H28z")],
  "no-riding": () => [ring(50, 50, 40), line("M20 36h60M50 36v10"), dot(50, 54, 7), line("M50 62v16"), barred()],
  "hook-empty": () => [line("M50 8v30M50 38q22 10 16 30-6 16-24 12-14-6-10-20")],
  "screen-away": () => [line("M34 16h32v56H34zM44 64h12"), barred()],
  "hand-off": () => [solid(hand), line("M8 14q20 10 84 0")],
  nip: () => [ring(34, 58, 24), dot(34, 58, 5), line("M34 34h56"), solid("M78 22l16 12-16 12z")],
  rag: () => [line("M8 66q20-8 42 0t42 0"), line("M30 62q4-34 20-34t20 34"), line("M38 44q12-6 24 0")],
  wires: () => [line("M12 50h76M12 62h76M40 50l-8-28M56 50l10-30M62 62l12 22"), barred()],
  lock: () => [line("M26 44h48v40H26zM34 44V30q0-16 16-16t16 16v14"), dot(50, 64, 6)],
  "no-bars": () => [line("M14 62h72M14 74h72M30 86 78 20"), barred()],
  slack: () => [line("M10 30q20 40 40 10t40 20"), ring(22, 72, 14)],
  limits: () => [line("M50 12v76M30 12h40M30 88h40"), solid("M38 32l12-16 12 16zM38 68l12 16 12-16z")],
  hold: () => [ring(50, 50, 40), solid("M34 30h10v40H34zM56 30h10v40H56z")],
  jib: () => [line("M16 86 80 18M16 86h24M80 18v30M80 48l-8 10h16z")],
  eye: () => [line("M8 50q42-44 84 0-42 44-84 0z"), dot(50, 50, 12)],
  feel: () => [solid(hand)],
  gauge: () => [line("M16 24h68M26 24v44M64 24v44M26 68h10M54 68h10M74 16v16")],
  up: () => [solid("M50 8 84 48H64v42H36V48H16z")],
  down: () => [solid("M50 92 84 52H64V10H36v42H16z")],
  out: () => [solid("M92 50 52 16v20H10v28h42v20z")],
  in: () => [solid("M8 50 48 16v20h42v28H48v20z")],
  none: () => [ring(50, 50, 40), barred()],
  reached: () => [solid("M50 8 94 88H6z")],
  unsure: () => [ring(50, 50, 42), line("M36 38q2-16 16-14 14 4 8 18-10 8-10 18"), dot(50, 76, 5)],
  below: () => [dot(50, 50, 22)],
  photo: () => [line("M10 30h22l8-12h20l8 12h22v52H10z"), ring(50, 56, 16)],
  mark: () => [line("M8 42h84M8 58h84"), solid("M42 30h16v40H42z")],
  walk: () => [dot(56, 14, 9), line("M54 26 46 56l16 14v22M46 56 34 90M52 34l20 12M50 34 34 50")],
};

/** A pictogram; the words beside it say the same, so it is hidden from being read aloud. */
export function sign(name, size = "") {
  const draw = DRAWN[name] ?? DRAWN.stop;
  return s(`svg.sign${size ? `.${size}` : ""}`, { viewBox: "0 0 100 100", "aria-hidden": "true" }, draw());
}

/** The arrow for a motion such as "hook up" or "trolley in". */
export const arrowOf = (motion) => {
  const way = String(motion ?? "").split(" ").at(-1);
  return ["up", "down", "out", "in"].includes(way) ? way : "none";
};
