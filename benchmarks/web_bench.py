"""How fast the pages are: board, rope page and API, by 16 connections at once.

    python -m benchmarks.web_bench [--ropes N] [--findings N] [--book FILE] [--seconds S]

Everything in it is invented.  The book is made once and kept if FILE is named.  Where `wrk` is
there it asks; else threads do, which take time from the server on the same cores.  The load of the
machine is printed beside each figure: other work on the same cores makes all of them larger.
"""

import argparse
import html
import os
import shutil
import socket
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator, Sequence
from concurrent.futures import ThreadPoolExecutor
from contextlib import contextmanager
from dataclasses import replace
from datetime import UTC, date, datetime
from pathlib import Path

import httpx

from benchmarks.plain import RULES
from benchmarks.ropes import make_rope
from ropewright.inspection import Dossier, RopeFinding
from ropewright.logbook import create_book, open_book, take_in_dossier
from ropewright.web.admin import PeopleDesk
from ropewright.wiring import web_tools

CONNECTIONS = 16
TARGET_MS = 100.0
PASSWORD = "a password of the benchmark"
SEED = 4309
#: So many ropes are opened for the first time, one after the other.
FIRST_TIME = 20
_SCRIPT = """
local paths, at = {PATHS}, 0
request = function()
  at = at % #paths + 1
  return wrk.format("GET", paths[at])
end
done = function(summary, latency, requests)
  io.write(string.format("%d %.3f %.3f %d\\n", summary.requests, latency:percentile(50) / 1000,
    latency:percentile(95) / 1000, summary.errors.status + summary.errors.timeout))
end
"""


def many_findings(number: int, findings: int) -> Dossier:
    """An invented rope whose inspections hold so many findings."""
    rope = make_rope(number, seed=SEED)
    rope = replace(
        rope,
        rope=replace(rope.rope, rope_id=f"rope {number:04d}"),
        installation=replace(rope.installation, rules=RULES),
        crane=replace(rope.crane, crane_id=f"crane {number // 3:03d}", site=f"site {number % 7}"),
    )
    have = sum(len(one.findings) for one in rope.inspections)
    last = rope.inspections[-1]
    more: list[RopeFinding] = []
    while have + len(more) < findings:
        at = len(more)
        more.append(replace(last.findings[at % len(last.findings)], finding_id=f"M{at}"))
    grown = replace(last, findings=(*last.findings, *more))
    return replace(rope, inspections=(*rope.inspections[:-1], grown))


def make_book(path: Path, ropes: int, findings: int) -> None:
    """A book of invented ropes with one person who may look."""
    book = create_book(path)
    for number in range(ropes):
        take_in_dossier(book, many_findings(number, findings))
    tools = web_tools(book)
    desk = PeopleDesk(tools.book, tools.access, lambda: datetime.now(UTC))
    desk.add("planner", "planner", ["planner"], PASSWORD)
    book.close()


@contextmanager
def serving(path: Path) -> Iterator[str]:
    """The server as people start it, on a free port."""
    with socket.socket() as one:
        one.bind(("127.0.0.1", 0))
        port = one.getsockname()[1]
    command = [sys.executable, "-m", "benchmarks.web_bench", "--serve", str(path), str(port)]
    process = subprocess.Popen(command)
    address = f"http://127.0.0.1:{port}"
    try:
        for _ in range(200):
            try:
                httpx.get(f"{address}/health")
                break
            except httpx.HTTPError:
                time.sleep(0.1)
        yield address
    finally:
        process.terminate()
        process.wait(timeout=20)


def cookie(address: str) -> str:
    """The cookie of somebody who logged in."""
    form = {"login": "planner", "password": PASSWORD}
    answer = httpx.post(f"{address}/login", data=form, headers={"origin": address})
    return answer.headers["set-cookie"].partition(";")[0]


def warm(address: str, token: str) -> float:
    """Wait until every rope is judged; gives how long that took [s]."""
    begun = time.monotonic()
    while "not judged yet" in httpx.get(address, headers={"cookie": token}, timeout=60).text:
        time.sleep(1)
    return time.monotonic() - begun


def ask(
    address: str, paths: Sequence[str], headers: dict[str, str], seconds: int
) -> tuple[int, float, float, int]:
    """Requests answered, median and 95th percentile [ms], failures.

    Parameters
    ----------
    address
        The server.
    paths
        What is asked for, one after the other and round again.
    headers
        Of every request.
    seconds
        How long [s].
    """
    if not shutil.which("wrk"):
        return _by_threads(address, paths, headers, seconds)
    with tempfile.NamedTemporaryFile("w", suffix=".lua") as script:
        script.write(_SCRIPT.replace("PATHS", ", ".join(f'"{path}"' for path in paths)))
        script.flush()
        said = [part for item in headers.items() for part in ("-H", ": ".join(item))]
        command = ["wrk", "-t1", f"-c{CONNECTIONS}", f"-d{seconds}s", "-s", script.name]
        done = subprocess.run(
            [*command, *said, address], capture_output=True, text=True, check=True
        )
    count, median, late, failed = done.stdout.strip().splitlines()[-1].split()
    return int(count), float(median), float(late), int(failed)


def _by_threads(
    address: str, paths: Sequence[str], headers: dict[str, str], seconds: int
) -> tuple[int, float, float, int]:
    until = time.monotonic() + seconds

    def one(number: int) -> list[tuple[float, int]]:
        found: list[tuple[float, int]] = []
        with httpx.Client(base_url=address, headers=headers, timeout=60) as client:
            while time.monotonic() < until:
                path = paths[(number + len(found) * CONNECTIONS) % len(paths)]
                begun = time.perf_counter()
                status = client.get(path).status_code
                found.append(((time.perf_counter() - begun) * 1000, status))
        return found

    with ThreadPoolExecutor(CONNECTIONS) as pool:
        times = [each for part in pool.map(one, range(CONNECTIONS)) for each in part]
    took = sorted(ms for ms, _ in times)
    failed = sum(status != 200 for _, status in times)
    return len(took), took[len(took) // 2], took[int(len(took) * 0.95)], failed


def first_times(client: httpx.Client, paths: Sequence[str]) -> list[float]:
    """How long each page took that nobody had opened before, sorted [ms]."""
    took = []
    for path in paths:
        begun = time.perf_counter()
        client.get(path).raise_for_status()
        took.append((time.perf_counter() - begun) * 1000)
    return sorted(took)


def run(path: Path, seconds: int) -> bool:
    """Measure; gives whether the target is met."""
    good = True
    begun = time.monotonic()
    with serving(path) as address:
        print(f"answers {time.monotonic() - begun:.1f} s after its start")
        token = cookie(address)
        print(f"all ropes judged {warm(address, token):.0f} s after that")
        client = httpx.Client(base_url=address, headers={"cookie": token}, timeout=60)
        ropes = [f"/ropes/rope%20{number:04d}" for number in range(count_of(path))]
        # From the end: in the background pages are made ready from the beginning.
        took = first_times(client, ropes[: -FIRST_TIME - 1 : -1])
        print(f"rope page for the first time, {len(took)} ropes, one connection:  median "
              f"{took[len(took) // 2]:.0f} ms, longest {took[-1]:.0f} ms, {load()}")  # fmt: skip
        begun = time.monotonic()
        for rope in reversed(ropes):
            client.get(rope).raise_for_status()
        print(f"every rope page ready {time.monotonic() - begun:.0f} s later", flush=True)
        rope = ropes[7 % len(ropes)]
        why = html.unescape(client.get(rope).text.split(f'href="{rope}/why/')[1].split('"')[0])
        for name, paths in (
            ("board", ["/"]),
            ("board, one crane", ["/?crane=crane+010"]),
            ("handover", ["/handover"]),
            ("rope page", [rope]),
            ("rope pages, all in turn", ropes),
            ("rope chart", [f"{rope}/chart.svg?width=1100"]),
            ("derivation", [f"{rope}/why/{why}"]),
            ("every entry of a rope", [f"{rope}/history"]),
            ("all of them in turn", [f"{one}/history" for one in ropes]),
            ("entries of the book", ["/audit"]),
            ("who am I (API)", ["/api/v1/me"]),
        ):
            client.get(paths[0]).raise_for_status()
            for accepts in ("gzip", "identity"):
                headers = {"cookie": token, "accept-encoding": accepts}
                sent = client.get(paths[0], headers={"accept-encoding": accepts})
                count, median, late, failed = ask(address, paths, headers, seconds)
                met = late <= TARGET_MS and failed == 0
                good &= met
                print(
                    f"{name:<24} {accepts:<9} {int(sent.headers['content-length']) / 1000:6.0f} kB "
                    f"{count / seconds:7.0f}/s   median {median:6.1f} ms   95 % within "
                    f"{late:6.1f} ms   failed {failed}   {load()}   {'pass' if met else 'FAIL'}",
                    flush=True,
                )
    return good


def load() -> str:
    """How many processes want the processor, on the average of a minute."""
    return f"load {os.getloadavg()[0]:.1f}"


def count_of(path: Path) -> int:
    """How many ropes the book has."""
    book = open_book(path)
    try:
        return len(book.rope_ids())
    finally:
        book.close()


def _serve(path: str, port: int) -> None:
    from ropewright.web import Settings
    from ropewright.web.running import run_server

    book = open_book(path)
    tools = replace(web_tools(book), today=lambda: date(2026, 11, 10))
    run_server(tools, Settings(port=port))


def main(arguments: list[str]) -> int:
    """Make the book if needed, serve it, measure."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--ropes", type=int, default=1000)
    parser.add_argument("--findings", type=int, default=100)
    parser.add_argument("--book", type=Path)
    parser.add_argument("--seconds", type=int, default=10)
    parser.add_argument("--serve", nargs=2, metavar=("BOOK", "PORT"), help=argparse.SUPPRESS)
    said = parser.parse_args(arguments)
    if said.serve:
        _serve(said.serve[0], int(said.serve[1]))
        return 0
    with tempfile.TemporaryDirectory() as folder:
        path: Path = said.book or Path(folder) / "bench.book"
        if not path.exists():
            begun = time.monotonic()
            make_book(path, said.ropes, said.findings)
            print(f"{said.ropes} ropes of {said.findings} findings in "
                  f"{time.monotonic() - begun:.0f} s", flush=True)  # fmt: skip
        print(f"{os.cpu_count()} cores, {CONNECTIONS} connections")
        return 0 if run(path, said.seconds) else 1


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
