"""Whatever is thrown at the reader, nothing but its own errors comes back."""

import re
from collections.abc import Callable
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ropewright.demo import demo_case
from ropewright.errors import RopewrightError
from ropewright.intake import load_case, read_case, read_findings
from ropewright.intake.lines import LineFinder
from tests.unit.intake.test_findings_list import ROPE

EXAMPLES = Path(__file__).parents[3] / "examples"
GOOD = (
    *tuple(
        (EXAMPLES / f"{name}.toml").read_text(encoding="utf-8")
        for name in ("minimal", "full", "overhead-us-units")
    ),
    demo_case("KQ-1"),
)
CSV = (EXAMPLES / "findings.csv").read_bytes()
XLSX = (EXAMPLES / "findings.xlsx").read_bytes()

WORDS = (
    '""', '"0 mm"', '"-1 m"', '"1e9 m"', '"9999999999999999999999 m"', '"1/0 in"', '"∞ m"',
    "nan", "inf", "-1", "0", "1", "true", "[]", "{}", "[[]]", "1979-05-27", "07:32:00",
    "1979-05-27T07:32:00Z", '"6 d"', '"1 lay"', '"0 d"', "'''", '"\\u0000"', "999999999999999999",
    '[{ }]', '"broken wires"', '"cut"', "0001-01-01", "9999-12-31", '"A"', "[1, 2]",
)  # fmt: skip


def _error_of(read: Callable[[], object]) -> RopewrightError | None:
    """The tool's own error, if reading gives one; any other kind of error goes on up."""
    try:
        read()
    except RopewrightError as error:
        return error
    return None


def _survives(text: str | bytes) -> None:
    error = _error_of(lambda: read_case(text, file="case.toml"))
    if error is not None:
        assert error.exit_code == 2
        assert all(line.isprintable() for line in str(error).splitlines())
        error.as_dict()


@given(st.binary(max_size=400))
def test_bytes(data: bytes) -> None:
    _survives(data)


@given(st.text(max_size=400))
def test_text(text: str) -> None:
    _survives(text)


@given(st.sampled_from(GOOD), st.data())
@settings(max_examples=200)
def test_good_files_with_some_bytes_changed(good: str, data: st.DataObject) -> None:
    changed = bytearray(good.encode())
    for _ in range(data.draw(st.integers(1, 4))):
        place = data.draw(st.integers(0, len(changed) - 1))
        cut = data.draw(st.integers(0, 30))
        changed[place : place + cut] = data.draw(st.binary(max_size=8))
    _survives(bytes(changed))


@given(st.sampled_from(GOOD), st.data())
@settings(max_examples=300)
def test_good_files_with_a_value_exchanged(good: str, data: st.DataObject) -> None:
    values = list(re.finditer(r'(?<== )("[^"\n]*"|[0-9-]+|true|false)', good))
    for _ in range(data.draw(st.integers(1, 2))):
        match = data.draw(st.sampled_from(values))
        word = data.draw(st.sampled_from(WORDS))
        good = good[: match.start()] + word + good[match.end() :]
    _survives(good)


@given(st.sampled_from(GOOD), st.data())
@settings(max_examples=200)
def test_good_files_with_lines_taken_out_or_moved(good: str, data: st.DataObject) -> None:
    lines = good.splitlines()
    for _ in range(data.draw(st.integers(1, 3))):
        line = lines.pop(data.draw(st.integers(0, len(lines) - 1)))
        if data.draw(st.booleans()):
            lines.insert(data.draw(st.integers(0, len(lines))), line)
    _survives("\n".join(lines))


@given(st.text(max_size=300), st.text(max_size=40))
def test_the_line_finder_never_fails(text: str, field: str) -> None:
    line = LineFinder(text).line_of(field)
    assert line is None or 1 <= line <= len(text.splitlines())


@given(st.data())
@settings(max_examples=200)
def test_lists(tmp_path_factory: pytest.TempPathFactory, data: st.DataObject) -> None:
    ending, good = data.draw(st.sampled_from([("csv", CSV), ("xlsx", XLSX)]))
    changed = bytearray(good)
    for _ in range(data.draw(st.integers(0, 4))):
        place = data.draw(st.integers(0, len(changed) - 1))
        cut = data.draw(st.integers(0, 40))
        changed[place : place + cut] = data.draw(st.binary(max_size=8))
    path = tmp_path_factory.getbasetemp() / f"list.{ending}"
    path.write_bytes(bytes(changed))
    error = _error_of(lambda: read_findings(path, ROPE))
    assert error is None or error.exit_code == 2


@pytest.mark.parametrize("name", ["case\0.toml", "x" * 5000, ""])
def test_odd_names_of_files(name: str) -> None:
    with pytest.raises(RopewrightError):
        load_case(name)
