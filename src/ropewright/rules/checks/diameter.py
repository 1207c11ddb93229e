"""Diameter lost or gained against a baseline, and worn outer wires."""

from fractions import Fraction
from typing import Final, NamedTuple

from ropewright.formulas import uniform_decrease_percent
from ropewright.inspection import Damage, DiameterReading, Inspection
from ropewright.rules.context import Context
from ropewright.rules.model import Clause, DiameterCheck, WornWireCheck
from ropewright.rules.ruling import Found, Step
from ropewright.rules.words import baseline_words, listing, number, place_words, threshold

#: Below this share of a limit without printed grades a change is not yet worth watching [-].
SLIGHT: Final = Fraction(1, 5)

_PAIR = "measure twice at right angles at the same place"


def check_diameter(clause: Clause, check: DiameterCheck, context: Context) -> None:
    """One ruling for every reading; none taken now is 'not assessable' where one is demanded."""
    readings, current = context.evidence.diameters(), context.evidence.current
    if not any(inspection in current for _, inspection in readings):
        _no_reading(clause, context)
    for reading, inspection in readings:
        _rule(clause, check, context, reading, inspection)


def _no_reading(clause: Clause, context: Context) -> None:
    latest = context.latest
    kind = latest.kind if latest is not None else None
    if clause.needed_at and kind is not None and kind not in clause.needed_at:
        context.add(
            clause, status="not applicable",
            words=f"no diameter taken; a {kind} inspection does not ask for one",
        )  # fmt: skip
        return
    context.add(
        clause, status="not assessable", words="no diameter was measured",
        missing=("a diameter, two readings at right angles",), how_to_get=(_PAIR,),
    )  # fmt: skip


def baseline_for(check: DiameterCheck, context: Context) -> Fraction | None:
    """The diameter a check compares with [mm]; ``None`` where it is not known."""
    if check.baseline == "nominal":
        return context.diameter_mm
    if check.baseline not in context.worked_out:
        reference = context.dossier.installation.reference
        known = None if reference is None else reference.measured_mm
        if check.baseline == "measured in each third" and thirds_without_reading(context):
            known = None
        context.worked_out[check.baseline] = known
    baseline: Fraction | None = context.worked_out[check.baseline]
    return baseline


def thirds_without_reading(context: Context) -> tuple[int, ...]:
    """Thirds of the active length in which the baseline has no reading, counted from end A.

    The active length is the working length if that is stated, else the rope in service.
    """
    reference = context.dossier.installation.reference
    active = context.dossier.installation.working or context.evidence.service
    places = [] if reference is None else [one.place.at_m for one in reference.readings]
    third = active.length_m / 3
    return tuple(
        number + 1
        for number in range(3)
        if not any(
            active.from_m + number * third <= place <= active.from_m + (number + 1) * third
            for place in places
        )
    )


def _missing_baseline(check: DiameterCheck, context: Context) -> str:
    if check.baseline != "measured in each third":
        return "reference diameter of this installation"
    thirds = listing([str(one) for one in thirds_without_reading(context)])
    where = f" in third {thirds} of the active length" if thirds else ""
    return f"baseline diameter, measured when the rope was new{where}"


def _is_crushed(reading: DiameterReading, context: Context) -> bool:
    """Both must hold: a person says so, and the whole place ± lies in a crossover zone."""
    if reading.crushed_by_crossover is not True:
        return False
    exposure = context.exposure(reading.section.widened(reading.place.abs_err_m))
    return exposure.crossover is True and exposure.drum == "multi"


def _rule(
    clause: Clause,
    check: DiameterCheck,
    context: Context,
    reading: DiameterReading,
    inspection: Inspection,
) -> None:
    measured, where, _ = _measured(reading, context)
    common: dict[str, object] = {
        "compare": check.compare,
        "baseline": baseline_words(check.baseline),
        "section": reading.section,
        "section_err_m": reading.place.abs_err_m,
        "finding_ids": (reading.finding_id,),
        "inspection_id": inspection.inspection_id,
    }
    if check.except_crushed and _is_crushed(reading, context):
        context.add(
            clause, status="not applicable", **common,
            words=f"reading {where} lies where crossovers crush the rope: not the uniform change",
        )  # fmt: skip
        return
    baseline = baseline_for(check, context)
    if measured is None or baseline is None:
        missing, get = [], []
        if measured is None:
            missing.append("the second reading at right angles")
            get.append(_PAIR)
        if baseline is None:
            missing.append(_missing_baseline(check, context))
            get.append(_how_to_get_baseline(context))
        context.add(
            clause, status="not assessable", words=f"diameter {where}: {listing(missing)} missing",
            missing=tuple(missing), how_to_get=tuple(get), **common,
        )  # fmt: skip
        return
    _judge(clause, check, context, reading, measured, baseline, common)


def _how_to_get_baseline(context: Context) -> str:
    """A new rope is measured now; one that has worked for long cannot be given a start value."""
    thorough = [one for one in context.evidence.past if one.is_thorough]
    if thorough and all(one.kind == "first" for one in thorough):
        return (
            "run the new rope in, then measure at three places that do not bend, under a named "
            "tension, before it works on"
        )
    return (
        "find it in the rope's records; a rope in use cannot be given one afterwards: "
        "let the competent person decide"
    )


def _measured(reading: DiameterReading, context: Context) -> tuple[Fraction | None, str, Step]:
    """Measured diameter [mm], its place in words and its step; once for a context."""
    asked = ("measured", id(reading))
    known: tuple[Fraction | None, str, Step] | None = context.worked_out.get(asked)
    if known is None:
        measured = reading.measured_mm
        step = Step(
            says="measured diameter, mean of the pair",
            value=""
            if measured is None
            else f"({' + '.join([number(one) for one in reading.readings_mm])}) / 2 "
            f"= {number(measured)} mm",
            origin=f"reading {reading.finding_id}",
        )
        known = (measured, place_words(reading.section, reading.place.abs_err_m), step)
        context.worked_out[asked] = known
    return known


def _judge(
    clause: Clause,
    check: DiameterCheck,
    context: Context,
    reading: DiameterReading,
    measured: Fraction,
    baseline: Fraction,
    common: dict[str, object],
) -> None:
    d = context.diameter_mm
    lost_mm = baseline - measured if check.change == "decrease" else measured - baseline
    base_word = {"decrease": "smaller", "increase": "larger"}[check.change]
    _, where, measured_step = _measured(reading, context)
    divisor = d if check.percent_of == "nominal" else baseline
    asked = ("decrease", id(reading), baseline, divisor)
    decrease: Fraction | None = context.worked_out.get(asked)
    if decrease is None:
        decrease = context.worked_out[asked] = uniform_decrease_percent(
            reference_diameter_mm=baseline,
            measured_diameter_mm=measured,
            nominal_diameter_mm=divisor,
        )
    percent = decrease if check.change == "decrease" else -decrease
    limit, unit, rating, limit_steps = _limit(check, context, percent)
    value = lost_mm if unit == "mm" else percent
    steps = (
        measured_step,
        Step(says=baseline_words(check.baseline), value=f"{number(baseline)} mm"),
        Step(
            says=check.change,
            value=f"{number(lost_mm)} mm = {number(percent)} % of {number(divisor)} mm",
            origin=f"divided by the {check.percent_of} diameter",
        ),
        *limit_steps,
    )
    over = value if value > 0 else Fraction(0)
    words = f"{number(measured)} mm {where}: {_short(over)} {unit} {base_word}"
    common |= {"steps": steps, "found": Found(lower=value, upper=value, unit=unit)}
    if limit is None:
        context.add(
            clause, status="not assessable", words=f"{words}; no limit can be read",
            missing=("a limit for this rope's core and diameter",),
            how_to_get=("state core and construction from the certificate",), **common,
        )  # fmt: skip
        return
    reached = value >= limit if check.compare == "reached" else value > limit
    graded = rating if rating is not None else None
    share = over / limit if limit else None
    # 'none' in a printed table; where there is none, less than a fifth of the limit
    slight = rating == 0 if check.table is not None else share is not None and share < SLIGHT
    common |= {
        "limit": limit, "rating_percent": graded if check.rated else None, "share": share,
        "watch": not slight,
    }  # fmt: skip
    context.add(
        clause, status="reached" if reached else "below",
        words=f"{words}; limit {threshold(f'{number(limit)} {unit}', check.compare)}", **common,
    )  # fmt: skip


def _short(value: Fraction) -> str:
    """An exact figure as it stands, an endless one by its first digits; the steps show more."""
    shown = number(value)
    return f"{shown[: shown.index('.') + 3]}…" if shown.endswith("…") else shown


def diameter_limit(check: DiameterCheck, context: Context) -> tuple[Fraction | None, str]:
    """The limit of a check for this rope, whatever was measured, and its unit (% or mm) [-]."""
    limit, unit, _, _ = _limit(check, context, Fraction(0))
    return limit, unit


def _limit(
    check: DiameterCheck, context: Context, percent: Fraction
) -> tuple[Fraction | None, str, Fraction | None, tuple[Step, ...]]:
    if check.limit_percent is not None:
        step = Step(says="limit printed in the clause", value=f"{number(check.limit_percent)} %")
        return check.limit_percent, "%", None, (step,)
    if check.limit_mm is not None:
        step = Step(says="limit printed in the clause", value=f"{number(check.limit_mm)} mm")
        return check.limit_mm, "mm", None, (step,)
    if check.steps is not None:
        return _stepped(check, context)
    return _graded(check, context, percent)


def _stepped(
    check: DiameterCheck, context: Context
) -> tuple[Fraction | None, str, Fraction | None, tuple[Step, ...]]:
    d = context.diameter_mm
    for row in check.steps.rows if check.steps else ():
        low, high = row.number("d_from_mm"), row.number("d_to_mm")
        if (low is None or d > low) and (high is None or d <= high):
            limit = row.number("limit_mm")
            if limit is not None:
                step = Step(
                    says="limit for this nominal diameter",
                    value=f"{number(limit)} mm",
                    origin=f"row {row.cells['d_from_mm']} to {row.cells['d_to_mm']} mm",
                )
                return limit, "mm", None, (step,)
    return None, "mm", None, ()


class _Grades(NamedTuple):
    """The column with the lowest discard figure of those that may hold."""

    limit: Fraction
    bands: tuple[tuple[Fraction, Fraction], ...]
    steps: tuple[Step, ...]


def _grades(check: DiameterCheck, context: Context) -> _Grades | None:
    """Limit and grades [%] of the column to read; worked out once for a context."""
    asked = (id(check), "grades")
    if asked not in context.worked_out:
        context.worked_out[asked] = _read_grades(check, context)
    known: _Grades | None = context.worked_out[asked]
    return known


def _read_grades(check: DiameterCheck, context: Context) -> _Grades | None:
    columns, unknown = context.columns(check.columns, zone=None)
    rows = () if check.table is None else check.table.rows
    discard = next((row for row in rows if row.number("rating") == Fraction(100)), None)
    read = [
        (limit, column.column)
        for column in columns
        if discard is not None and (limit := discard.number(column.column)) is not None
    ]
    if not read:
        return None
    limit, name = min(read, key=lambda one: one[0])
    stricter = f"stricter column, not known: {listing(list(unknown))}" if unknown else ""
    return _Grades(
        limit=limit,
        bands=tuple(
            (bound, rating)
            for row in rows
            if (bound := row.number(name)) is not None
            and (rating := row.number("rating")) is not None
        ),
        steps=(
            Step(says="column of the table", value=name.replace("_", " "), origin=stricter),
            Step(says="limit", value=threshold(f"{number(limit)} %", check.compare)),
        ),
    )


def _graded(
    check: DiameterCheck, context: Context, percent: Fraction
) -> tuple[Fraction | None, str, Fraction | None, tuple[Step, ...]]:
    grades = _grades(check, context)
    if grades is None:
        return None, "%", None, ()
    rating = max(
        [rating for bound, rating in grades.bands if percent >= bound], default=Fraction(0)
    )
    severity = Step(says="severity in the table", value=f"{number(rating)} % toward discard")
    return grades.limit, "%", rating, (*grades.steps, severity)


def check_worn_wires(clause: Clause, check: WornWireCheck, context: Context) -> None:
    """Outer wires worn flat by a share of their diameter."""
    made = False
    for finding, inspection in context.evidence.damage():
        if finding.damage != "abrasion":
            continue
        made = True
        _worn(clause, check, context, finding, inspection)
    if not made:
        context.add(clause, status="below", words="no worn outer wires found", share=Fraction(0))


def _worn(
    clause: Clause, check: WornWireCheck, context: Context, finding: Damage, inspection: Inspection
) -> None:
    where = place_words(finding.section, finding.place.abs_err_m)
    common: dict[str, object] = {
        "compare": check.compare,
        "section": finding.section,
        "section_err_m": finding.place.abs_err_m,
        "limit": check.share,
        "finding_ids": (finding.finding_id,),
        "inspection_id": inspection.inspection_id,
    }
    depth = finding.depth_share
    if depth is None:
        context.add(
            clause, status="not assessable", words=f"outer wires worn {where}, how deep not stated",
            missing=("worn depth as a share of the wire diameter",),
            how_to_get=("measure the worn flat or compare with an unworn wire",), **common,
        )  # fmt: skip
        return
    reached = depth >= check.share if check.compare == "reached" else depth > check.share
    context.add(
        clause, status="reached" if reached else "below",
        words=f"outer wires worn by {number(depth * 100)} % of their diameter {where}",
        found=Found(lower=depth, upper=depth, unit="of the wire diameter"),
        share=depth / check.share if check.share else None, **common,
    )  # fmt: skip
