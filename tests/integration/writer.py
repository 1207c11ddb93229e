"""A program that adds entries until it is killed, and says so after each one that was taken.

    python writer.py ADDRESS NUMBER HOW-MANY

Run by the tests, in a process of its own.
"""

import sys

from ropewright.errors import RopewrightError
from ropewright.logbook import open_book
from tests.unit.logbook.entries import cluster


def main() -> int:
    """Add entries in small groups; a line is printed only after they are on the disk."""
    address, name, count = sys.argv[1], sys.argv[2], int(sys.argv[3])
    try:
        book = open_book(address)
        sys.stdout.write("open\n")
        sys.stdout.flush()
        for number in range(0, count, 3):
            entries = [cluster(number + each, f"rope {number % 4}", salt=name) for each in range(3)]
            for receipt in book.append(entries):
                sys.stdout.write(f"{receipt.entry_id} {receipt.sequence} {receipt.book_hash}\n")
            sys.stdout.flush()
    except RopewrightError as error:  # the server was killed: say nothing more was taken
        sys.stderr.write(f"{error}\n")
        return error.exit_code
    return 0


if __name__ == "__main__":
    sys.exit(main())
