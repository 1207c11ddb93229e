"""The same ropes judged in a plain process, without anything that measures.

``python -m benchmarks.plain SEED NUMBER ...`` prints the JSON of each rope, one after the other.
"""

import sys

from benchmarks.ropes import TODAY, make_rope
from ropewright.intake import PackageShelf
from ropewright.rules import OWN_CHECKS, assess, assessment_as_json

RULES = ("iso-4309-2017", "us-29cfr-1926-1413", OWN_CHECKS)
SOFTWARE = "ropewright benchmark"


def main(seed: int, numbers: list[int]) -> None:
    """Judge the ropes and print what was found, as it is kept."""
    shelf = PackageShelf()
    rule_sets = [shelf.get(name) for name in RULES]
    for number in numbers:
        rope = make_rope(number, seed=seed)
        sys.stdout.write(assessment_as_json(assess(rope, rule_sets, TODAY, software=SOFTWARE)))


if __name__ == "__main__":
    main(int(sys.argv[1]), [int(number) for number in sys.argv[2:]])
