"""The case file: what a person wrote down about one rope, read into a dossier.

This room knows the one TOML format with its tables and keys, quantities as text with a unit,
places by rope position or by the path of a day, and lists of findings in CSV or XLSX.  It
knows how to say what is wrong: which file, which field, what is expected, what was given, for
every error of a file at once.  It refuses to know any limit, any rule's content or any
verdict: rule sets are names here.  It asks no clock: a date in the future is as good as any.
"""

from ropewright.intake.casefile import CaseFile, load_case, read_case
from ropewright.intake.findings_list import read_findings
from ropewright.intake.listed_inspection import inspection_of_list
from ropewright.intake.old_cards import CARD_COLUMNS, CardLine, OldCards, read_old_cards
from ropewright.intake.schema import case_schema
from ropewright.intake.shelf import FolderShelf, PackageShelf
from ropewright.intake.write_case import write_case
from ropewright.intake.write_sheets import sheets_xlsx, write_workbook

__all__ = [
    "CARD_COLUMNS",
    "CardLine",
    "CaseFile",
    "FolderShelf",
    "OldCards",
    "PackageShelf",
    "case_schema",
    "inspection_of_list",
    "load_case",
    "read_case",
    "read_findings",
    "read_old_cards",
    "sheets_xlsx",
    "write_case",
    "write_workbook",
]
