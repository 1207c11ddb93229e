"""Write docs/third-party-licences.md: what is installed with ropewright, and under which licence.

The packages are the runtime dependencies of pyproject.toml and everything those need in turn; the
versions come from requirements.lock, the licences from what each package says of itself. Packages
that only build or test the tool are not listed: they are not handed on.
"""

import re
import sys
import tomllib
from collections.abc import Iterator
from importlib.metadata import PackageMetadata, PackageNotFoundError, distribution
from pathlib import Path

REPO = Path(__file__).resolve().parents[1]
PAGE = REPO / "docs" / "third-party-licences.md"

# Packages that state the licence in older words than an SPDX name.
SPDX = {"MIT License": "MIT", "BSD License": "BSD-3-Clause"}

HEAD = """\
# Third-party licences

Made by `make licences` from `requirements.lock`; do not edit by hand.

These packages are installed with ropewright. The licence text a package brings lies in its own
`dist-info` folder. Two versions of one package are for different versions of Python.

| package | version | licence |
|---|---|---|
"""

TAIL = """
IBM Plex Sans (SIL Open Font License 1.1) is embedded in the PDF reports, which that licence allows.
Packages that only build or test ropewright are pinned in `requirements.lock` too; they are not part
of what is handed on and are not listed.
"""


def canonical(name: str) -> str:
    """Return a package's name in the one spelling used for comparing."""
    return re.sub(r"[-_.]+", "-", name).lower()


def required_name(requirement: str) -> str:
    """Return the name at the head of a requirement such as `numpy>=2.0`."""
    return canonical(re.split(r"[^\w.-]", requirement, maxsplit=1)[0])


def locked_versions() -> dict[str, list[str]]:
    """Return the versions that the lock holds of each package."""
    versions: dict[str, list[str]] = {}
    lock = (REPO / "requirements.lock").read_text(encoding="utf-8")
    for name, version in re.findall(r"^([\w.-]+)==([^\s;\\]+)", lock, flags=re.MULTILINE):
        versions.setdefault(canonical(name), []).append(version)
    return versions


def _needs(name: str) -> Iterator[str]:
    """Yield the names of what a package needs on any system, its extras left out."""
    try:
        requirements = distribution(name).requires or []
    except PackageNotFoundError:
        return  # needed on another system only
    for requirement in requirements:
        if not re.search(r";.*\bextra\b", requirement):
            yield required_name(requirement)


def runtime_packages() -> list[str]:
    """Return the names of all packages that the tool needs to run, sorted."""
    project = tomllib.loads((REPO / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    waiting = [required_name(line) for line in project["dependencies"]]
    found: set[str] = set()
    locked = locked_versions()
    while waiting:
        name = waiting.pop()
        if name not in found and name in locked:
            found.add(name)
            waiting.extend(_needs(name))
    return sorted(found)


def _first(said: PackageMetadata, key: str) -> str:
    return str((said.get_all(key) or [""])[0])


def licence_of(name: str) -> str:
    """Return the licence that an installed package declares.

    Raises
    ------
    SystemExit
        If it is not installed here, or declares no licence that can be read.
    """
    try:
        said = distribution(name).metadata
    except PackageNotFoundError:
        sys.exit(f"{name}: not installed here, so its licence cannot be read")
    classified = [
        line.rpartition(" :: ")[2]
        for line in said.get_all("Classifier") or []
        if line.startswith("License ::")
    ]
    declared = (_first(said, "License-Expression"), _first(said, "License"), *classified)
    licence = next((words for words in declared if words and "\n" not in words), "")
    if not licence or licence == "UNKNOWN":
        sys.exit(f"{name}: declares no licence in its metadata; find it out before using it")
    return SPDX.get(licence, licence)


def page() -> str:
    """Return the whole page as text."""
    versions = locked_versions()
    rows = [
        f"| {name} | {', '.join(versions[name])} | {licence_of(name)} |\n"
        for name in runtime_packages()
    ]
    return HEAD + "".join(rows) + TAIL


if __name__ == "__main__":
    PAGE.write_text(page(), encoding="utf-8")
