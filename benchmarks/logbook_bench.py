"""How fast a logbook is: append, standing, dossier, verify, rebuild, export, backup.

    python -m benchmarks.logbook_bench [--entries N] [--ropes N] [--book ADDRESS]

Everything in it is invented.  Without an address the book is a SQLite file that is gone after.
"""

import argparse
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from dataclasses import replace
from datetime import date, timedelta
from fractions import Fraction
from pathlib import Path
from typing import TypeVar

from ropewright.demo import demo_case
from ropewright.geometry import RopePlace
from ropewright.inspection import BreakGroup, BrokenWires, Dossier
from ropewright.intake import read_case
from ropewright.logbook import (
    Book,
    Entry,
    MemoryPeople,
    backup,
    create_book,
    export_book,
    new_entry,
    rebuild,
    take_in_dossier,
    verify,
)
from ropewright.logbook import payloads as p

FIRST_DAY = date(2025, 2, 1)
AT_ONCE = 2000
SINGLE = 300
_T = TypeVar("_T")
_NOBODY = MemoryPeople()


def timed(what: str, count: int, work: Callable[[], _T]) -> _T:
    """Do something and print how long it took."""
    begin = time.perf_counter()
    result = work()
    took = time.perf_counter() - begin
    rate = f"{count / took:12,.0f}/s" if count > 1 else " " * 14
    print(f"{what:<44}{took:9.2f} s {rate}", flush=True)
    return result


def the_rope(number: int, like: Dossier) -> Dossier:
    """One more rope like the demo's, without its inspections."""
    named = replace(like.rope, rope_id=f"rope {number:04d}")
    return replace(like, rope=named, inspections=(), events=(), marks=())


def later_entries(ropes: int, count: int) -> Iterator[Entry]:
    """Inspections of nine entries each, going round all ropes again and again."""
    made = 0
    turn = 0
    while True:
        rope = f"rope {turn % ropes:04d}"
        name = f"I{turn // ropes}"
        on = FIRST_DAY + timedelta(days=turn // ropes)
        for payload in inspection_of(name, on, turn):
            if made == count:
                return
            yield new_entry(payload, _NOBODY, rope_id=rope, happened_on=on)
            made += 1
        turn += 1


def inspection_of(name: str, on: date, turn: int) -> Iterator[object]:
    """A begun and finished inspection with seven clusters."""
    yield p.InspectionBegun(inspection_id=name, kind="monthly", on=on)
    for number in range(7):
        place = RopePlace(at_m=1.0 + (turn * 7 + number) % 300)
        group = BreakGroup(from_mm=Fraction(0), to_mm=Fraction(5), count=1 + number % 3)
        found = BrokenWires(finding_id=f"{name}-{number}", place=place, groups=(group,))
        yield p.ClusterCounted(inspection_id=name, what=found)
    yield p.InspectionFinished(inspection_id=name, next_by=on + timedelta(days=31))


def fill(book: Book, entries: Iterator[Entry]) -> int:
    """Add entries in groups; gives their number."""
    total = 0
    group: list[Entry] = []
    for entry in entries:
        group.append(entry)
        if len(group) == AT_ONCE:
            total += len(book.append(group))
            group = []
    return total + (len(book.append(group)) if group else 0)


def one_by_one(book: Book, entries: Iterator[Entry]) -> None:
    """Add entries singly: each one waits for the disk."""
    for entry in entries:
        book.append([entry])


def run(book: Book, ropes: int, count: int, folder: Path) -> None:
    """Measure everything on one book."""
    like = read_case(demo_case("KQ-1"), file="KQ-1.toml").dossier

    def fit_all() -> None:
        for number in range(ropes):
            take_in_dossier(book, the_rope(number, like))

    timed(f"take in {ropes:,} ropes as dossiers", ropes, fit_all)
    rest = count - book.seal().sequence - SINGLE
    if rest < 1:
        raise SystemExit(f"more entries than {count} are needed for {ropes} ropes")
    made = timed(
        f"make and append {rest:,} entries, {AT_ONCE} at once", rest,
        lambda: fill(book, later_entries(ropes, rest)),
    )  # fmt: skip
    timed(
        f"append {SINGLE} entries singly, each on the disk", SINGLE,
        lambda: one_by_one(book, later_entries(1, SINGLE)),
    )  # fmt: skip
    timed(f"standing of {ropes:,} ropes", ropes, book.standing)
    one = f"rope {ropes - 1:04d}"
    dossier = timed("dossier of one rope", 1, lambda: book.dossier(one))
    timed(
        "the same rope on a past day",
        1,
        lambda: book.dossier(one, as_of=FIRST_DAY + timedelta(days=2)),
    )
    checked = timed("verify", made, lambda: verify(book, [book.seal()]))
    derived = timed("rebuild", made, lambda: rebuild(book))
    timed("export as JSON Lines", made, lambda: export_book(book, folder / "book.jsonl"))
    timed("backup, read back", made, lambda: backup(book, folder / "book.zip"))
    sizes = {path.name: path.stat().st_size // 2**20 for path in sorted(folder.iterdir())}
    print(f"entries {checked.entries:,}, problems {len(checked.problems)}, "
          f"standing that differed {len(derived.changed)}, inspections of one rope "
          f"{len(dossier.inspections)}, MB {sizes}")  # fmt: skip


def main() -> int:
    """Run the measurement."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--entries", type=int, default=1_000_000)
    parser.add_argument("--ropes", type=int, default=1_000)
    parser.add_argument("--book", help="a new file, or an empty database by its address")
    said = parser.parse_args()
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        book = create_book(said.book or folder / "bench.book", photo_folder=folder / "photos")
        run(book, said.ropes, said.entries, folder)
        book.close()
    return 0


if __name__ == "__main__":
    sys.exit(main())
