"""The list of third-party licences is complete and up to date with requirements.lock."""

import re
import tomllib
from pathlib import Path

from scripts import third_party_licences

REPO = Path(__file__).parents[1]


def _rows() -> dict[str, tuple[str, str]]:
    page = (REPO / "docs" / "third-party-licences.md").read_text(encoding="utf-8")
    rows = re.findall(r"^\| (\S+) \| ([^|]+) \| ([^|]+) \|$", page, flags=re.MULTILINE)
    return {name: (version, licence) for name, version, licence in rows if name != "package"}


def _declared(group: str | None = None) -> set[str]:
    project = tomllib.loads((REPO / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    lines = project["optional-dependencies"][group] if group else project["dependencies"]
    return set(map(third_party_licences.required_name, lines))


def test_page_is_up_to_date() -> None:
    page = third_party_licences.PAGE.read_text(encoding="utf-8")
    assert page == third_party_licences.page(), "out of date: run `make licences`"


def test_every_runtime_dependency_is_listed_with_its_locked_version() -> None:
    locked = third_party_licences.locked_versions()
    rows = _rows()
    assert _declared() <= set(rows)
    for name, (version, licence) in rows.items():
        assert version == ", ".join(locked[name])
        assert licence.strip()


def test_lock_holds_every_declared_package() -> None:
    missing = (_declared() | _declared("dev")) - set(third_party_licences.locked_versions())
    assert not missing, f"not in requirements.lock (run `make lock`): {sorted(missing)}"


def test_lock_is_hashed_and_names_no_address() -> None:
    lock = (REPO / "requirements.lock").read_text(encoding="utf-8")
    assert "://" not in lock
    assert not re.search(r"^(-|ropewright)", lock, flags=re.MULTILINE)
    pins = [entry for entry in re.split(r"\n(?=\w)", lock) if re.match(r"[\w.-]+==", entry)]
    assert len(pins) == sum(map(len, third_party_licences.locked_versions().values()))
    bare = [pin.partition(" ")[0] for pin in pins if "--hash=sha256:" not in pin]
    assert not bare, f"no hash: {bare}"
