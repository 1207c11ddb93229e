"""One mistake a file, one clear line for it: which file, which field, what is expected and given.

`tests/broken_cases/expected.csv` says for each file which words the line must hold.
"""

import csv
from pathlib import Path

import pytest

from ropewright.errors import InputErrors, RopewrightError
from ropewright.intake import load_case

FOLDER = Path(__file__).parents[2] / "broken_cases"
RULES = ("house-template", "iso-4309-2017", "us-29cfr-1926-1413")


def _rows() -> list[dict[str, str]]:
    with (FOLDER / "expected.csv").open(encoding="utf-8", newline="") as table:
        return list(csv.DictReader(table, strict=True))


ROWS = _rows()


@pytest.mark.parametrize("row", ROWS, ids=[row["file"] for row in ROWS])
def test_one_mistake_gives_one_clear_line(row: dict[str, str]) -> None:
    path = FOLDER / row["file"]
    with pytest.raises(RopewrightError) as caught:
        load_case(path, known_rules=RULES)
    error = caught.value
    text = str(error)
    assert not isinstance(error, InputErrors), f"more than one line:\n{text}"
    assert "\n" not in text
    assert error.exit_code == 2
    assert error.file is not None
    assert Path(error.file).stem == path.stem  # the case file, or the list it names
    assert (error.field or "") == row["field"]
    if row["expected"]:
        assert error.expected is not None
        assert row["expected"] in error.expected + (f"; {error.hint}" if error.hint else "")
        assert error.given is not None, text
    assert row["given"] in text


def test_every_broken_file_is_in_the_table() -> None:
    named = {row["file"] for row in ROWS}
    present = {path.name for path in FOLDER.glob("*.toml")}
    assert present == named
    assert len(named) >= 40
    lists = {path.stem for path in FOLDER.iterdir() if path.suffix in (".csv", ".xlsx")}
    assert lists - {"expected"} <= {path.stem for path in FOLDER.glob("*.toml")}


def test_most_broken_files_hold_all_four_parts() -> None:
    """An error without 'given' is allowed only where nothing was there to give."""
    for row in ROWS:
        with pytest.raises(RopewrightError) as caught:
            load_case(FOLDER / row["file"], known_rules=RULES)
        error = caught.value
        assert error.expected or error.message
        if error.message is None:
            assert error.given is not None, str(error)
