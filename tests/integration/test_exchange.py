"""Out and in: exports anybody can check, backups that come back bit for bit, photos."""

import csv
import io
import json
import shutil
import subprocess
import sys
import zipfile
from collections.abc import Callable
from dataclasses import replace
from datetime import date
from hashlib import sha256
from pathlib import Path
from typing import Any

import pytest
from PIL import Image
from sqlalchemy import inspect as look_at

import ropewright.logbook.verify_book as checker
from ropewright.errors import (
    BookError,
    BrokenChainError,
    EntryConflictError,
    InputError,
    UnknownNameError,
)
from ropewright.logbook import (
    Book,
    LogbookDesk,
    MemoryPeople,
    add_photo,
    backup,
    create_book,
    due_calendar,
    dues_of,
    erase,
    export_book,
    export_lines,
    findings_csv,
    import_book,
    new_entry,
    open_book,
    photo_to_show,
    rebuild,
    restore,
    take_in_dossier,
    verify,
)
from ropewright.logbook.bookkeeping import Correction
from ropewright.logbook.photos import original_path, shown_path
from ropewright.logbook.renaming import RopeNames
from tests.integration.servers import Server
from tests.unit.logbook.samples import (
    DAY,
    NOON,
    a_dossier,
    begun,
    case_dossiers,
    cluster,
    ticking,
)

CASES = dict(case_dossiers())
CHECKER = Path(checker.__file__)


def filled(book: Book) -> Book:
    """A book with two ropes and a photo."""
    take_in_dossier(book, CASES["KQ-1"])
    take_in_dossier(book, a_dossier())
    add_photo(book, a_photo(), rope_id="rope 1", happened_on=DAY, caption="the worst spot")
    return book


def a_photo(size: tuple[int, int] = (40, 30), kind: str = "JPEG", **more: Any) -> bytes:
    """A photo with a place, a camera and a comment in it."""
    image = Image.new("RGB", size, (200, 120, 40))
    exif = image.getexif()
    exif[0x010F] = "CAMERA-WORD"
    exif.get_ifd(0x8825).update({1: "N", 2: (53.0, 7.0, 0.0), 3: "E", 4: (8.0, 44.0, 0.0)})
    out = io.BytesIO()
    comment = {"comment": b"COMMENT-WORD"} if kind == "JPEG" else {}
    image.save(out, kind, exif=exif, **comment, **more)
    return out.getvalue()


def run_checker(*words: str) -> subprocess.CompletedProcess[str]:
    """The single file, alone: no package, no environment, no user's site."""
    return subprocess.run(
        [sys.executable, "-I", str(CHECKER), *words], capture_output=True, text=True, check=False
    )


# --- The single file --------------------------------------------------------------------------


def test_an_export_is_checked_without_the_package(book: Book, tmp_path: Path) -> None:
    seal = filled(book).seal(100)
    path = tmp_path / "book.jsonl"
    last = export_book(book, path, software="test")
    assert last == book.seal()
    alone = tmp_path / "alone" / "verify_book.py"
    alone.parent.mkdir()
    LogbookDesk().export_checker(alone)
    done = subprocess.run(
        [sys.executable, "-I", "-S", str(alone), str(path), "--seal", str(seal)],
        cwd=alone.parent, capture_output=True, text=True, check=False,
    )  # fmt: skip
    assert (done.returncode, done.stderr) == (0, "")
    assert done.stdout.startswith(f"holds: {last.sequence} entries, 3 chains, 1 seals compared")


def test_the_chain_is_what_a_second_formulation_says(tmp_path: Path) -> None:
    """By hand: SHA-256 over the lines named in the docstrings, joined by line ends."""
    one = create_book(str(tmp_path / "b"), now=lambda: NOON, book_id="0" * 8 + "-0" * 14)
    one.append([cluster(1), cluster(2, "rope 2")])
    link = sha256(f"ropewright logbook 1\n{one.book_id}".encode()).hexdigest()
    for number, rope in ((1, "rope 1"), (2, "rope 2")):
        row = one.entries(rope)[0].row
        content = cluster(number, rope).content
        said = f"book\n{link}\n{number}\n1\n2026-11-10T12:00:00Z\n{content}"
        link = sha256(said.encode()).hexdigest()
        first = sha256(f"ropewright rope 1\n{rope}".encode()).hexdigest()
        of_rope = sha256(f"rope\n{first}\n1\n2026-11-10T12:00:00Z\n{content}".encode())
        assert (row.book_hash, row.rope_hash) == (link, of_rope.hexdigest())
    one.close()


def _edit(lines: list[str], find: str, change: Callable[[dict[str, Any]], None]) -> None:
    at = next(at for at, line in enumerate(lines) if find in line)
    data = json.loads(lines[at])
    change(data)
    lines[at] = checker.canonical_text(data)


def _drop_entry(lines: list[str]) -> None:
    del lines[next(at for at, line in enumerate(lines) if '"sequence":20' in line)]


def _swap_entries(lines: list[str]) -> None:
    at = next(at for at, line in enumerate(lines) if '"sequence":20' in line)
    lines[at], lines[at + 1] = lines[at + 1], lines[at]


def _repeat_entry(lines: list[str]) -> None:
    at = next(at for at, line in enumerate(lines) if '"sequence":20' in line)
    lines.insert(at, lines[at])


def _set(name: str, value: Any) -> Callable[[dict[str, Any]], None]:
    return lambda data: data.update({name: value})


def _add_space(data: dict[str, Any]) -> None:
    data["content"] += " "


BREAKING: dict[str, Callable[[list[str]], Any]] = {
    "an entry edited": lambda lines: _edit(
        lines, '"sequence":20', lambda data: data.update(content=data["content"].replace("0", "1"))
    ),
    "a space added": lambda lines: _edit(lines, '"sequence":20', _add_space),
    "time of arrival edited": lambda lines: _edit(lines, '"sequence":20', _set("arrived_at", "x")),
    "a hash edited": lambda lines: _edit(lines, '"sequence":20', _set("rope_hash", "0" * 64)),
    "an entry deleted": _drop_entry,
    "entries moved": _swap_entries,
    "an entry twice": _repeat_entry,
    "the end cut off": lambda lines: lines.pop(),
    "the last entries cut off": lambda lines: lines.__delitem__(slice(-4, -1)),
    "something after the end": lambda lines: lines.append(lines[-1]),
    "a person edited": lambda lines: _edit(lines, '"line":"person"', _set("data", '{"words":"x"}')),
    "a person gone": lambda lines: lines.pop(1),
    "a person hollowed out": lambda lines: _edit(lines, '"line":"person"', _set("data", None)),
    "a photo gone": lambda lines: lines.__delitem__(
        next(at for at, line in enumerate(lines) if '"line":"photo"' in line)
    ),
    "another book's name": lambda lines: _edit(lines, '"line":"book"', _set("book_id", "x")),
    "another format": lambda lines: _edit(lines, '"line":"book"', _set("format", 2)),
    "nonsense": lambda lines: lines.insert(3, "{"),
    "a line of another kind": lambda lines: lines.insert(3, '{"line":"note"}'),
    "nothing": lambda lines: lines.clear(),
}


@pytest.fixture(scope="module")
def exported(tmp_path_factory: pytest.TempPathFactory) -> list[str]:
    """The lines of an export."""
    one = filled(create_book(str(tmp_path_factory.mktemp("export") / "b"), now=ticking()))
    lines = list(export_lines(one))
    one.close()
    return lines


@pytest.mark.parametrize("how", BREAKING)
def test_a_broken_export_is_refused_and_put_aside(
    exported: list[str], tmp_path: Path, how: str
) -> None:
    lines = list(exported)
    BREAKING[how](lines)
    path = tmp_path / "sent.jsonl"
    path.write_text("".join(f"{line}\n" for line in lines), encoding="utf-8")
    done = run_checker(str(path))
    assert (done.returncode, bool(done.stdout)) == (2, True), how
    one = create_book(str(tmp_path / "b"))
    with pytest.raises(BrokenChainError, match="not taken in"):
        import_book(one, path, quarantine=tmp_path / "aside")
    assert one.seal().sequence == 0
    assert (tmp_path / "aside" / "sent.jsonl").read_bytes() == path.read_bytes()
    assert "not taken in" in (tmp_path / "aside" / "sent.jsonl.why.txt").read_text()
    one.close()


def test_the_checker_tells_a_rewritten_book_by_an_earlier_seal(book: Book, tmp_path: Path) -> None:
    filled(book)
    path = tmp_path / "book.jsonl"
    export_book(book, path)
    seal = book.seal(20)
    assert run_checker(str(path), "--seal", str(seal)).returncode == 0
    for other in (replace(seal, book_hash="0" * 64), replace(seal, sequence=9999)):
        done = run_checker(str(path), "--seal", str(other))
        assert (done.returncode, "seal" in done.stdout) == (2, True)
    assert run_checker(str(path), "--seal", "x").returncode == 2
    assert run_checker(str(tmp_path / "none")).returncode == 2
    assert run_checker().returncode == 2


# --- Import and backup ------------------------------------------------------------------------


def test_another_book_is_taken_in_once(book: Book, tmp_path: Path) -> None:
    other = filled(create_book(str(tmp_path / "other"), now=ticking()))
    path = tmp_path / "other.jsonl"
    seal = export_book(other, path)
    take_in_dossier(book, CASES["full.toml"])
    first = import_book(book, path)
    assert (first.seal, first.taken, first.already) == (seal, seal.sequence + 1, 0)
    again = import_book(book, path)
    assert (again.taken, again.already) == (0, seal.sequence + 1)
    for rope in other.rope_ids():
        assert book.dossier(rope) == other.dossier(rope)
    told = {one["rope"]: one for one in book.standing()}
    assert {one["rope"]: one for one in other.standing()}.items() <= told.items()
    assert book.entries("")[-1].entry.kind == "book taken in" or book.entries("")
    assert rebuild(book).changed == ()
    assert (first.photos, first.photos_absent, again.photos) == (1, 0, 0)
    assert verify(book).problems == ()
    other.append([cluster(1)])
    export_book(other, path)
    book.append([cluster(1, count=2)])
    before = book.seal()
    with pytest.raises(EntryConflictError):
        import_book(book, path)
    assert book.seal() == before
    other.close()


def _with_photo(tmp_path: Path) -> tuple[Book, Path]:
    """Another book with a photo, exported."""
    address = tmp_path / "other"
    other = filled(create_book(str(address), now=ticking()))
    path = tmp_path / "other.jsonl"
    export_book(other, path)
    return other, path


def test_photos_travel_beside_the_lines_bit_for_bit(book: Book, tmp_path: Path) -> None:
    other, path = _with_photo(tmp_path)
    name = sha256(a_photo()).hexdigest()
    beside = tmp_path / "other.jsonl.photos" / name
    assert beside.read_bytes() == a_photo()
    assert "1 photos, last hash" in run_checker(str(path)).stdout
    beside.write_bytes(a_photo() + b"x")
    done = run_checker(str(path))
    assert (done.returncode, f"photo {name} was changed" in done.stdout) == (2, True)
    with pytest.raises(BrokenChainError, match="was changed"):
        import_book(book, path, quarantine=tmp_path / "aside")
    assert book.rope_ids() == ()
    beside.unlink()
    assert "1 photos were not sent along" in run_checker(str(path)).stdout
    assert import_book(book, path).photos_absent == 1
    assert ["is missing" in str(one) for one in verify(book).problems] == [True]
    beside.write_bytes(a_photo())  # it follows later
    assert import_book(book, path).photos == 1
    assert original_path(tmp_path / "photos", name).read_bytes() == a_photo()
    assert verify(book).problems == ()
    other.close()


def test_a_zip_of_book_and_photos_is_taken_in_and_checked(book: Book, tmp_path: Path) -> None:
    other, _ = _with_photo(tmp_path)
    path = tmp_path / "other.zip"
    seal = backup(other, path)
    done = run_checker(str(path), "--seal", str(seal))
    assert (done.returncode, "1 photos, last hash" in done.stdout) == (0, True), done.stdout
    taken = import_book(book, path)
    assert (taken.photos, taken.taken) == (1, seal.sequence + 1)
    assert verify(book).problems == ()
    worse = tmp_path / "worse.zip"
    with zipfile.ZipFile(path) as old, zipfile.ZipFile(worse, "w") as new:
        for one in old.namelist():
            new.writestr(one, old.read(one) + (b"x" if one != "book.jsonl" else b""))
    assert run_checker(str(worse)).returncode == 2
    broken = tmp_path / "no.zip"
    broken.write_bytes(b"no zip")
    assert run_checker(str(broken)).returncode == 2
    with pytest.raises(BookError, match="cannot be read"):
        import_book(book, broken)
    other.close()


def test_a_photo_that_would_swell_is_not_even_read(book: Book, tmp_path: Path) -> None:
    other, path = _with_photo(tmp_path)
    name = sha256(a_photo()).hexdigest()
    bomb = tmp_path / "bomb.zip"
    with zipfile.ZipFile(bomb, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.write(path, "book.jsonl")
        archive.writestr(f"photos/{name}", bytes(26_000_000))
    with pytest.raises(BookError, match="at most 25000000 bytes"):
        import_book(book, bomb)
    assert book.rope_ids() == ()
    other.close()


def test_an_erased_photo_is_not_sent_and_does_not_come_back(book: Book, tmp_path: Path) -> None:
    other, path = _with_photo(tmp_path)
    name = sha256(a_photo()).hexdigest()
    import_book(book, path)
    erase(book, "photo", name, reason="a face in it")
    assert import_book(book, path).photos == 0
    assert not original_path(tmp_path / "photos", name).exists()
    out = tmp_path / "out.jsonl"
    export_book(book, out)
    assert not (tmp_path / "out.jsonl.photos").exists()
    assert run_checker(str(out)).returncode == 0
    (tmp_path / "out.jsonl.photos").mkdir()
    (tmp_path / "out.jsonl.photos" / name).write_bytes(a_photo())
    assert "was erased and is still here" in run_checker(str(out)).stdout
    other.close()


def test_two_ropes_of_one_name_are_told_apart(book: Book, tmp_path: Path) -> None:
    other = create_book(str(tmp_path / "other"), now=ticking())
    other.append([begun(), cluster(1), cluster(2)])
    said = Correction(corrects=cluster(2).entry_id, reason="none there")
    other.append([new_entry(said, MemoryPeople(), rope_id="rope 1")])
    path = tmp_path / "other.jsonl"
    export_book(other, path)
    book.append([cluster(3)])
    before = book.seal()
    with pytest.raises(BookError, match="rope 'rope 1' is in this book already"):
        import_book(book, path)
    assert book.seal() == before
    names = RopeNames(called={"rope 1": "rope 7"})
    assert import_book(book, path, names=names).ropes == ("rope 1",)
    assert import_book(book, path, names=names).taken == 0
    assert book.rope_ids() == ("rope 1", "rope 7")
    (mine, theirs) = book.standing()
    (there,) = other.standing()
    assert theirs == {**there, "rope": "rope 7"}
    assert (mine["findings"], theirs["findings"]) == (1, 1)  # by hand: one of two withdrawn
    assert book.entries("")[-1].entry.read(MemoryPeople()).called == {"rope 1": "rope 7"}
    assert verify(book).problems == ()
    with pytest.raises(UnknownNameError):
        import_book(book, path, names=RopeNames(called={"rope 9": "x"}))
    import_book(book, path, names=RopeNames(same=frozenset({"rope 1"})))
    assert book.standing()[0]["findings"] == 2
    other.close()


def test_who_was_erased_elsewhere_is_erased_here(book: Book, tmp_path: Path) -> None:
    other = create_book(str(tmp_path / "other"), now=ticking())
    take_in_dossier(other, a_dossier())
    path = tmp_path / "other.jsonl"
    export_book(other, path)
    import_book(book, path)
    (person, *_) = [json.loads(line) for line in export_lines(other) if '"line":"person"' in line]
    erase(other, "person", person["person"], reason="asked for")
    export_book(other, path)
    import_book(book, path)
    assert not [line for line in export_lines(book) if '"inspector one' in line]
    assert verify(book).problems == ()
    export_book(book, path)
    assert run_checker(str(path)).returncode == 0
    other.close()


def test_a_backup_comes_back_bit_for_bit(book: Book, tmp_path: Path) -> None:
    filled(book)
    saved = tmp_path / "saved.zip"
    seal = backup(book, saved)
    back = tmp_path / "back.book"
    assert restore(saved, back) == seal == book.seal()
    again = open_book(back)
    assert list(export_lines(again)) == list(export_lines(book))
    assert again.standing() == book.standing()
    assert verify(again, [seal]).problems == ()
    again_saved = tmp_path / "again.zip"
    backup(again, again_saved)
    assert again_saved.read_bytes() == saved.read_bytes()
    again.append([cluster(99)])
    again.close()
    with pytest.raises(BookError, match="there already"):
        restore(saved, back)


def test_a_backup_goes_from_one_database_to_the_other(server: Server, tmp_path: Path) -> None:
    first = filled(create_book(str(tmp_path / "first"), now=ticking()))
    backup(first, tmp_path / "1.zip")
    there = server.new_database()
    restore(tmp_path / "1.zip", there, photo_folder=tmp_path / "photos")
    second = open_book(there, photo_folder=tmp_path / "photos")
    backup(second, tmp_path / "2.zip")
    assert (tmp_path / "1.zip").read_bytes() == (tmp_path / "2.zip").read_bytes()
    assert verify(second, [first.seal()]).problems == ()
    first.close()
    second.close()


def test_a_damaged_backup_restores_nothing(tmp_path: Path) -> None:
    one = filled(create_book(str(tmp_path / "one"), now=ticking()))
    saved = tmp_path / "saved.zip"
    backup(one, saved)
    whole = saved.read_bytes()
    for cut in (0, 100, len(whole) // 2, len(whole) - 1):
        saved.write_bytes(whole[:cut])
        with pytest.raises((BookError, BrokenChainError)):
            restore(saved, tmp_path / "back")
    middle = len(whole) // 2
    saved.write_bytes(whole[:middle] + bytes([whole[middle] ^ 1]) + whole[middle + 1 :])
    with pytest.raises((BookError, BrokenChainError)):
        restore(saved, tmp_path / "back")
    assert {path.name for path in tmp_path.iterdir()} == {"one", "one.photos", "saved.zip"} | {
        path.name for path in tmp_path.glob("one-*")
    }
    one.close()


# --- Photos -----------------------------------------------------------------------------------


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP"])
def test_the_original_is_kept_bit_for_bit_and_the_copy_says_nothing(
    book: Book, tmp_path: Path, kind: str
) -> None:
    data = a_photo((3000, 2000), kind)
    name, receipt = add_photo(book, data, rope_id="rope 1", happened_on=DAY)
    assert b"CAMERA-WORD" in data
    assert original_path(tmp_path / "photos", name).read_bytes() == data
    copy = photo_to_show(book, name)
    assert not [word for word in (b"CAMERA-WORD", b"COMMENT-WORD", b"Exif", b"GPS") if word in copy]
    with Image.open(io.BytesIO(copy)) as shown:
        # By hand: the longer side becomes 1,600, so 2,000 × 1,600 / 3,000 = 1,067 for the other.
        assert (shown.format, shown.size, dict(shown.getexif())) == ("JPEG", (1600, 1067), {})
    assert receipt.sequence == 1
    assert verify(book).problems == ()


def test_the_copy_stands_upright(book: Book) -> None:
    image = Image.new("RGB", (60, 20), "red")
    exif = image.getexif()
    exif[0x0112] = 6  # the camera was turned
    out = io.BytesIO()
    image.save(out, "JPEG", exif=exif)
    name, _ = add_photo(book, out.getvalue(), rope_id="rope 1")
    with Image.open(io.BytesIO(photo_to_show(book, name))) as shown:
        assert shown.size == (20, 60)


def test_what_is_no_photo_is_refused(book: Book, monkeypatch: pytest.MonkeyPatch) -> None:
    whole = a_photo((400, 300))
    gif = io.BytesIO()
    Image.new("RGB", (4, 4)).save(gif, "GIF")
    for data, words in (
        (b"", "JPEG, PNG or WebP"),
        (b"<svg/>", "JPEG, PNG or WebP"),
        (gif.getvalue(), "JPEG, PNG or WebP"),
        (whole[: len(whole) // 2], "whole photo"),
    ):
        with pytest.raises(InputError, match=words):
            add_photo(book, data, rope_id="rope 1")
    monkeypatch.setattr("ropewright.logbook.photos.MOST_BYTES", 100)
    with pytest.raises(InputError, match="100 bytes"):
        add_photo(book, whole, rope_id="rope 1")
    monkeypatch.undo()
    monkeypatch.setattr("ropewright.logbook.photos.MOST_PIXELS", 100)
    with pytest.raises(InputError, match="100 pixels"):
        add_photo(book, whole, rope_id="rope 1")
    assert book.seal().sequence == 0


def test_a_picture_that_would_swell_is_refused(book: Book) -> None:
    swollen = io.BytesIO()
    Image.new("1", (20_000, 20_000)).save(swollen, "PNG")
    assert len(swollen.getvalue()) < 100_000
    with pytest.raises(InputError, match="pixels"):
        add_photo(book, swollen.getvalue(), rope_id="rope 1")


def test_an_erased_photo_is_gone_and_the_book_says_so(book: Book, tmp_path: Path) -> None:
    data = a_photo()
    name, _ = add_photo(book, data, rope_id="rope 1")
    erase(book, "photo", name, reason="a face is in it")
    for path in (original_path(tmp_path / "photos", name), shown_path(tmp_path / "photos", name)):
        assert not path.exists()
    with pytest.raises(BookError):
        photo_to_show(book, name)
    with pytest.raises(BookError):
        photo_to_show(book, "../../secret")
    with pytest.raises(InputError, match="not erased"):
        add_photo(book, data, rope_id="rope 1")
    assert verify(book).problems == ()
    backup(book, tmp_path / "saved.zip")
    assert data not in (tmp_path / "saved.zip").read_bytes()


def test_a_changed_or_missing_photo_is_noticed(book: Book, tmp_path: Path) -> None:
    name, _ = add_photo(book, a_photo(), rope_id="rope 1")
    path = original_path(tmp_path / "photos", name)
    path.write_bytes(path.read_bytes() + b"x")
    assert "was changed" in str(verify(book).problems[0])
    path.unlink()
    assert "is missing" in str(verify(book).problems[0])
    with pytest.raises(BookError, match="not be the whole book"):
        backup(book, tmp_path / "saved.zip")
    assert not (tmp_path / "saved.zip").exists()


# --- Other people's programs ------------------------------------------------------------------


def test_findings_as_a_table() -> None:
    rows = list(csv.DictReader(io.StringIO(findings_csv(CASES.values()).decode(), newline="")))
    wanted = sum(
        len(each.findings) + len(each.part_findings)
        for one in CASES.values()
        for each in one.inspections
    )
    assert len(rows) == wanted
    assert {row["invented"] for row in rows if row["crane"].startswith("KQ")} == {"invented data"}
    one = a_dossier()
    finding = replace(next(iter(CASES["KQ-1"].inspections[-1].findings)), remark="=1+1")
    with_formula = replace(one, inspections=(replace(one.inspections[0], findings=(finding,)),))
    assert b",'=1+1," in findings_csv([with_formula])


def test_what_is_due_as_a_calendar(book: Book) -> None:
    take_in_dossier(book, CASES["KQ-1"])
    dues = dues_of(book.standing())
    data = due_calendar(dues, book_id=book.book_id, made_at=NOON)
    assert data == due_calendar(dues, book_id=book.book_id, made_at=NOON)
    lines = data.decode().replace("\r\n ", "").split("\r\n")
    assert lines.count("BEGIN:VEVENT") == 1
    latest = max(CASES["KQ-1"].inspections, key=lambda one: one.on)
    assert latest.next_by == date(2026, 12, 9)
    assert "DTSTART;VALUE=DATE:20261209" in lines
    assert [line for line in lines if line.startswith("DESCRIPTION:invented data")]


# --- Older and newer --------------------------------------------------------------------------


def test_the_steps_make_the_tables_the_code_speaks_of(book: Book) -> None:
    from ropewright.logbook.tables import METADATA

    found = look_at(book.engine)
    assert set(METADATA.tables) <= set(found.get_table_names())
    for name, table in METADATA.tables.items():
        columns = {one["name"]: one for one in found.get_columns(name)}
        assert list(columns) == [column.name for column in table.columns], name
        for column in table.columns:
            assert columns[column.name]["nullable"] == column.nullable, (name, column.name)


def test_a_copied_file_is_a_book(tmp_path: Path) -> None:
    one = filled(create_book(str(tmp_path / "one"), now=ticking()))
    seal = one.seal()
    one.close()
    shutil.copyfile(tmp_path / "one", tmp_path / "two")
    two = open_book(tmp_path / "two", photo_folder=tmp_path / "one.photos")
    assert verify(two, [seal]).problems == ()
    two.close()
