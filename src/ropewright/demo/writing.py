"""Small pieces of case-file text, as a person would type them."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Final

from ropewright.demo.people import PEOPLE

_WIDE: Final = 94


def text(value: str) -> str:
    """A text in quotes."""
    escaped = value.replace("\\", "\\\\").replace('"', '\\"')
    return f'"{escaped}"'


def metres(place_m: float, *, digits: int = 1) -> str:
    """A place or length ``place_m`` [m] in quotes, with its unit."""
    return f'"{place_m:.{digits}f} m"'


def millimetres(length_mm: float, *, digits: int = 0) -> str:
    """A length ``length_mm`` [mm] in quotes, with its unit."""
    return f'"{length_mm:.{digits}f} mm"'


def words(values: Iterable[str]) -> str:
    """A list of texts, broken into lines where it is long."""
    quoted = [text(value) for value in values]
    line = f"[{', '.join(quoted)}]"
    if len(line) <= _WIDE - 12:
        return line
    rows = [""]
    for one in quoted:
        longer = f"{rows[-1]} {one}," if rows[-1] else f"    {one},"
        if len(longer) > _WIDE:
            rows.append(f"    {one},")
        else:
            rows[-1] = longer
    return "\n".join(["[", *rows, "]"])


def person(word: str) -> str:
    """The table of a person of an inspection."""
    one = PEOPLE[word]
    lines = [
        "[[inspection.person]]",
        f"role = {text(one.role)}",
        f"qualification = {text(one.qualification)}",
        f"competence = {text(one.competence)}",
        f"certificate = {text(one.certificate)}",
        f"certificate_expires = {one.expires.isoformat()}",
        f"employer = {text(one.employer)}",
        f"independent = {str(one.independent).lower()}",
    ]
    return "\n".join(lines)


@dataclass(frozen=True, slots=True, kw_only=True)
class Run:
    """Rope run past a person: ``from_m`` [m] to ``to_m`` [m] of rope position by one method.

    ``hook_m`` [m] is the hook height at the start and at the end; ``by_path`` says that the two
    places count along the path of the day.
    """

    method: str
    from_m: float
    to_m: float
    point: str = ""
    hook_m: tuple[float, float] | None = None
    remark: str = ""
    by_path: bool = False

    def table(self) -> str:
        """The table of this pass."""
        way = "_path" if self.by_path else ""
        lines = [
            "[[inspection.pass]]",
            f"method = {text(self.method)}",
            f"from{way} = {metres(self.from_m)}",
            f"to{way} = {metres(self.to_m)}",
        ]
        if self.point:
            lines.append(f"point = {text(self.point)}")
        if self.hook_m is not None:
            lines.append(f"hook_from = {metres(self.hook_m[0])}")
            lines.append(f"hook_to = {metres(self.hook_m[1])}")
            lines.append('rope_speed = "0.25 m/s"')
        if self.remark:
            lines.append(f"remark = {text(self.remark)}")
        return "\n".join(lines)


def both(run: Run) -> tuple[Run, Run]:
    """The same run by eye all round and by hand."""
    other = Run(
        method="feel",
        from_m=run.from_m,
        to_m=run.to_m,
        point=run.point,
        hook_m=None if run.hook_m is None else (run.hook_m[1], run.hook_m[0]),
        remark=run.remark,
        by_path=run.by_path,
    )
    return run, other


def inspection(
    *,
    name: str,
    kind: str,
    on: date,
    by: Sequence[str],
    runs: Sequence[Run],
    seen: Sequence[str],
    not_seen: Sequence[str] = (),
    not_fitted: Sequence[str] = (),
    next_by: date | None = None,
    after_event: str = "",
    remark: str = "",
    conditions: Sequence[str] = (),
) -> str:
    """The tables of an inspection up to its passes; findings follow.

    Parameters
    ----------
    name, kind, on, next_by, after_event, remark
        As in the case file.
    by
        Who took part, by the words of `PEOPLE`; the first one signs.
    runs
        The passes.
    seen, not_seen, not_fitted
        Places and parts.
    conditions
        Lines of the table of conditions.
    """
    lines = ["[[inspection]]", f"id = {text(name)}", f"kind = {text(kind)}"]
    lines.append(f"on = {on.isoformat()}")
    if next_by is not None:
        lines.append(f"next_by = {next_by.isoformat()}")
    if after_event:
        lines.append(f"after_event = {text(after_event)}")
    lines.append(f"signed_by = {text(PEOPLE[by[0]].role)}")
    if remark:
        lines.append(f"remark = {text(remark)}")
    for key, values in (("seen", seen), ("not_seen", not_seen), ("not_fitted", not_fitted)):
        if values:
            lines.append(f"{key} = {words(values)}")
    parts = ["\n".join(lines)]
    if conditions:
        parts.append("\n".join(["[inspection.conditions]", *conditions]))
    parts += [person(word) for word in by]
    parts += [run.table() for run in runs]
    return "\n\n".join(parts)


def hidden(from_m: float, to_m: float, cause: str) -> str:
    """A section of rope, ``from_m`` [m] to ``to_m`` [m], whose wires could not be seen."""
    return "\n".join(
        [
            "[[inspection.hidden]]",
            f"from = {metres(from_m)}",
            f"to = {metres(to_m)}",
            f"cause = {text(cause)}",
        ]
    )


def finding(kind: str, name: str, lines: Sequence[str]) -> str:
    """A finding with its own lines."""
    return "\n".join(
        ["[[inspection.finding]]", f"id = {text(name)}", f"kind = {text(kind)}", *lines]
    )


def diameter(
    name: str,
    at: str,
    readings_mm: Sequence[float],
    *,
    err: str = "± 1.0 m",
    remark: str = "",
) -> str:
    """A diameter with one or two ``readings_mm`` [mm] at a place, given as its whole line."""
    read = ", ".join(millimetres(one, digits=2) for one in readings_mm)
    lines = [
        at,
        f"at_err = {text(err)}",
        'method = "gauge"',
        'instrument = "caliper 2"',
        'tension = "empty hook"',
        f"readings = [{read}]",
    ]
    if remark:
        lines.append(f"remark = {text(remark)}")
    return finding("diameter", name, lines)


CALIPER: Final = """[[inspection.instrument]]
name = "caliper 2"
kind = "wide-jaw caliper"
resolution = "0.05 mm"
calibrated_on = 2026-06-02
calibration_due = 2027-06-02"""


def together(*parts: str) -> str:
    """Tables one after the other, with an empty line between them."""
    return "\n\n".join(part for part in parts if part)
