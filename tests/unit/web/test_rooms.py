"""The pages know no rim room: everything of it comes through the tools."""

import re
from pathlib import Path

import ropewright.web

RIM = re.compile(r"(from|import) ropewright\.(intake|logbook|paper|picture|demo|cli)\b")


def test_pages_import_no_rim_room() -> None:
    folder = Path(ropewright.web.__file__).parent
    found = [
        f"{path.name}: {line}"
        for path in folder.rglob("*.py")
        for line in path.read_text(encoding="utf-8").splitlines()
        if RIM.search(line)
    ]
    assert found == []
