"""Duty logs: what a crane did, sample by sample or lift by lift, read piece by piece.

This room knows logs in CSV and Parquet, the small file that says which column is what and in
which unit, lists of lifts, and descriptions of a duty.  A moment without a zone is refused.
It refuses to know what a good log is: gaps, jumps and slack rope go on as they are, and are
judged where bends are counted.
"""

from ropewright.intake.duty.counting import counting_of
from ropewright.intake.duty.lift_list import FileKind, LiftRecord, kind_of_file, read_lifts
from ropewright.intake.duty.mapping import LogMapping, read_mapping
from ropewright.intake.duty.reading import duty_log

__all__ = [
    "FileKind",
    "LiftRecord",
    "LogMapping",
    "counting_of",
    "duty_log",
    "kind_of_file",
    "read_lifts",
    "read_mapping",
]
