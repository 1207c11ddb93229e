"""Places and sections of a case file, made rope positions through the rope's history."""

from dataclasses import dataclass, field
from datetime import date
from fractions import Fraction
from typing import Final, Self

from ropewright.errors import CaseFileError, InputError, InputErrors
from ropewright.geometry import RopePlace, Section
from ropewright.intake.models import PlaceModel, SectionModel
from ropewright.intake.wording import as_case_error, not_both
from ropewright.rope import PathMap, RopeHistory
from ropewright.units import metres, show_place_m

#: Names that the core uses, and the keys of a case file that they come from.
_KEYS: Final = {
    "abs_err_m": "at_err",
    "rel_err_m": "between_err",
    "place": "at",
    "section": "from",
    "nominal_diameter_mm": "diameter",
    "length_m": "length",
    "lay_length_mm": "lay_length",
    "grade_n_per_mm2": "grade",
    "minimum_breaking_force_kn": "breaking_force",
    "mass_kg_per_m": "mass",
    "metallic_area_mm2": "metallic_area",
    "given_rcn": "rcn",
    "from_mm": "from",
    "to_mm": "to",
}
_TOUCH_M: Final = 1e-9


@dataclass(slots=True)
class Findings:
    """What is wrong and what is doubtful, collected while a case file is put together.

    ``loose`` holds complaints about names that nothing in the file has: they are kept apart
    because a table with another error is left out, and its name with it.
    """

    errors: list[InputError] = field(default_factory=list)
    loose: list[InputError] = field(default_factory=list)
    warnings: list[str] = field(default_factory=list)

    def at(self, where: str) -> "_Collecting":
        """Collect an input error raised inside, naming the field it is about."""
        return _Collecting(self, where)

    def wrong(self, where: str, *, expected: str, given: object, hint: str | None = None) -> None:
        """Note that a field holds something else than expected."""
        self.errors.append(CaseFileError(field=where, expected=expected, given=given, hint=hint))

    def unknown(self, where: str, *, expected: str, given: object) -> None:
        """Note that a field names what is not there."""
        self.loose.append(CaseFileError(field=where, expected=expected, given=given))

    def doubt(self, where: str, words: str) -> None:
        """Note what a person should look at again; nothing is refused."""
        self.warnings.append(f"{where}: {words}")


@dataclass(frozen=True, slots=True)
class _Collecting:
    """A block of code whose input errors are noted instead of raised."""

    found: Findings
    where: str

    def __enter__(self) -> None:
        """Begin."""

    def __exit__(self, kind: object, error: BaseException | None, trace: object) -> bool:
        """Note an input error; anything else goes on up."""
        if not isinstance(error, InputError):
            return False
        for one in error.errors if isinstance(error, InputErrors) else (error,):
            self.found.errors.append(_in_words_of_the_file(one).within(self.where))
        return True


def _in_words_of_the_file(error: InputError) -> CaseFileError:
    """The same complaint as a case file error, with the key the user wrote."""
    head, dot, rest = (error.field or "").partition(".")
    return as_case_error(error, (_KEYS.get(head, head) + dot + rest) or None)


@dataclass(frozen=True, slots=True)
class Ground:
    """The rope as it was on one day: what of it is there, and how paths map to it."""

    on: date
    path: PathMap

    @classmethod
    def of(cls, history: RopeHistory, on: date, *, before_changes: bool = False) -> Self:
        """The rope on a day, after the cuts and turns of that day unless said otherwise."""
        return cls(on, history.at(on, start_of_day=before_changes))

    @property
    def whole(self) -> Section:
        """The rope that is left on that day, in rope position."""
        return Section(*self.path.in_service)

    def rope_m(self, at_mm: Fraction, *, key: str) -> float:
        """The place ``at_mm`` [mm] as a rope position [m] on the rope that is left, or an error."""
        at_m, whole = metres(at_mm), self.whole
        if self.path.is_in_service(at_m):
            return min(max(at_m, whole.from_m), whole.to_m)
        shown = f"{show_place_m(whole.from_m)} to {show_place_m(whole.to_m)}"
        raise CaseFileError(
            field=key,
            expected=f"a place on the rope that was left on {self.on.isoformat()}: {shown}",
            given=show_place_m(at_m),
        )

    def path_to_rope_m(self, at_mm: Fraction, *, key: str) -> float:
        """The path position ``at_mm`` [mm] of that day as a rope position [m], or an error."""
        at_m, length_m = metres(at_mm), self.path.length_m
        if at_m > length_m + _TOUCH_M:
            raise CaseFileError(
                field=key,
                expected=f"a place on the path of {self.on.isoformat()}: "
                f"0.00 m to {show_place_m(length_m)}",
                given=show_place_m(at_m),
            )
        return self.path.to_rope_m(min(at_m, length_m))

    def place(self, model: PlaceModel) -> RopePlace:
        """The place that a table states with ``at`` or ``at_path``.

        Raises
        ------
        CaseFileError
            If it states none, both, or one that is not on the rope.
        """
        if model.at is not None and model.at_path is not None:
            raise not_both("at", "at_path")
        if model.at is not None:
            at_m = self.rope_m(model.at, key="at")
        elif model.at_path is not None:
            at_m = self.path_to_rope_m(model.at_path, key="at_path")
        else:
            raise CaseFileError(
                field="at",
                expected='a place: at = "23.4 m" from end A as first installed, '
                "or at_path for the path of that day",
                given=None,
            )
        return RopePlace(
            at_m=at_m,
            abs_err_m=0.0 if model.at_err is None else metres(model.at_err),
            rel_err_m=0.0 if model.between_err is None else metres(model.between_err),
        )

    def section(self, model: SectionModel) -> Section:
        """The section that a table states with ``from`` and ``to``, or as the whole rope.

        Raises
        ------
        CaseFileError
            If it is half stated, stated twice, the wrong way round, or not on the rope.
        """
        ways = _ways(model)
        if not ways:
            raise CaseFileError(
                field="from",
                expected='a section: from = "0 m" and to = "400 m", or whole = true',
                given=None,
            )
        if len(ways) > 1:
            raise CaseFileError(
                field=ways[1], expected=f"one way to say where, as {ways[0]} is there", given=ways
            )
        if ways[0] == "whole":
            return self.whole
        if ways[0] == "from_path":
            ends = _both(model.from_path, model.to_path, "from_path", "to_path")
            places = [
                self.path_to_rope_m(ends[0], key="from_path"),
                self.path_to_rope_m(ends[1], key="to_path"),
            ]
            return Section(min(places), max(places))
        ends = _both(model.from_, model.to, "from", "to")
        return Section(self.rope_m(ends[0], key="from"), self.rope_m(ends[1], key="to"))


def says_a_section(model: SectionModel) -> bool:
    """Whether a table says anything of a section."""
    return bool(_ways(model))


def _ways(model: SectionModel) -> list[str]:
    ways = []
    if model.whole:
        ways.append("whole")
    if model.from_ is not None or model.to is not None:
        ways.append("from")
    if model.from_path is not None or model.to_path is not None:
        ways.append("from_path")
    return ways


def only_one_end(key: str, other: str) -> CaseFileError:
    """The error for a section of which one end is missing."""
    return CaseFileError(
        field=key, expected=f'the key "{key}" as well, as "{other}" is there', given=None
    )


def _both(
    start: Fraction | None, end: Fraction | None, start_key: str, end_key: str
) -> tuple[Fraction, Fraction]:
    """Both ends of a section, the second not before the first."""
    if start is None or end is None:
        key, other = (start_key, end_key) if start is None else (end_key, start_key)
        raise only_one_end(key, other)
    if end < start:
        raise CaseFileError(
            field=end_key,
            expected=f"a place at or beyond {start_key}, {show_place_m(metres(start))}",
            given=show_place_m(metres(end)),
        )
    return start, end
