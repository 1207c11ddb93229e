"""A PostgreSQL server of the tests' own, from the system's programs; gone when they are done."""

import contextlib
import itertools
import os
import shutil
import signal
import subprocess
import tempfile
import time
from collections.abc import Sequence
from pathlib import Path
from urllib.parse import quote

import psycopg

_FOUND_IN = ("/usr/lib/postgresql/*/bin", "/usr/local/pgsql/bin", "/opt/homebrew/bin")
_USER = "postgres"


def programs() -> Path | None:
    """The folder with initdb and postgres, the newest if there are several."""
    on_path = shutil.which("initdb")
    found = [Path(on_path).parent] if on_path else []
    for pattern in _FOUND_IN:
        root, _, rest = pattern[1:].partition("*")
        folders = Path("/").glob(f"{root}*{rest}") if rest else [Path(pattern)]
        found += [one for one in folders if (one / "initdb").is_file()]
    return max(found, key=lambda one: [int(n) for n in one.parent.name.split(".") if n.isdigit()],
               default=None)  # fmt: skip


class Server:
    """A server that listens on a socket in a folder of its own, and on no port.

    Parameters
    ----------
    bin_folder
        Where its programs are.
    fsync
        Whether it waits for the disk.  A killed process leaves to the system what it had
        written, so a server that is only ever killed need not wait.
    """

    def __init__(self, bin_folder: Path, *, fsync: bool = True) -> None:
        self._bin = bin_folder
        self._fsync = "on" if fsync else "off"
        self._count = itertools.count()
        self.folder = Path(tempfile.mkdtemp(prefix="rw-pg-"))
        self._as_user: list[str] = []
        if os.geteuid() == 0:  # the server refuses to run as root
            self._as_user = ["runuser", "-u", _USER, "--"]
            shutil.chown(self.folder, _USER)
        self._call(
            [
                *("initdb", "-D", str(self.folder / "data"), "-U", _USER, "-A", "trust"),
                *("--no-sync", "-E", "UTF8", "--locale", "C"),
            ]
        )
        self.start()

    def _call(self, words: Sequence[str], *, log: Path | None = None) -> None:
        command = [*self._as_user, str(self._bin / words[0]), *words[1:]]
        done = subprocess.run(
            command, cwd=self.folder, capture_output=True, text=True, check=False, timeout=120
        )
        if done.returncode != 0:
            more = log.read_text()[-2000:] if log is not None and log.exists() else ""
            raise RuntimeError(f"{words[0]}: {done.stdout}{done.stderr}{more}")

    def start(self) -> None:
        """Start it and wait until it answers."""
        options = (
            f"-c listen_addresses='' -k {self.folder} -c fsync={self._fsync} -c max_connections=40"
        )
        log = str(self.folder / "log")
        self._call(
            ["pg_ctl", "-D", str(self.folder / "data"), "-l", log, "-o", options, "-w", "start"],
            log=self.folder / "log",
        )

    def kill(self) -> None:
        """Kill the server and every process of it with signal 9, as a power cut would."""
        first = int((self.folder / "data" / "postmaster.pid").read_text().split()[0])
        os.kill(first, signal.SIGSTOP)  # so that it starts no more of them meanwhile
        listed = subprocess.run(
            ["pgrep", "-P", str(first)], capture_output=True, text=True, check=False
        )
        every = [*map(int, listed.stdout.split()), first]
        for pid in every:
            with contextlib.suppress(ProcessLookupError):
                os.kill(pid, signal.SIGKILL)
        for pid in every:
            _wait_for_end(pid)
        # Where nobody collects dead processes, the server would take itself for running still.
        for left in (self.folder / "data" / "postmaster.pid", *self.folder.glob(".s.*.lock")):
            left.unlink(missing_ok=True)

    def stop(self) -> None:
        """Stop it and take its folder away."""
        try:
            self._call(["pg_ctl", "-D", str(self.folder / "data"), "-m", "immediate", "stop"])
        finally:
            shutil.rmtree(self.folder, ignore_errors=True)

    def new_database(self) -> str:
        """The address of a new, empty database."""
        name = f"book{next(self._count)}"
        host = quote(str(self.folder), safe="")
        with psycopg.connect(f"postgresql://{_USER}@/postgres?host={host}", autocommit=True) as one:
            one.execute(f"CREATE DATABASE {name}".encode())
        return f"postgresql://{_USER}@/{name}?host={host}"


def _wait_for_end(pid: int) -> None:
    until = time.monotonic() + 20
    while time.monotonic() < until:
        stat = Path(f"/proc/{pid}/stat")
        try:
            if stat.read_text().rpartition(")")[2].split()[0] == "Z":
                return
        except OSError:
            return
        time.sleep(0.01)
    raise RuntimeError(f"process {pid} does not end")
