"""Broken wires in the worst window, against a number, a share of the wires or a table."""

from fractions import Fraction
from functools import lru_cache
from typing import NamedTuple

from ropewright.geometry import Exposure, Section
from ropewright.rules.checks.break_groups import (
    CLOSE_COUNT,
    END_ZONE_IN_DIAMETERS,
    Certainty,
    Chain,
    Counted,
    Sorted,
    Spot,
    chain_of,
    clusters_of,
    count_in_window,
    neighbours,
    sort_out,
)
from ropewright.rules.checks.break_limits import Limit, limit_for
from ropewright.rules.checks.worn_limits import worn_limit
from ropewright.rules.context import BreaksNear, Context, Window
from ropewright.rules.model import BreakCheck, Clause
from ropewright.rules.ruling import Found, Step
from ropewright.rules.words import count_words, listing, number, place_words


class _Place(NamedTuple):
    chain: Chain
    counted: Counted
    spread: Section
    exposure: Exposure
    zone: str


def check_breaks(clause: Clause, check: BreakCheck, context: Context) -> None:
    """One ruling for every place with broken wires, or one that none were found."""
    window = context.window(check.window)
    before = len(context.rulings)
    for sorted_out, counted in _counted_chains(check, window, context):
        chain = chain_of(sorted_out, context)
        spread = chain.spread(counted)
        exposure = context.exposure(spread)
        zone = _zone(chain, exposure)
        _rule(clause, check, context, window, _Place(chain, counted, spread, exposure, zone))
        ruling = context.rulings[-1]
        if ruling.rating_percent is not None and ruling.limit:
            context.breaks_near[ruling.ruling_id] = _breaks_near(
                check, context, sorted_out, ruling.limit
            )
    made = context.rulings[before:]
    if not made:
        _none_found(clause, check, context, window)
    elif check.steel_sheaves_only:
        _elsewhere(clause, context, [missing for one in made for missing in one.missing])


def _elsewhere(clause: Clause, context: Context, said: list[str]) -> None:
    """Breaks that were found in one place do not make another one's plastic sheaves tell more."""
    sheaves = context.exposure(context.evidence.service).sheaves
    if sheaves in ("plastic", "unknown"):
        missing, get = _sheave_words(sheaves)
        if missing[0] not in said:
            context.add(
                clause, status="not assessable", missing=missing, how_to_get=get,
                words="elsewhere on the rope visible breaks do not tell enough",
            )  # fmt: skip


def _counted_chains(
    check: BreakCheck, window: Window, context: Context
) -> list[tuple[Sorted, Counted]]:
    """Chains of clusters in which such breaks may count; clauses that ask the same share them."""
    of_kind = (frozenset(check.sites), check.where, check.protruding_only)
    asked = (of_kind, window.words, check.per)
    known: list[tuple[Sorted, Counted]] | None = context.worked_out.get(asked)
    if known is not None:
        return known
    sorted_out: Sorted | None = context.worked_out.get(of_kind)
    if sorted_out is None:
        sorted_out = sort_out(clusters_of(context), _certainty(check, context))
        context.worked_out[of_kind] = sorted_out
    found = []
    for chain in neighbours(sorted_out, float(window.longest_mm) / 1000):
        counted = _count(check, chain, window, context)
        if counted is not None:
            found.append((chain, counted))
    context.worked_out[asked] = found
    return found


def _breaks_near(
    check: BreakCheck, context: Context, sorted_out: Sorted, limit: Fraction
) -> BreaksNear:
    """The ruling shows the worst window of a chain; damage beside another part of it counts too."""
    window = context.window(check.window)
    known: dict[tuple[int, ...], tuple[Fraction, Section] | None] = {}

    def rate(section: Section) -> tuple[Fraction, Section] | None:
        touched = [one for one in sorted_out if one[0].reach.overlaps(section)]
        asked = tuple([id(cluster) for cluster, _, _ in touched])
        if asked not in known:
            counted = _count(check, touched, window, context)
            known[asked] = None
            if counted is not None:
                rating = min(Fraction(100), Fraction(counted.upper) / limit * 100)
                known[asked] = (rating, counted.section)
        return known[asked]

    return BreaksNear(reaches=[cluster.reach for cluster, _, _ in sorted_out], rate=rate)


def _zone(chain: Chain, exposure: Exposure) -> str:
    """Multi-layer figures need both: the whole section ± in a crossover, and a person's word."""
    in_one = exposure.crossover is True and exposure.drum == "multi"
    return "multi" if in_one and chain.called_crossover else "single"


def _certainty(check: BreakCheck, context: Context) -> Certainty:
    sites = frozenset(check.sites)
    crown = "crown" in sites or "unknown" in sites

    def certainty(spot: Spot) -> tuple[bool, bool]:
        group = spot.group
        if group.site == "unknown":
            sure, may = crown, True
        else:
            sure = may = group.site in sites
        if check.protruding_only:
            sure, may = sure and group.protruding is True, may and group.protruding is not False
        if check.where == "at an end":
            end_sure, end_may = _at_an_end(spot, context)
            is_end = group.site == "end"
            return (sure or is_end) and end_sure, (may or is_end) and end_may
        if check.where == "not at an end":
            end_sure, end_may = _at_an_end(spot, context)
            return sure and not end_may, may and not end_sure
        return sure, may

    return certainty


def _at_an_end(spot: Spot, context: Context) -> tuple[bool, bool]:
    """Whether breaks surely lie at an end of the rope, and whether they may: stated, else near."""
    if spot.group.site == "end":
        return True, True
    if context.exposure(spot.around).near_end is False:
        return False, False
    at, err = spot.section, spot.finding.place.abs_err_m
    sure, may = context.exposure(at).near_end, context.exposure(at.widened(err)).near_end
    if sure is None or may is None:
        service = context.evidence.service
        zone_m = float(END_ZONE_IN_DIAMETERS * context.diameter_mm) / 1000
        low, high = service.from_m + zone_m, service.to_m - zone_m
        if sure is None:
            sure = at.to_m + err <= low or at.from_m - err >= high
        if may is None:
            may = at.from_m - err <= low or at.to_m + err >= high
    return sure, sure or may


def _count(
    check: BreakCheck, sorted_out: Sorted, window: Window, context: Context
) -> Counted | None:
    whole = count_in_window(sorted_out, window)
    if whole is None or check.per == "rope":
        return whole
    spots = [spot for _, _, possible in sorted_out for spot in possible]
    numbered = {spot.group.strand for spot in spots}
    if len(numbered) == 1 and None not in numbered:
        return whole  # all in one strand
    best: Counted | None = None
    for strand in sorted(one for one in numbered if one is not None) or [0]:
        most = sum(spot.group.count for spot in spots if spot.group.strand in (None, strand))
        if best is not None and most <= min(best.upper, best.lower):
            continue  # cannot be worse
        counted = count_in_window(_in_strand(sorted_out, strand), window)
        if counted is None:
            continue
        if best is None or counted.upper > best.upper:
            lower = max(counted.lower, best.lower if best else 0)
            best = Counted(lower=lower, upper=counted.upper, section=counted.section)
        elif counted.lower > best.lower:
            best = Counted(lower=counted.lower, upper=best.upper, section=best.section)
    if best is None:
        return None
    outer = context.rope.construction.outer_strands
    shared = -(-whole.lower // outer) if outer else 0
    return Counted(lower=max(best.lower, shared), upper=best.upper, section=best.section)


def _in_strand(sorted_out: Sorted, strand: int) -> Sorted:
    return [
        (
            cluster,
            [spot for spot in sure if spot.group.strand == strand],
            [spot for spot in possible if spot.group.strand in (None, strand)],
        )
        for cluster, sure, possible in sorted_out
    ]


@lru_cache(maxsize=4096)
def _found(lower: int, upper: int) -> Found:
    return Found(lower=Fraction(lower), upper=Fraction(upper), unit="broken wires")


@lru_cache(maxsize=4096)
def _share(count: int, limit: Fraction) -> tuple[Fraction | None, Fraction | None]:
    """Share of the limit [-] and rating toward discard [%]; nothing where the limit is 0."""
    if not limit:
        return None, None
    share = Fraction(count) / limit
    return share, min(Fraction(100), share * 100)


def _passes(count: int, limit: Fraction, compare: str) -> bool:
    over = count * limit.denominator - limit.numerator
    return over >= 0 if compare == "reached" else over > 0


def _rule(
    clause: Clause, check: BreakCheck, context: Context, window: Window, place: _Place
) -> None:
    chain, counted = place.chain, place.counted
    limit = limit_for(check, context, place.zone)
    if check.wear_factors is not None:
        limit = worn_limit(limit, check.wear_factors, context, place.spread)
    where = place_words(counted.section, chain.err_m)
    wires = "broken wire" if counted.upper == 1 else "broken wires"
    one_strand = " in one strand" if check.per == "strand" else ""
    count = count_words(counted.lower, counted.upper)
    found_words = f"{count} {wires}{one_strand} in {window.words}"
    steps = _steps(window, place, limit, f"{count} broken wires {where}")
    common: dict[str, object] = {
        "compare": check.compare,
        "found": _found(counted.lower, counted.upper),
        "window": window.words,
        "window_mm": window.longest_mm,
        "section": counted.section,
        "section_err_m": chain.err_m,
        "finding_ids": chain.finding_ids,
        "inspection_id": chain.inspection_id,
    }
    if limit.value is None:
        context.add(
            clause, status="not assessable", words=f"{found_words} {where}: no limit can be read",
            missing=limit.missing, how_to_get=limit.how_to_get, steps=steps, **common,
        )  # fmt: skip
        return
    sure = _passes(counted.lower, limit.value, check.compare)
    may = _passes(counted.upper, limit.value, check.compare)
    share, rating = _share(counted.upper, limit.value)
    common |= {
        "limit": limit.value, "share": share, "rating_percent": rating if check.rated else None,
    }  # fmt: skip
    rule_words = limit.words(check.compare)
    if sure:
        context.add(
            clause, status="reached", words=f"{found_words} {where}; {rule_words}",
            steps=steps, **common,
        )  # fmt: skip
    elif may:
        missing, get = _why_straddles(window, check, place)
        context.add(
            clause, status="not assessable", words=f"{found_words} {where}; {rule_words}",
            missing=missing, how_to_get=get, steps=steps, **common,
        )  # fmt: skip
    elif check.steel_sheaves_only and place.exposure.sheaves in ("plastic", "unknown"):
        missing, get = _sheave_words(place.exposure.sheaves)
        context.add(
            clause, status="not assessable", words=f"{found_words} {where}; {rule_words}, "
            "but visible breaks do not tell enough here",
            missing=missing, how_to_get=get, steps=steps, **common,
        )  # fmt: skip
    else:
        context.add(
            clause, status="below", words=f"{found_words} {where}; {rule_words}",
            steps=steps, **common,
        )  # fmt: skip


def _why_straddles(
    window: Window, check: BreakCheck, place: _Place
) -> tuple[tuple[str, ...], tuple[str, ...]]:
    missing, get = ["how many breaks lie within one window at the worst spot"], [CLOSE_COUNT]
    if not window.is_known:
        missing.append("lay length of this rope")
        get.append("measure the lay length: print three lays on paper and divide")
    groups = [group for one in place.chain.clusters for group in one.finding.groups]
    if check.per == "strand" and any(group.strand is None for group in groups):
        missing.append("strand numbers of the breaks")
        get.append("number the strands and count each by itself")
    if any(group.site == "unknown" for group in groups):
        missing.append("whether the breaks are on the crown or in the valley")
        get.append("bend the ends and look where the wire broke")
    if check.protruding_only and any(group.protruding is None for group in groups):
        missing.append("whether the broken ends stand out")
        get.append("look, and feel with a rag, whether an end stands out or makes a loop")
    return tuple(missing), tuple(get)


def _sheave_words(sheaves: str) -> tuple[tuple[str, ...], tuple[str, ...]]:
    if sheaves == "plastic":
        return ("inner condition: with plastic sheaves wires break inside, unseen",), (
            "let the competent person decide: magnetic rope test or look inside the rope",
        )
    return ("sheave material: steel or plastic",), ("look at the sheaves and state it",)


def _none_found(clause: Clause, check: BreakCheck, context: Context, window: Window) -> None:
    exposure = context.exposure(context.evidence.service)
    limit = limit_for(check, context, "single")
    common: dict[str, object] = {
        "compare": check.compare,
        "found": _found(0, 0),
        "window": window.words,
        "window_mm": window.longest_mm,
        "limit": limit.value,
        "share": Fraction(0) if limit.value else None,
        "rating_percent": None,
        "steps": (window.step, *limit.steps),
    }
    where = {"at an end": " at an end", "not at an end": " clear of the ends"}.get(check.where, "")
    none = f"no broken wires of this kind found{where}"
    if limit.value is None and check.share is not None:  # no share of any number is 0
        share = f"{number(check.share)} % of the {check.share_of}"
        common["share"] = Fraction(0)
        context.add(clause, status="below", words=f"{none}; limit {share}", **common)
    elif limit.value is None:
        context.add(
            clause, status="not assessable", words=f"{none}; no limit can be read",
            missing=limit.missing, how_to_get=limit.how_to_get, **common,
        )  # fmt: skip
    elif check.steel_sheaves_only and exposure.sheaves in ("plastic", "unknown"):
        missing, get = _sheave_words(exposure.sheaves)
        context.add(
            clause, status="not assessable", words=f"{none}, but visible breaks do not tell enough",
            missing=missing, how_to_get=get, **common,
        )  # fmt: skip
    else:
        context.add(
            clause, status="below", words=f"{none}; {limit.words(check.compare)}",
            **common,
        )  # fmt: skip


def _steps(window: Window, place: _Place, limit: Limit, worst: str) -> tuple[Step, ...]:
    zone = "multi-layer crossover" if place.zone == "multi" else "single layer, sheaves, all other"
    return (
        window.step,
        place.chain.counted_step,
        Step(
            says="worst window, closed interval, found exactly",
            value=worst,
            origin="sure and possible count of the stated lengths",
        ),
        Step(says="what this section meets", value=zone, origin=_exposure_words(place.exposure)),
        *limit.steps,
    )


@lru_cache(maxsize=512)
def _exposure_words(exposure: Exposure) -> str:
    unknown = exposure.unknowns
    known = f"drum {exposure.drum}, sheaves {exposure.sheaves}"
    return known if not unknown else f"{known}; not known: {listing(list(unknown))}"
