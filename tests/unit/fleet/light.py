"""Small jobs that another process can import quickly, some of which kill it."""

import os
import signal
from pathlib import Path


def square(number: int) -> int:
    """Multiply a number by itself."""
    return number * number


def die_once(mark: str) -> int:
    """Kill the own process the first time; the second time the mark is there."""
    path = Path(mark)
    if not path.exists():
        path.write_text("died", encoding="utf-8")
        os.kill(os.getpid(), signal.SIGKILL)
    return 7


def die_always(_: int) -> int:
    """Kill the own process."""
    os.kill(os.getpid(), signal.SIGKILL)
    return 0
