"""Each package says what it offers: an explicit, sorted `__all__` whose names exist."""

import ast
import importlib
from pathlib import Path

import pytest

import ropewright

ROOT = Path(ropewright.__file__).parent


def _packages() -> list[str]:
    inits = sorted(ROOT.rglob("__init__.py"))
    return [".".join(init.parent.relative_to(ROOT.parent).parts) for init in inits]


def _all_as_written(package: str) -> list[str] | None:
    """Read `__all__` from the source: a plain list of words, or None."""
    init = ROOT.parent.joinpath(*package.split("."), "__init__.py")
    for node in ast.parse(init.read_text(encoding="utf-8")).body:
        targets = node.targets if isinstance(node, ast.Assign) else []
        if any(isinstance(target, ast.Name) and target.id == "__all__" for target in targets):
            assert isinstance(node, ast.Assign)
            value = ast.literal_eval(node.value)
            return value if isinstance(value, list) else None
    return None


def test_every_folder_with_code_is_a_package() -> None:
    bare = {
        str(module.parent.relative_to(ROOT))
        for module in ROOT.rglob("*.py")
        if not (module.parent / "__init__.py").exists()
    }
    assert not bare, f"no __init__.py in: {sorted(bare)}"


@pytest.mark.parametrize("package", _packages())
def test_package_lists_its_names(package: str) -> None:
    names = _all_as_written(package)
    assert names is not None, f"{package}: write __all__ as a plain list in __init__.py"
    assert names == sorted(set(names)), f"{package}: __all__ should read {sorted(set(names))}"


@pytest.mark.parametrize("package", _packages())
def test_listed_names_exist(package: str) -> None:
    module = importlib.import_module(package)
    missing = [name for name in module.__all__ if not hasattr(module, name)]
    assert not missing, f"{package}: __all__ lists what does not exist: {missing}"


@pytest.mark.parametrize("package", _packages())
def test_package_says_what_it_knows(package: str) -> None:
    doc = importlib.import_module(package).__doc__
    assert doc, f"{package}: say in the docstring what this room knows and refuses to know"
