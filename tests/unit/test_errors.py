"""Errors say file, field, expected and given on one line, and have one JSON shape."""

import json
import pickle
from datetime import date
from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ropewright import errors
from ropewright.errors import (
    GIVEN_LENGTH,
    CaseFileError,
    HistoryError,
    InputError,
    InputErrors,
    OutputError,
    QuantityError,
    RenderError,
    RopewrightError,
    UnknownNameError,
    raise_if_any,
    show_given,
)

SHAPE = {"error", "message", "file", "field", "expected", "given", "hint", "errors"}


def _tree() -> list[type[RopewrightError]]:
    found: list[type[RopewrightError]] = []
    todo: list[type[RopewrightError]] = [RopewrightError]
    while todo:
        cls = todo.pop()
        found.append(cls)
        todo.extend(cls.__subclasses__())
    return [cls for cls in found if cls.__module__ == "ropewright.errors"]


def _one_of_each() -> list[RopewrightError]:
    plain = InputError(field="rope.diameter", expected="a length", given="20")
    made: list[RopewrightError] = [
        UnknownNameError(what="a colour", given="rad", known=["red"], field="mark.colour"),
        InputErrors([plain, plain]),
    ]
    done = {UnknownNameError, InputErrors}
    made += [
        cls(field="rope.diameter", expected="a length", given="20")
        for cls in _tree()
        if cls not in done
    ]
    return made


def test_message_names_file_field_expected_given_and_hint() -> None:
    error = QuantityError(
        field="diameter", expected='a length with unit such as "20 mm"', given="20", hint="add mm"
    )
    assert str(error.within("rope").with_file("KQ-1.toml")) == (
        'KQ-1.toml: rope.diameter: expected a length with unit such as "20 mm", given "20" (add mm)'
    )


def test_message_alone_is_enough() -> None:
    assert str(OutputError("the folder is read-only", file="out.pdf")) == (
        "out.pdf: the folder is read-only"
    )
    both = HistoryError("cut too long", field="history[0]", expected="at most 3 m", given="5 m")
    assert str(both) == 'history[0]: cut too long; expected at most 3 m, given "5 m"'


def test_an_error_without_any_words_is_refused() -> None:
    with pytest.raises(TypeError):
        InputError(field="rope")
    with pytest.raises(TypeError):
        InputErrors([])


def test_nearer_file_stays() -> None:
    error = InputError("bad row", file="findings.csv")
    assert error.with_file("KQ-1.toml").file == "findings.csv"


@pytest.mark.parametrize(
    ("field", "prefix", "joined"),
    [
        ("count", "finding[2]", "finding[2].count"),
        ("[3].count", "finding", "finding[3].count"),
        (None, "rope", "rope"),
        ("count", "", "count"),
    ],
)
def test_within(field: str | None, prefix: str, joined: str) -> None:
    assert InputError("wrong", field=field).within(prefix).field == joined


def test_copies_leave_the_original_alone_and_keep_the_cause() -> None:
    error = CaseFileError("wrong", field="count")
    error.__cause__ = ValueError("why")
    copy = error.within("finding[0]").with_file("a.toml")
    assert (error.field, error.file) == ("count", None)
    assert type(copy) is CaseFileError
    assert copy.__cause__ is error.__cause__


@pytest.mark.parametrize(
    ("value", "shown"),
    [
        ("20", '"20"'),
        (20, "20"),
        (20.5, "20.5"),
        (None, "nothing"),
        (False, "false"),
        (Fraction(1, 3), "1/3"),
        (date(2026, 3, 1), "2026-03-01"),
        ([1, "a", None], '[1, "a", nothing]'),
        ({"a": [1]}, '{"a" = [1]}'),
        ([[[[1]]]], "[[[…]]]"),
        ('say "hi"\n', '"say \\"hi\\"\\n"'),
        ("\u202e\x1b[2J\u2028", '"\\u202e\\x1b[2J\\u2028"'),
        pytest.param(10**5000, "a value of type int that cannot be shown", id="huge"),
    ],
)
def test_show_given(value: object, shown: str) -> None:
    assert show_given(value) == shown


@given(st.text(max_size=400) | st.binary(max_size=300) | st.lists(st.text(), max_size=30))
def test_shown_text_is_one_printable_line_of_bounded_length(value: object) -> None:
    shown = show_given(value)
    assert len(shown) <= GIVEN_LENGTH
    assert shown.isprintable()


@given(st.text(max_size=80), st.text(max_size=80))
def test_no_text_from_outside_breaks_the_line(file: str, field: str) -> None:
    assert str(InputError("wrong", field=field, file=file, given=field)).isprintable()


@pytest.mark.parametrize("error", _one_of_each(), ids=lambda error: type(error).__name__)
class TestEveryError:
    def test_json_shape(self, error: RopewrightError) -> None:
        shape = json.loads(json.dumps(error.with_file("a.toml").as_dict()))
        assert set(shape) == SHAPE
        assert shape["error"] == error.kind
        for part in shape["errors"]:
            assert set(part) == SHAPE

    def test_survives_pickling(self, error: RopewrightError) -> None:
        copy = pickle.loads(pickle.dumps(error))
        assert (type(copy), str(copy)) == (type(error), str(error))
        assert copy.as_dict() == error.as_dict()

    def test_exit_code_is_not_a_verdict(self, error: RopewrightError) -> None:
        codes = {True: 2, False: 4}
        assert error.exit_code == codes[isinstance(error, InputError)]
        assert 400 <= error.http_status <= 599

    def test_stands_in_the_printed_tree(self, error: RopewrightError) -> None:
        (line,) = [
            line.split()
            for line in (errors.__doc__ or "").splitlines()
            if type(error).__name__ in line.split()
        ]
        assert line[-3:] == [str(error.exit_code), str(error.http_status), error.kind] or (
            type(error) is RopewrightError
        )


def test_kinds_are_unique() -> None:
    kinds = [cls.kind for cls in _tree()]
    assert len(kinds) == len(set(kinds))


def test_bundle_prints_one_line_each_and_unpacks_bundles() -> None:
    one = InputError("first", field="a")
    two = InputErrors([InputError("second", field="b"), one])
    bundle = InputErrors([one, two]).within("rope").with_file("c.toml")
    assert str(bundle).splitlines() == [
        "c.toml: rope.a: first",
        "c.toml: rope.b: second",
        "c.toml: rope.a: first",
    ]
    shape = bundle.as_dict()
    assert shape["message"] == "3 problems"
    assert [part["field"] for part in shape["errors"]] == ["rope.a", "rope.b", "rope.a"]


def test_raise_if_any() -> None:
    one = InputError("first")
    raise_if_any([])
    with pytest.raises(InputError) as single:
        raise_if_any([one])
    assert single.value is one
    with pytest.raises(InputErrors):
        raise_if_any(iter([one, one]))


def test_unknown_name_lists_near_ones() -> None:
    error = UnknownNameError(
        what="a listed construction", given="6X36ws ", known=["8x7", "6x36WS", "6x31WS"]
    )
    assert error.near[0] == "6x36WS"
    assert error.http_status == 404
    assert '"6x36WS"' in str(error)


@pytest.mark.parametrize(
    ("known", "words"),
    [
        (["red", "blue"], 'a colour, one of "red", "blue"'),
        ([str(number) for number in range(20)], "20 are known, none is near"),
        ([], "0 are known, none is near"),
    ],
)
def test_unknown_name_without_near_ones(known: list[str], words: str) -> None:
    assert words in str(UnknownNameError(what="a colour", given="zzzz", known=known))


@given(st.one_of(st.text(), st.none(), st.integers(), st.lists(st.integers())))
def test_unknown_name_takes_anything(name: Any) -> None:
    assert str(UnknownNameError(what="a name", given=name, known=["6x7"])).isprintable()


def test_render_error_is_no_input_error() -> None:
    assert not issubclass(RenderError, InputError)
