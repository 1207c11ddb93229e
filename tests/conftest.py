"""What all tests share: no silent skips in the automatic run, and how Hypothesis works here."""

import os
import shutil
from collections.abc import Generator, Iterator
from typing import TYPE_CHECKING, Any

import pytest
from hypothesis import settings

if TYPE_CHECKING:
    from playwright.sync_api import Browser

NO_SKIPS = "ROPEWRIGHT_NO_SKIPS"

# Machines differ in speed, so no time limit per example; a failure prints how to repeat it.
settings.register_profile("ropewright", deadline=None, print_blob=True)
settings.load_profile("ropewright")


# Without these a headless Chromium asks for the outer network at every start.
CHROMIUM_FLAGS = (
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
)


@pytest.fixture(scope="session")
def browser() -> "Iterator[Browser]":
    """One Chromium without a window for all tests of a process, which can hold no second one."""
    from playwright.sync_api import sync_playwright

    where = shutil.which("chromium") or shutil.which("chromium-browser")
    if where is None:
        pytest.skip("no Chromium here (Debian package chromium)")
    with sync_playwright() as playwright:
        opened = playwright.chromium.launch(executable_path=where, args=list(CHROMIUM_FLAGS))
        yield opened
        opened.close()


def _skips_are_failures() -> bool:
    return os.environ.get(NO_SKIPS, "") not in ("", "0")


def _reason(longrepr: object) -> str:
    return str(longrepr[2]) if isinstance(longrepr, tuple) else str(longrepr)


@pytest.hookimpl(wrapper=True)
def pytest_runtest_makereport(
    item: pytest.Item, call: pytest.CallInfo[Any]
) -> Generator[None, pytest.TestReport, pytest.TestReport]:
    """Turn a skipped test into a failed one when the environment asks for it."""
    report = yield
    if report.skipped and not hasattr(report, "wasxfail") and _skips_are_failures():
        report.outcome = "failed"
        report.longrepr = (
            f"{NO_SKIPS} is set, and this test was skipped: {_reason(report.longrepr)}"
        )
    return report


@pytest.hookimpl(wrapper=True)
def pytest_make_collect_report(
    collector: pytest.Collector,
) -> Generator[None, pytest.CollectReport, pytest.CollectReport]:
    """Turn a file skipped as a whole into a failure when the environment asks for it."""
    report = yield
    if report.skipped and _skips_are_failures():
        report.outcome = "failed"
        report.longrepr = (
            f"{NO_SKIPS} is set, and this file was skipped: {_reason(report.longrepr)}"
        )
    return report
