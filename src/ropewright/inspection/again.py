"""Whether an earlier finding was found again, and no milder than it was then.

Steel does not heal.  So a later finding answers an earlier one only if it is of the same kind,
at the same place or named as the same by a person, and at least as grave.  A place's error
never helps to explain an earlier finding away: only the stated places are compared.
"""

from collections.abc import Callable, Iterable, Sequence
from fractions import Fraction
from typing import Final, TypeAlias

from ropewright.geometry import union
from ropewright.inspection.findings import (
    DAMAGE_WORDS,
    BreakGroup,
    BreakSite,
    BrokenWires,
    Damage,
    DiameterReading,
    MetallicLoss,
    RopeFinding,
    Waviness,
)
from ropewright.inspection.windows import CountedGroup, nanometres, worst_window

#: Two findings whose stated places are no farther apart are taken for the same one [m].
SAME_PLACE_M: Final = 0.5

#: A length taped twice may differ by this much [mm].
RETAPED_MM: Final = Fraction(10)

_NANOMETRES_PER_MM: Final = 1_000_000


def is_near(earlier: RopeFinding, later: RopeFinding) -> bool:
    """Whether two findings of one kind and form lie at the same place, as stated."""
    return is_same_kind(earlier, later) and earlier.section.widened(SAME_PLACE_M).overlaps(
        later.section
    )


def is_same_kind(earlier: RopeFinding, later: RopeFinding) -> bool:
    """Whether two findings are of one kind; a form that was stated must be stated again."""
    if isinstance(earlier, Damage) and isinstance(later, Damage):
        return earlier.damage == later.damage and earlier.form in (None, later.form)
    return earlier.kind == later.kind


def is_as_grave(
    earlier: RopeFinding,
    later: Sequence[RopeFinding],
    *,
    by_name: bool,
    baseline_mm: Fraction,
) -> bool:
    """Whether later findings together are at least as grave as an earlier one.

    Parameters
    ----------
    earlier
        The earlier finding.
    later
        Findings that are taken for the same one.
    by_name
        A person named them as the same, so they may lie elsewhere than first stated.
    baseline_mm
        Diameter of the sound rope: of two readings the one farther from it is graver [mm].
    """
    same = [one for one in later if is_same_kind(earlier, one)]
    if not same:
        return False
    if isinstance(earlier, BrokenWires):
        return _as_many(earlier, [one for one in same if isinstance(one, BrokenWires)])
    if isinstance(earlier, DiameterReading):
        return any(_as_far(earlier, one, baseline_mm) for one in same)
    grave = [one for one in same if _as_severe(earlier, one)]
    if by_name:
        wanted = earlier.section.length_m - SAME_PLACE_M
        return any(one.section.length_m >= wanted for one in grave)
    reached = union(one.section.widened(SAME_PLACE_M) for one in grave)
    return any(piece.contains(earlier.section) for piece in reached)


def count_now(earlier: BrokenWires, later: Iterable[RopeFinding]) -> int:
    """Broken wires that later findings surely have within a length as short as then [-]."""
    return _Recount(earlier, [one for one in later if isinstance(one, BrokenWires)]).sure(_any)


_GRAVE_SITES: Final[tuple[BreakSite, ...]] = ("valley", "end")
_Chosen: TypeAlias = Callable[[BreakGroup], bool]


def _any(_group: BreakGroup) -> bool:
    return True


class _Recount:
    """Later clusters, counted within a length as short as an earlier cluster had."""

    def __init__(self, earlier: BrokenWires, later: Sequence[BrokenWires]) -> None:
        taped_mm = earlier.offset_err_mm + max((one.offset_err_mm for one in later), default=0)
        first_mm = min(group.from_mm for group in earlier.groups)
        last_mm = max(group.to_mm for group in earlier.groups)
        self._window_nm = _nm(last_mm - first_mm + 2 * taped_mm + RETAPED_MM)
        self.groups = [group for one in later for group in one.groups]
        self._counted = [
            CountedGroup(
                from_nm=(base := nanometres(one.place.at_m)) + _nm(group.from_mm),
                to_nm=base + _nm(group.to_mm),
                count=group.count,
            )
            for one in later
            for group in one.groups
        ]

    def sure(self, chosen: _Chosen) -> int:
        """Broken wires of the chosen groups that surely lie within one such length [-]."""
        held = [
            counted
            for group, counted in zip(self.groups, self._counted, strict=True)
            if chosen(group)
        ]
        worst = worst_window(held, self._window_nm)
        return 0 if worst is None else worst.lower


def _as_many(earlier: BrokenWires, later: Sequence[BrokenWires]) -> bool:
    """At least as many as close together: in all, of the kinds that weigh more, in one strand."""
    now = _Recount(earlier, later)
    if now.sure(_any) < earlier.count:
        return False
    for site in _GRAVE_SITES:
        then = sum(group.count for group in earlier.groups if group.site == site)
        if then and now.sure(_on(site)) < then:
            return False
    for width in (1, 2):
        then = _most_in_strands(earlier, width)
        if then > 1 and then > max(
            (now.sure(_in(strands)) for strands in _runs(now.groups, width)), default=0
        ):
            return False
    return True


def _runs(groups: Sequence[BreakGroup], width: int) -> list[range]:
    """Runs of neighbouring strands that begin at a strand with breaks."""
    numbers = {group.strand for group in groups if group.strand}
    return [range(number, number + width) for number in sorted(numbers)]


def _on(site: BreakSite) -> _Chosen:
    return lambda group: group.site == site


def _in(strands: range) -> _Chosen:
    return lambda group: group.strand in strands


def _most_in_strands(cluster: BrokenWires, width: int) -> int:
    return max(
        (
            sum(group.count for group in cluster.groups if group.strand in strands)
            for strands in _runs(cluster.groups, width)
        ),
        default=0,
    )


def _nm(length_mm: Fraction) -> int:
    return length_mm.numerator * _NANOMETRES_PER_MM // length_mm.denominator


def _as_severe(earlier: RopeFinding, later: RopeFinding) -> bool:
    if isinstance(earlier, Waviness):
        return isinstance(later, Waviness) and later.gap_mm >= earlier.gap_mm
    if isinstance(earlier, MetallicLoss):
        return isinstance(later, MetallicLoss) and _as_lossy(earlier, later)
    if not (isinstance(earlier, Damage) and isinstance(later, Damage)):
        return False
    then, now = _rank(earlier), _rank(later)
    if then is not None and (now is None or now < then):
        return False
    if not _at_least(earlier.depth_share, later.depth_share):
        return False
    graver = now is not None and (then is None or now > then)
    return graver or _at_least(earlier.rating_percent, later.rating_percent)


def _as_lossy(earlier: MetallicLoss, later: MetallicLoss) -> bool:
    """As much lost, of the same thing, over a length that is no longer."""
    then, now = earlier.over_mm, later.over_mm
    as_short = now is not None and (then is None or now <= then)
    return later.of == earlier.of and later.percent >= earlier.percent and as_short


def _rank(finding: Damage) -> int | None:
    """Place of the grade among those for this damage, mildest first; ``None`` if not stated."""
    grades = DAMAGE_WORDS[finding.damage][1]
    return None if finding.grade is None else grades.index(finding.grade)


def _at_least(then: Fraction | None, now: Fraction | None) -> bool:
    return then is None or (now is not None and now >= then)


def _as_far(earlier: DiameterReading, later: RopeFinding, baseline_mm: Fraction) -> bool:
    then = earlier.measured_mm
    now = later.measured_mm if isinstance(later, DiameterReading) else None
    if then is None or now is None:
        return then is None and now is not None
    return now <= then if then <= baseline_mm else now >= then
