"""Docstrings are held to the code: everything public is explained, every number has its unit.

A unit stands in square brackets, `[mm]` or `[-]`, in the entry of the parameter, in `Returns`, or
right behind a name in the text. A field of a dataclass may carry its unit in its name instead
(`rope_m`). A published formula names its source and how far the figures were seen.
"""

import dataclasses
import importlib
import inspect
import pkgutil
import re
import typing
from collections.abc import Callable, Iterator
from decimal import Decimal
from fractions import Fraction
from types import FunctionType, ModuleType
from typing import Any, NamedTuple

import numpy as np
import numpy.typing as npt
import pytest

import ropewright

# A unit is made of these, with / or · between and an exponent behind: kN, N/mm², 1/m, mm/year.
UNIT_ATOMS = frozenset(
    "1 % ‰ ° deg rad mm cm m km in ft g kg t N kN MN Pa kPa MPa GPa lbf kip J kJ W kW "
    "s ms min h d day days week weeks month months year years a Hz rpm °C K "
    "turns wraps bends cycles bytes".split()
)
# A field of a dataclass may end in one of these and needs no further word.
UNIT_ENDINGS = re.compile(
    r"(^|_)(mm2?|cm|km|m2?|kg|kg_per_m|t|kn|mn|n|mpa|gpa|n_per_mm2|deg|rad|s|ms|h|days?|"
    r"weeks|months|years|percent|m_per_s|per_m)$"
)
PROVENANCE = frozenset({"text", "second-hand", "derived", "reconstructed", "memory", "own"})
BRACKET = re.compile(r"\[([^\[\]\n]{1,24})\]")


class Subject(NamedTuple):
    """A public function, method, property or class, and where it stands."""

    where: str
    code: Any

    @property
    def text(self) -> str:
        doc = inspect.cleandoc(self.code.__doc__ or "")
        # Python gives a dataclass without docstring its signature for one.
        made_up = isinstance(self.code, type) and doc.startswith(f"{self.code.__name__}(")
        return "" if made_up else doc


# --- Finding what is public -------------------------------------------------------------------


def _modules() -> list[ModuleType]:
    found = pkgutil.walk_packages(ropewright.__path__, "ropewright.")
    names = sorted(info.name for info in found if not info.name.endswith("__main__"))
    return [ropewright, *map(importlib.import_module, names)]


def _members(cls: type) -> Iterator[tuple[str, Any]]:
    """Yield the public methods and properties that a class got from our own code."""
    for base in cls.__mro__:
        if not base.__module__.startswith(("ropewright", __name__)):
            continue
        for name, member in vars(base).items():
            if name.startswith("_"):
                continue
            if isinstance(member, staticmethod | classmethod):
                member = member.__func__
            if isinstance(member, FunctionType | property):
                yield f"{base.__module__}.{base.__qualname__}.{name}", member


def _public_in(module: ModuleType) -> Iterator[tuple[str, Any]]:
    exported = getattr(module, "__all__", [])
    for name, value in vars(module).items():
        if isinstance(value, type):
            plain = value
        elif callable(value):
            plain = inspect.unwrap(value)
        else:
            continue
        home = getattr(plain, "__module__", "") or ""
        here = home == module.__name__ and not name.startswith("_")
        if (here or name in exported) and home.startswith("ropewright"):
            yield f"{home}.{plain.__qualname__}", plain


def _subjects() -> list[Subject]:
    found: dict[str, Any] = {}
    for module in _modules():
        for where, code in _public_in(module):
            if isinstance(code, FunctionType):
                found[where] = code
            elif isinstance(code, type):
                found[where] = code
                found.update(_members(code))
    return [Subject(where, found[where]) for where in sorted(found)]


# --- Reading annotations and docstrings -------------------------------------------------------


def _holds_numbers(hint: Any) -> bool:
    """Tell whether a value of this type is, or contains, a number that needs a unit."""
    origin, parts = typing.get_origin(hint), typing.get_args(hint)
    if origin is typing.Literal:
        return False
    if hint is np.ndarray:
        return True
    if origin is np.ndarray:
        kind = typing.get_args(parts[-1])
        return not kind or kind[0] is Any or _holds_numbers(kind[0])
    if isinstance(hint, typing.NewType):
        return _holds_numbers(hint.__supertype__)
    if isinstance(hint, typing.TypeVar):
        return any(map(_holds_numbers, (hint.__bound__, *hint.__constraints__)))
    if isinstance(hint, list):  # the arguments of a Callable
        return any(map(_holds_numbers, hint))
    if parts:
        return any(map(_holds_numbers, parts))
    numbers = (float, complex, Fraction, Decimal, np.floating)
    return isinstance(hint, type) and issubclass(hint, numbers)


def _is_unit(text: str) -> bool:
    if text.strip() == "-":
        return True
    atoms = [re.sub(r"(\^?-?[2-4]|[²³⁴])$", "", atom.strip()) for atom in re.split(r"[/·*]", text)]
    return all(atom in UNIT_ATOMS for atom in atoms)


def _has_unit(text: str) -> bool:
    return any(_is_unit(found) for found in BRACKET.findall(text))


def _entry(doc: str, name: str) -> str | None:
    """Return the entry of a parameter: its line and the deeper lines that follow."""
    head = re.compile(
        rf"^(?P<indent> *)[`*]*(\w+[`*]*, [`*]*)*{re.escape(name)}[`*]*(, [`*]*\w+[`*]*)*"
        rf"(?P<rest>\s*(:| -|\[).*)?$"
    )
    lines = doc.splitlines()
    for number, line in enumerate(lines):
        if match := head.match(line):
            block = [line]
            for later in lines[number + 1 :]:
                depth = len(later) - len(later.lstrip())
                if later.strip() and depth <= len(match["indent"]):
                    break
                block.append(later)
            return "\n".join(block)
    return None


def _section(doc: str, *titles: str) -> str:
    """Return a section's text: from its underlined title to the next underlined title."""
    blocks = re.split(r"^(?P<title>[A-Z][A-Za-z ]+)\n-{3,}\n", doc, flags=re.MULTILINE)
    return "\n".join(
        body for title, body in zip(blocks[1::2], blocks[2::2], strict=True) if title in titles
    )


def _unit_is_given(doc: str, name: str) -> bool:
    in_text = re.search(rf"\b{re.escape(name)}`*\s*(\[[^\[\]\n]+\])", doc)
    return _has_unit(_entry(doc, name) or "") or bool(in_text and _has_unit(in_text[1]))


def _result_has_unit(doc: str) -> bool:
    summary = doc.partition("\n\n")[0]
    spoken = "\n".join(re.findall(r"^(?:Returns?|Gives?|Yields?)\b.*$", doc, flags=re.MULTILINE))
    return any(map(_has_unit, (_section(doc, "Returns", "Yields"), summary, spoken)))


# --- The checks -------------------------------------------------------------------------------


def _types_of(code: Any) -> dict[str, Any]:
    """Return what annotations say; a type that is only imported for checking counts as any."""
    late: dict[str, Any] = {}
    while True:
        try:
            return typing.get_type_hints(code, localns=late)
        except NameError as missing:
            if missing.name is None or missing.name in late:
                raise
            late[missing.name] = Any


def _hints(code: Callable[..., Any] | type) -> dict[str, Any]:
    """Return the types of a function's parameters and result, or of a dataclass's fields."""
    if not isinstance(code, type):
        return _types_of(code)
    if dataclasses.is_dataclass(code):
        fields = {field.name for field in dataclasses.fields(code) if field.init}
        hints = _types_of(code)
        return {name: hint for name, hint in hints.items() if name in fields}
    made_by = vars(code).get("__init__")
    return _types_of(made_by) if isinstance(made_by, FunctionType) else {}


def _missing_units(subject: Subject) -> Iterator[str]:
    code, doc = subject.code, subject.text
    if isinstance(code, property):
        result = _types_of(code.fget).get("return")
        if _holds_numbers(result) and not _has_unit(doc):
            yield f"{subject.where}: the property gives a number without [unit]"
        return
    for name, hint in _hints(code).items():
        if name.startswith("_") or not _holds_numbers(hint):
            continue
        if name == "return":
            if not _result_has_unit(doc):
                yield f"{subject.where}: the result has no [unit] in Returns"
        elif not (isinstance(code, type) and UNIT_ENDINGS.search(name)) and not _unit_is_given(
            doc, name
        ):
            yield f"{subject.where}: '{name}' has no [unit]"


def _strange_entries(subject: Subject) -> Iterator[str]:
    """Yield names explained under Parameters that the signature does not have."""
    if isinstance(subject.code, property):
        return
    section = _section(subject.text, "Parameters")
    entries = re.findall(r"^(\*{0,2}\w+(?:, *\*{0,2}\w+)*)(?: *:.*)?$", section, flags=re.MULTILINE)
    known = set(inspect.signature(subject.code).parameters) if entries else set()
    for name in re.findall(r"\w+", " ".join(entries)):
        if name not in known:
            yield f"{subject.where}: explains '{name}', which is not a parameter"


def _missing_source(subject: Subject) -> Iterator[str]:
    doc = subject.text
    if not re.search(r"^ *Source: *\S", doc, flags=re.MULTILINE):
        yield f"{subject.where}: no 'Source:' line (title, edition, clause)"
    said = re.search(r"^ *Provenance: *([\w-]+)", doc, flags=re.MULTILINE)
    if not said or said[1] not in PROVENANCE:
        yield f"{subject.where}: no 'Provenance:' line beginning with one of {sorted(PROVENANCE)}"


def test_everything_public_has_a_docstring() -> None:
    silent = [f"{subject.where}: no docstring" for subject in _subjects() if not subject.text]
    assert not silent, "\n" + "\n".join(silent)


def test_every_number_has_a_unit() -> None:
    bare = [problem for subject in _subjects() for problem in _missing_units(subject)]
    assert not bare, (
        "\nWrite the unit in square brackets, [-] if there is none; a unit not known here is added "
        "to UNIT_ATOMS:\n" + "\n".join(bare)
    )


def test_only_real_parameters_are_explained() -> None:
    strange = [problem for subject in _subjects() for problem in _strange_entries(subject)]
    assert not strange, "\n" + "\n".join(strange)


def test_published_formulas_name_their_source() -> None:
    formulas = [
        subject
        for subject in _subjects()
        if subject.where.startswith("ropewright.formulas")
        and isinstance(subject.code, FunctionType)
    ]
    unsourced = [problem for subject in formulas for problem in _missing_source(subject)]
    assert not unsourced, "\n" + "\n".join(unsourced)


# --- The checks themselves are checked --------------------------------------------------------


def _good(length: float, turns: int, *, gap: Fraction | None = None) -> float:
    """Share of a length.

    Parameters
    ----------
    length
        Length of the window [m].
    turns
        How often.
    gap
        Gap under the straight-edge [mm], or none.

    Returns
    -------
    float
        The share [-].
    """
    return length * turns + float(gap or 0)


def _two_in_one_entry(width: float, height: float) -> None:
    """Take two at once.

    Parameters
    ----------
    width, height : float
        Sides of the part [mm].
    """


def _in_the_text(length: float) -> None:
    """Take the ``length`` [m] as it is."""


def _bare_parameter(length: float) -> None:
    """Take a length.

    Parameters
    ----------
    length
        Length of the window.
    """


def _unknown_unit(length: float) -> None:
    """Take a length.

    Parameters
    ----------
    length
        Length of the window [cubits].
    """


def _bare_result(turns: int) -> tuple[int, float]:
    """Give something.

    Returns
    -------
    tuple of int and float
        Without a unit.
    """
    return turns, 1.0


def _bare_array(values: npt.NDArray[np.float64]) -> None:
    """Take an array."""


def _counts(values: npt.NDArray[np.int64], word: typing.Literal["a"]) -> None:
    """Take an array of counts, which need no unit."""


@dataclasses.dataclass(frozen=True)
class _Reading:
    """A reading."""

    rope_m: float
    share: Fraction

    @property
    def error(self) -> float:
        """The error of it."""
        return self.rope_m


def test_a_class_without_docstring_is_caught() -> None:
    @dataclasses.dataclass(frozen=True)
    class Silent:
        rope_m: float

    assert not Subject("here", Silent).text


@pytest.mark.parametrize("code", [_good, _two_in_one_entry, _in_the_text, _counts])
def test_a_complete_docstring_passes(code: Any) -> None:
    subject = Subject("here", code)
    assert not [*_missing_units(subject), *_strange_entries(subject)]


@pytest.mark.parametrize(
    ("code", "words"),
    [
        (_bare_parameter, "'length' has no [unit]"),
        (_unknown_unit, "'length' has no [unit]"),
        (_bare_result, "the result has no [unit]"),
        (_bare_array, "'values' has no [unit]"),
        (_Reading, "'share' has no [unit]"),
        (_Reading.error, "the property gives a number without [unit]"),
    ],
)
def test_a_missing_unit_is_caught(code: Any, words: str) -> None:
    (problem,) = _missing_units(Subject("here", code))
    assert words in problem


def test_a_stale_parameter_is_caught() -> None:
    def renamed(gap_mm: float) -> None: ...

    renamed.__doc__ = _bare_parameter.__doc__
    assert list(_strange_entries(Subject("here", renamed)))


def test_a_formula_without_source_is_caught() -> None:
    assert len(list(_missing_source(Subject("here", _good)))) == 2
