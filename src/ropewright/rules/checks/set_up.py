"""Figures and words of the set-up against what a rule or a maker asks for."""

from dataclasses import dataclass, replace
from fractions import Fraction

from ropewright.errors import InputError
from ropewright.geometry import drum_figures
from ropewright.inspection import SET_UP_UNITS, SetUpMeasure, hoist_on
from ropewright.inspection.set_up import NOT_FITTED, measures_of_drum
from ropewright.rules.context import Context
from ropewright.rules.model import Clause
from ropewright.rules.more_checks import SetUpCheck
from ropewright.rules.ruling import Found, Step
from ropewright.rules.tables import Row, Table
from ropewright.rules.words import number

_NOT_FITTED = (NOT_FITTED, "not grooved")


def check_set_up(clause: Clause, check: SetUpCheck, context: Context) -> None:
    """One ruling for every part that was measured; nothing known is 'not assessable'."""
    known = measures_of(check.measure, context)
    kind = context.latest.kind if context.latest is not None else None
    if not known and clause.needed_at and kind is not None and kind not in clause.needed_at:
        context.add(
            clause, status="not applicable",
            words=f"{check.measure} is not known; a {kind} inspection does not ask for it",
        )  # fmt: skip
    elif not known:
        context.add(
            clause, status="not assessable", words=f"{check.measure} is not known",
            missing=(check.measure,), how_to_get=(_how_to_get(check),),
        )  # fmt: skip
    for measure in known:
        if isinstance(measure.value, str):
            _word(clause, check, context, measure, measure.value)
        else:
            _figure(clause, check, context, measure, measure.value)


def measures_of(name: str, context: Context) -> tuple[SetUpMeasure, ...]:
    """What is known of a measure on the date: the newest for each part, else from the rigging."""
    newest: dict[str, SetUpMeasure] = {}
    for one in context.dossier.installation.set_up:
        if one.name != name or (one.on is not None and one.on > context.as_of):
            continue
        older = newest.get(one.which)
        if older is None or older.on is None or (one.on is not None and one.on >= older.on):
            newest[one.which] = one
    return tuple(newest.values()) or _from_rigging(name, context) or _from_drum(name, context)


def _from_drum(name: str, context: Context) -> tuple[SetUpMeasure, ...]:
    """What geometry works out of the drum as rigged; nothing where too little is known of it."""
    known: tuple[SetUpMeasure, ...] | None = context.worked_out.get("drum measures")
    if known is None:
        try:
            drum = hoist_on(context.dossier, context.as_of).drum()
            nominal_mm = float(context.diameter_mm)  # 'd' in a rule is the nominal diameter
            figures = replace(
                drum_figures(drum),
                barrel_ratio=drum.barrel_mm / nominal_mm,
                pitch_ratio=None if drum.pitch_mm is None else drum.pitch_mm / nominal_mm,
            )
            known = measures_of_drum(figures)
        except InputError:
            known = ()
        context.worked_out["drum measures"] = known
    return tuple(one for one in known if one.name == name)


def _from_rigging(name: str, context: Context) -> tuple[SetUpMeasure, ...]:
    rigging = context.dossier.rigging_at(context.as_of)
    if rigging is None:
        return ()
    value = {
        "dead wraps": None if rigging.dead_wraps is None else Fraction(str(rigging.dead_wraps)),
        "drum diameter": rigging.drum_diameter_mm,
        "sheave diameter": rigging.sheave_diameter_mm,
    }.get(name)
    if value is None:
        return ()
    unit = "wraps" if name == "dead wraps" else "mm"
    return (SetUpMeasure(name=name, value=value, unit=unit, on=rigging.valid_from),)


def _how_to_get(check: SetUpCheck) -> str:
    if check.measure in SET_UP_UNITS:
        return f"measure or work out the {check.measure} and state it"
    return f"look, and state it: {check.measure}"


def _origin(measure: SetUpMeasure) -> str:
    day = f" on {measure.on.isoformat()}" if measure.on is not None else ""
    return f"{measure.how}{day}"


def _name(measure: SetUpMeasure) -> str:
    return f"{measure.name}, {measure.which}" if measure.which else measure.name


@dataclass(frozen=True, slots=True)
class _Limits:
    """A limit that may hold, laxest and strictest, and how it was read."""

    laxest: Fraction
    strictest: Fraction
    is_least: bool
    step: Step


def _limits(check: SetUpCheck, context: Context) -> _Limits:
    if check.table is not None:
        return _by_class(check, check.table, context)
    is_least = check.least is not None
    value = (check.least if is_least else check.most) or Fraction(0)
    words = f"{'at least' if is_least else 'at most'} {number(value)} {check.unit}".strip()
    return _Limits(value, value, is_least, Step(says="asked for", value=words))


def _by_class(check: SetUpCheck, table: Table, context: Context) -> _Limits:
    mechanism = context.dossier.installation.mechanism_class
    resistant = context.rope.construction.rotation_resistant
    up = check.rotation_resistant_classes_up
    shifts = {0 if resistant is False else up, up if resistant is not False else 0}
    if resistant is None:
        shifts = {0, up}
    last = len(table.rows) - 1
    rows = [
        table.rows[min(last, number_ + shift)]
        for number_, row in enumerate(table.rows)
        if mechanism is None or row.cells["mechanism"] == mechanism
        for shift in shifts
    ]
    values = [_value(row, check.column) for row in rows]
    known = mechanism or "not known"
    step = Step(
        says="asked for, by mechanism class",
        value=f"at least {number(min(values))} {check.unit}"
        if min(values) == max(values)
        else f"at least {number(min(values))} to {number(max(values))} {check.unit}",
        origin=f"class {known}" + (f", {up} class up" if shifts == {up} and up else ""),
    )
    return _Limits(min(values), max(values), is_least=True, step=step)


def _value(row: Row, column: str) -> Fraction:
    return row.number(column) or Fraction(0)


def _in_unit(measure: SetUpMeasure, value: Fraction, unit: str, context: Context) -> Fraction:
    if measure.unit == unit:
        return value
    d = context.diameter_mm
    return value * d if unit == "mm" else value / d


def _figure(
    clause: Clause, check: SetUpCheck, context: Context, measure: SetUpMeasure, typed: Fraction
) -> None:
    value = _in_unit(measure, typed, check.unit, context)
    limits = _limits(check, context)
    typed_words = f"{number(typed)} {measure.unit}"
    steps = (
        Step(says=_name(measure), value=typed_words, origin=_origin(measure)),
        *(
            (Step(says="in the unit of the rule", value=f"{number(value)} {check.unit}",
                  origin=f"nominal diameter {number(context.diameter_mm)} mm"),)
            if measure.unit != check.unit else ()
        ),
        limits.step,
    )  # fmt: skip
    strict = limits.strictest
    fails_all = value < limits.laxest if limits.is_least else value > limits.laxest
    fails_some = value < strict if limits.is_least else value > strict
    shown = f"{number(value)} {check.unit}".replace(" -", "")
    common: dict[str, object] = {
        "compare": "less than" if limits.is_least else "more than",
        "limit": limits.laxest if fails_all else strict,
        "found": Found(lower=value, upper=value, unit="" if check.unit == "-" else check.unit),
        "steps": steps,
    }
    words = f"{_name(measure)}: {shown}; {limits.step.value} asked for"
    if fails_all:
        context.add(clause, status="reached", words=words, share=Fraction(1), **common)
    elif fails_some:
        context.add(
            clause, status="not assessable", words=words, share=None,
            missing=("mechanism class of this hoist, and whether the rope is rotation-resistant",),
            how_to_get=("read them in the crane's manual and on the rope's certificate",), **common,
        )  # fmt: skip
    else:
        context.add(clause, status="below", words=words, share=Fraction(0), **common)


def _word(
    clause: Clause, check: SetUpCheck, context: Context, measure: SetUpMeasure, said: str
) -> None:
    step = Step(says=_name(measure), value=said, origin=_origin(measure))
    if said in _NOT_FITTED:
        context.add(clause, status="not applicable", words=f"{_name(measure)}: {said}",
                    steps=(step,))  # fmt: skip
        return
    if check.against == "lay hand":
        _lay_hand(clause, context, said, step)
        return
    keeps = said in check.words
    context.add(
        clause, status="below" if keeps else "reached",
        words=f"{_name(measure)}: {said}; asked for: {' or '.join(check.words)}",
        share=Fraction(0 if keeps else 1), steps=(step,),
    )  # fmt: skip


def _lay_hand(clause: Clause, context: Context, drum_hand: str, step: Step) -> None:
    """A right-hand grooved drum takes left-hand lay rope, and the other way round."""
    lay = context.rope.lay_hand
    if lay is None:
        context.add(
            clause, status="not assessable", words=f"drum {drum_hand}-hand, lay of the rope "
            "not known", missing=("lay of the rope: right or left hand",),
            how_to_get=("look at the rope or read its certificate",), steps=(step,),
        )  # fmt: skip
        return
    keeps = lay != drum_hand
    context.add(
        clause, status="below" if keeps else "reached",
        words=f"drum {drum_hand}-hand, rope {lay}-hand lay", share=Fraction(0 if keeps else 1),
        steps=(step, Step(says="lay of the rope", value=lay)),
    )  # fmt: skip
