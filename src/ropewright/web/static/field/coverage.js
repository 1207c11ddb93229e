// What the passes of this inspection have covered so far.

/** Rope that no recorded pass of a method covers, to five centimetres. */
export function notSeen(card, passes, method) {
  const seen = passes.filter((one) => one.method === method).flatMap(({ sections }) => sections).sort((a, b) => a.from_m - b.from_m);
  const left = [];
  let at = card.service.from_m;
  for (const { from_m, to_m } of seen) {
    if (from_m - at > 0.05) left.push({ from_m: at, to_m: from_m });
    at = Math.max(at, to_m);
  }
  if (card.service.to_m - at > 0.05) left.push({ from_m: at, to_m: card.service.to_m });
  return left;
}

/** Metres seen and metres there, by a method. */
export function soFar(card, passes, method) {
  const all = card.service.to_m - card.service.from_m;
  const left = notSeen(card, passes, method).reduce((sum, one) => sum + one.to_m - one.from_m, 0);
  return { seen: all - left, all };
}
