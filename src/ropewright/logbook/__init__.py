"""The append-only record of every rope: what happened, who said so, and proof that it stayed so.

This room knows entries and their kinds, the chain that binds them, where they are stored, how a
dossier is taken apart into entries and put together again at any past day, photos, persons
and their erasure, seals, exports and backups.  It refuses to know rules and verdicts, case
files, paper and screens, and what is due today: it holds what people said and never decides.
An entry is never changed; a correction is another entry.
"""

from ropewright.logbook.appending import Receipt
from ropewright.logbook.backup import backup, restore
from ropewright.logbook.book import Book, Clock, Stored, create_book, open_book
from ropewright.logbook.canon import corrected
from ropewright.logbook.checking import Checked, Rebuilt, rebuild, verify
from ropewright.logbook.codec import PersonId
from ropewright.logbook.corrections import corrected_entries
from ropewright.logbook.desk import BookCase, LogbookDesk
from ropewright.logbook.dues import Due, due_calendar, dues_of
from ropewright.logbook.entry import (
    Entry,
    Hand,
    check_entry,
    new_entry,
    parse_entry,
    stable_id,
)
from ropewright.logbook.erasing import erase
from ropewright.logbook.exchange import TakenIn, export_book, export_lines, import_book
from ropewright.logbook.from_dossier import entries_from_dossier
from ropewright.logbook.kinds import KINDS, ROLES, Kind, Role, kind_of
from ropewright.logbook.people import MemoryPeople, People
from ropewright.logbook.photos import add_photo, photo_to_show
from ropewright.logbook.seal import Seal
from ropewright.logbook.sheets import findings_csv
from ropewright.logbook.standing import Standing, standing_of
from ropewright.logbook.take_in import Account, take_in_dossier
from ropewright.logbook.to_dossier import dossier_from_entries

__all__ = [
    "Account",
    "Book",
    "BookCase",
    "Checked",
    "Clock",
    "Due",
    "Entry",
    "Hand",
    "KINDS",
    "Kind",
    "LogbookDesk",
    "MemoryPeople",
    "People",
    "PersonId",
    "ROLES",
    "Rebuilt",
    "Receipt",
    "Role",
    "Seal",
    "Standing",
    "Stored",
    "TakenIn",
    "add_photo",
    "backup",
    "check_entry",
    "corrected",
    "corrected_entries",
    "create_book",
    "dossier_from_entries",
    "due_calendar",
    "dues_of",
    "entries_from_dossier",
    "erase",
    "export_book",
    "export_lines",
    "findings_csv",
    "import_book",
    "kind_of",
    "new_entry",
    "open_book",
    "parse_entry",
    "photo_to_show",
    "rebuild",
    "restore",
    "stable_id",
    "standing_of",
    "take_in_dossier",
    "verify",
]
