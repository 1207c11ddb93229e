"""In the automatic run no test may drop out silently: a skip counts as a failure there."""

import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

REPO = Path(__file__).parents[1]
SKIPPING = """\
import pytest

@pytest.mark.skip(reason="by mark")
def test_by_mark(): ...

def test_by_call():
    pytest.skip("by call")

@pytest.mark.xfail(reason="known", strict=True)
def test_known_failure():
    raise ValueError
"""
SKIPPED_FILE = 'import pytest\n\npytest.skip("whole file", allow_module_level=True)\n'


@pytest.mark.parametrize(
    ("no_skips", "code", "summary"),
    [("", 0, "3 skipped, 1 xfailed"), ("1", 1, "1 failed, 1 xfailed, 2 errors")],
)
def test_skips_fail_when_asked_to(tmp_path: Path, no_skips: str, code: int, summary: str) -> None:
    shutil.copy(REPO / "tests" / "conftest.py", tmp_path)
    (tmp_path / "test_skipping.py").write_text(SKIPPING, encoding="utf-8")
    (tmp_path / "test_whole_file.py").write_text(SKIPPED_FILE, encoding="utf-8")
    done = subprocess.run(
        [sys.executable, "-m", "pytest", "-c", os.devnull, "--continue-on-collection-errors",
         "-p", "no:cacheprovider", "--rootdir", str(tmp_path), str(tmp_path)],
        env={**os.environ, "ROPEWRIGHT_NO_SKIPS": no_skips, "PYTEST_ADDOPTS": ""},
        capture_output=True, text=True, check=False, timeout=120,
    )  # fmt: skip
    assert summary in done.stdout, done.stdout + done.stderr
    assert done.returncode == code
