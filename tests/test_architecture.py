"""The shape of the house: import rings, pure decisions, small modules.

The rings themselves are written down in pyproject.toml under `tool.importlinter`. Here they are
run on the real code, and then on copies in which one import has been broken on purpose: a fence
nobody has leaned on is not known to hold.
"""

import ast
import re
import shutil
import subprocess
import sys
import tomllib
from collections.abc import Iterator
from importlib.metadata import packages_distributions
from pathlib import Path

import pytest

REPO = Path(__file__).parents[1]
SRC = REPO / "src" / "ropewright"
MAX_LINES = 400

RINGS = ("formulas", "rope", "geometry", "inspection")
DECISIONS = ("rules", "forecast", "wear", "matching", "plan", "card")
RIM = ("intake", "logbook", "paper", "picture", "demo", "fleet")
FACES = ("cli", "web")
ROOMS = (*RINGS, *DECISIONS, "desk", *RIM, *FACES)
PURE = (*RINGS, *DECISIONS)


# --- Import rings -----------------------------------------------------------------------------


def _lint_imports(src: Path) -> tuple[int, str]:
    """Run the contracts of pyproject.toml over the package that lies in `src`."""
    command = [
        sys.executable,
        "-c",
        "from importlinter.cli import lint_imports_command; lint_imports_command()",
        *("--config", str(REPO / "pyproject.toml"), "--no-cache"),
    ]
    done = subprocess.run(
        command, cwd=src, capture_output=True, text=True, check=False, timeout=120
    )
    return done.returncode, done.stdout + done.stderr


@pytest.fixture
def copy_of_src(tmp_path: Path) -> Path:
    """Return a copy of the package in which every room exists, if only as an empty one."""
    src = tmp_path / "src"
    package = src / "ropewright"
    shutil.copytree(SRC, package, ignore=shutil.ignore_patterns("__pycache__"))
    for room in ROOMS:
        (package / room).mkdir(exist_ok=True)
        (package / room / "__init__.py").touch()
    (package / "wiring.py").touch()
    return src


def _plant(src: Path, place: str, statement: str) -> None:
    """Add an import to a module (`wiring`) or, as a new module, to a room (`rules`)."""
    module = src / "ropewright" / f"{place}.py"
    if module.exists():
        old = module.read_text(encoding="utf-8")
        module.write_text(f"{old}\n{statement}\n", encoding="utf-8")
    else:
        planted = src / "ropewright" / place / "planted_break.py"
        planted.write_text(f"{statement}\n", encoding="utf-8")


def test_imports_keep_to_the_rings() -> None:
    code, output = _lint_imports(SRC.parent)
    assert code == 0, output


INWARD = "Rings: imports go inward only"
PARTIES = "Third parties: "
DEMO = "Demo: its own idea of ropes, knows nothing of what judges them"
BROKEN = [
    # (where, what it imports, the contract that must catch it)
    ("errors", "ropewright.units", INWARD),
    ("units", "ropewright.formulas", INWARD),
    ("formulas", "ropewright.rope", INWARD),
    ("rope", "ropewright.geometry", INWARD),
    ("geometry", "ropewright.inspection", INWARD),
    ("inspection", "ropewright.rules", INWARD),
    ("rules", "ropewright.plan", INWARD),
    ("plan", "ropewright.card", INWARD),
    ("card", "ropewright.desk", INWARD),
    ("desk", "ropewright.intake", INWARD),
    ("desk", "ropewright.logbook", INWARD),
    ("paper", "ropewright.cli", INWARD),
    ("cli", "ropewright.web", INWARD),
    ("cli", "ropewright.wiring", INWARD),
    ("rules", "ropewright.forecast", INWARD),
    ("forecast", "ropewright.wear", INWARD),
    ("wear", "ropewright.rules", INWARD),
    ("matching", "ropewright.rules", INWARD),
    ("plan", "ropewright.wear", "Decisions: plan knows only rules"),
    ("plan", "ropewright.forecast", "Decisions: plan knows only rules"),
    ("card", "ropewright.matching", "Decisions: card knows only plan and rules"),
    ("intake", "ropewright.demo", "Rim: rooms do not know each other (with picture)"),
    ("logbook", "ropewright.picture", "Rim: rooms do not know each other (with picture)"),
    ("paper", "ropewright.intake", "Rim: rooms do not know each other (with paper)"),
    ("picture", "ropewright.paper", "Rim: paper may use picture, not the other way"),
    ("demo", "ropewright.rules", DEMO),
    ("demo", "ropewright.forecast", DEMO),
    ("demo", "ropewright.wear", DEMO),
    ("rules", "pydantic", PARTIES + "pydantic in intake and faces only"),
    ("desk", "pydantic", PARTIES + "pydantic in intake and faces only"),
    ("cli", "typst", PARTIES + "typst and its fonts in paper only"),
    ("wiring", "click", PARTIES + "click and rich in cli only"),
    ("paper", "rich", PARTIES + "click and rich in cli only"),
    ("fleet", "ropewright.intake", "Rim: rooms do not know each other (with picture)"),
    ("desk", "distributed", PARTIES + "distributed in fleet only"),
    ("cli", "openpyxl", PARTIES + "openpyxl in intake only"),
    ("rules", "numpy", PARTIES + "numpy where arrays are the work"),
    ("rope", "numpy", PARTIES + "numpy where arrays are the work"),
]


@pytest.mark.parametrize(("where", "target", "contract"), BROKEN)
def test_a_broken_import_is_caught(
    copy_of_src: Path, where: str, target: str, contract: str
) -> None:
    _plant(copy_of_src, where, f"import {target}")
    code, output = _lint_imports(copy_of_src)
    assert code != 0, f"{where} imports {target}, and no contract noticed:\n{output}"
    assert f"{contract} BROKEN" in re.sub(r"\s+", " ", output)
    assert f"ropewright.{where}" in output


@pytest.mark.parametrize(
    ("where", "target"),
    [
        ("plan", "ropewright.rules"),
        ("card", "ropewright.plan"),
        ("card", "ropewright.rules"),
        ("paper", "ropewright.picture"),
        ("intake", "pydantic"),
        ("cli", "ropewright.intake"),
        ("forecast", "numpy"),
    ],
)
def test_an_allowed_import_is_let_through(copy_of_src: Path, where: str, target: str) -> None:
    _plant(copy_of_src, where, f"import {target}")
    code, output = _lint_imports(copy_of_src)
    assert code == 0, output


def test_a_room_without_a_place_is_caught(copy_of_src: Path) -> None:
    shed = copy_of_src / "ropewright" / "shed"
    shed.mkdir()
    (shed / "__init__.py").touch()
    code, output = _lint_imports(copy_of_src)
    assert code != 0
    assert "shed" in output


# --- What comes from outside ------------------------------------------------------------------


# Packages that come with a declared one and carry some of its public types.
COMES_WITH = {"markupsafe": "jinja2", "pydantic_core": "pydantic", "starlette": "fastapi"}


def _normal(name: str) -> str:
    return re.sub(r"[-_.]+", "-", name).lower()


def _names(requirements: list[str]) -> set[str]:
    return {_normal(re.split(r"[^\w.-]", line, maxsplit=1)[0]) for line in requirements}


def _at_once(tree: ast.Module) -> list[ast.stmt]:
    """Return what runs, or is read by a type checker, when the module is imported."""
    later = (ast.FunctionDef, ast.ClassDef)
    return [node for node in tree.body if not isinstance(node, later)]


def test_only_declared_packages_are_imported() -> None:
    """A package that only the tests need must not creep into the tool itself.

    What an extra brings may be imported inside a function only, so that the tool runs without it.
    """
    with (REPO / "pyproject.toml").open("rb") as file:
        project = tomllib.load(file)["project"]
    declared = _names(project["dependencies"])
    late = _names(project["optional-dependencies"]["fleet"])
    provided_by = packages_distributions()
    strays = []
    for path in SRC.rglob("*.py"):
        tree = ast.parse(path.read_text(encoding="utf-8"))
        at_once = set(_imported(ast.Module(body=_at_once(tree), type_ignores=[])))
        for name in _imported(tree):
            top = name.partition(".")[0]
            top = COMES_WITH.get(top, top)
            if top in sys.stdlib_module_names or top == "ropewright":
                continue
            allowed = declared if name in at_once else declared | late
            if not allowed.intersection(map(_normal, provided_by.get(top, []))):
                strays.append(f"{path.relative_to(REPO)}: {top}")
    assert not strays, f"not in [project] dependencies: {sorted(strays)}"


# --- Decisions are pure -----------------------------------------------------------------------

# Modules that reach for the clock, files, the network, the machine or chance.
IMPURE_MODULES = frozenset(
    "asyncio fcntl fileinput getpass glob http locale logging mmap multiprocessing os pathlib "
    "platform random secrets select shelve shutil signal socket sqlite3 ssl subprocess tempfile "
    "threading time urllib uuid webbrowser zoneinfo".split()
)
IMPURE_CALLS = frozenset({"open", "Path", "input", "print", "exec", "eval", "breakpoint"})
IMPURE_METHODS = frozenset(
    "today now utcnow open read_text read_bytes write_text write_bytes default_rng".split()
)
# One module per room may read the room's own data files, through importlib.resources.
DATA_MODULES = frozenset({"data.py", "catalogue.py"})
DATA_METHODS = frozenset({"open", "read_text", "read_bytes"})


def _imported(tree: ast.Module) -> Iterator[str]:
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom) and node.module:
            yield from (f"{node.module}.{alias.name}" for alias in node.names)


def _impurities(source: str, *, may_read_own_data: bool) -> list[str]:
    tree = ast.parse(source)
    found = []
    for name in _imported(tree):
        resources = name.startswith("importlib.")
        if name.partition(".")[0] in IMPURE_MODULES or (resources and not may_read_own_data):
            found.append(f"imports {name}")
    methods = IMPURE_METHODS - DATA_METHODS if may_read_own_data else IMPURE_METHODS
    for node in ast.walk(tree):
        if not isinstance(node, ast.Call):
            continue
        if isinstance(node.func, ast.Name) and node.func.id in IMPURE_CALLS:
            found.append(f"line {node.lineno} calls {node.func.id}()")
        if isinstance(node.func, ast.Attribute) and node.func.attr in methods:
            found.append(f"line {node.lineno} calls .{node.func.attr}()")
    return found


def _core_modules() -> list[Path]:
    rooms = [module for room in PURE for module in (SRC / room).rglob("*.py")]
    modules = [*rooms, *(SRC / "units").glob("*.py"), *(SRC / "errors").glob("*.py")]
    return sorted(module for module in modules if module.exists())


def test_decisions_know_no_clock_no_files_no_network() -> None:
    problems = [
        f"{path.relative_to(REPO)}: {problem}"
        for path in _core_modules()
        if path.parent.name != "errors"  # the rim's errors name files; none is opened there
        for problem in _impurities(
            path.read_text(encoding="utf-8"), may_read_own_data=path.name in DATA_MODULES
        )
    ]
    assert not problems, "\n".join(problems)


@pytest.mark.parametrize(
    "source",
    [
        "import time",
        "import os.path",
        "from pathlib import Path",
        "from importlib import resources",
        "import importlib.resources",
        "text = open('x').read()",
        "from datetime import date\nday = date.today()",
        "import datetime\nmoment = datetime.datetime.now(datetime.UTC)",
        "place = Path('x')",
        "text = place.read_text()",
        "import numpy as np\nchance = np.random.default_rng()",
    ],
)
def test_an_impure_line_is_caught(source: str) -> None:
    assert _impurities(source, may_read_own_data=False)


def test_a_data_module_may_read_its_own_data_only() -> None:
    own = "from importlib.resources import files\ntext = files('x').joinpath('y').read_text()"
    assert not _impurities(own, may_read_own_data=True)
    assert _impurities("text = open('x').read()", may_read_own_data=True)
    assert _impurities("place.write_text('x')", may_read_own_data=True)


def test_each_room_has_at_most_one_data_module() -> None:
    for room in PURE:
        readers = [path for path in (SRC / room).rglob("*.py") if path.name in DATA_MODULES]
        assert len(readers) <= 1, f"{room}: one module reads data, not {len(readers)}: {readers}"


# --- Form -------------------------------------------------------------------------------------


def _is_sealed(decorator: ast.expr) -> bool:
    """Tell whether a dataclass decorator says both frozen=True and slots=True."""
    if not isinstance(decorator, ast.Call):
        return False
    said = {
        word.arg
        for word in decorator.keywords
        if isinstance(word.value, ast.Constant) and word.value.value is True
    }
    return {"frozen", "slots"} <= said


def test_core_dataclasses_are_frozen_and_slotted() -> None:
    loose = []
    for path in _core_modules():
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if not isinstance(node, ast.ClassDef):
                continue
            for decorator in node.decorator_list:
                if "dataclass" in ast.unparse(decorator) and not _is_sealed(decorator):
                    loose.append(f"{path.relative_to(REPO)}: {node.name}")
    assert not loose, f"say frozen=True, slots=True: {loose}"


def test_modules_stay_small() -> None:
    long = []
    for folder in ("src", "scripts", "benchmarks"):
        for path in (REPO / folder).rglob("*.py"):
            lines = len(path.read_text(encoding="utf-8").splitlines())
            if lines >= MAX_LINES:
                long.append(f"{path.relative_to(REPO)}: {lines} lines")
    assert not long, f"split these (fewer than {MAX_LINES} lines each): {long}"
