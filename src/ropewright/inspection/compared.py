"""What persons said of findings of two inspections: which are the same, which are not."""

from collections.abc import Iterable

from ropewright.inspection.experience import Comparison
from ropewright.inspection.findings import RopeFinding


class Compared:
    """Comparisons put in order: of two about the same findings the newest counts.

    Parameters
    ----------
    said
        What persons said, in the order of the record.
    """

    def __init__(self, said: Iterable[Comparison]) -> None:
        self._pairs: dict[tuple[str, str], bool] = {}
        self._new: set[str] = set()
        self._fates: dict[str, Comparison] = {}
        for one in sorted(said, key=lambda one: one.on):
            if one.earlier is not None and one.later is not None:
                self._pairs[one.earlier, one.later] = one.same
                if one.same:
                    self._new.discard(one.later)
            elif one.later is not None:
                self._new.add(one.later)
                self._pairs = {both: same for both, same in self._pairs.items()
                               if not (same and both[1] == one.later)}  # fmt: skip
            elif one.earlier is not None:
                self._fates[one.earlier] = one

    def is_named(self, earlier: RopeFinding, later: RopeFinding) -> bool:
        """Whether a person, or the finding itself, calls the later one the earlier one again."""
        said = self._pairs.get((earlier.finding_id, later.finding_id))
        if said is not None:
            return said
        return later.same_as == earlier.finding_id and later.finding_id not in self._new

    def is_apart(self, earlier: RopeFinding, later: RopeFinding) -> bool:
        """Whether a person said that the two are not the same, or that the later one is new."""
        said = self._pairs.get((earlier.finding_id, later.finding_id))
        return later.finding_id in self._new if said is None else not said

    def fate_of(self, finding: RopeFinding) -> Comparison | None:
        """What a person said became of a finding, ``None`` if nobody did."""
        return self._fates.get(finding.finding_id)
