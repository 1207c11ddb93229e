"""The same finding as last time?  Pairs between two inspections of one rope."""

import math
from collections.abc import Sequence
from typing import Final

import numpy as np

from ropewright.errors import InputError
from ropewright.geometry import Section
from ropewright.inspection import BrokenWires, Comparison, Inspection, Mark
from ropewright.matching.alignment import (
    MARK_ERR_M,
    USUAL_SHIFT_M,
    Alignment,
    MarkSeen,
    alignments,
    setting,
)
from ropewright.matching.chances import least_cost, pair_chances
from ropewright.matching.likeness import (
    Floats,
    Spot,
    found_again_chance,
    likeness,
    looked_at,
    spots_of,
)
from ropewright.matching.pairing import By, Pairing
from ropewright.matching.questions import fewer_than_before, vanished
from ropewright.rope import RopeHistory

_NEVER: Final = -1e9


def match(
    before: Inspection,
    after: Inspection,
    marks: Sequence[Mark | MarkSeen],
    history: RopeHistory,
    *,
    decisions: Sequence[Comparison] = (),
) -> tuple[Pairing, ...]:
    """Pair the findings of two inspections of one rope, one to one, at least cost.

    Places are rope positions, so cuts and end-for-end turns do not move them; what was cut off
    is told apart.  Two errors remain and are estimated: a shift and a stretch of the whole pass.

    Parameters
    ----------
    before, after
        The two inspections, the earlier first.
    marks
        Marks placed at both; of marks of one name the last before each inspection counts.
    history
        Cuts and turns of the rope.
    decisions
        What persons confirmed or overruled; it always holds.

    Returns
    -------
    tuple of Pairing
        Earlier findings in their order, then later ones that are new.

    Raises
    ------
    InputError
        If the inspections are not in order, or a decision contradicts another.
    """
    if before.on > after.on:
        raise InputError(
            field="before.on", expected=f"a day not after {after.on}", given=str(before.on)
        )
    work = _Work(before, after, marks, history, decisions)
    return work.pairings()


def align(
    before: Inspection, after: Inspection, marks: Sequence[Mark | MarkSeen], history: RopeHistory
) -> tuple[Alignment, ...]:
    """Shift and stretch between two inspections: the likely ones with their weights."""
    return _Work(before, after, marks, history, ()).alignments


def marks_seen(
    marks: Sequence[Mark | MarkSeen], before: Inspection, after: Inspection
) -> tuple[MarkSeen, ...]:
    """Marks that were placed at both inspections.

    Of the entries of one name the last one up to each inspection counts; a mark that was placed
    only once says nothing of the shift.
    """
    seen = [mark for mark in marks if isinstance(mark, MarkSeen)]
    placed = [mark for mark in marks if isinstance(mark, Mark) and mark.on is not None]
    for name in dict.fromkeys(mark.name for mark in placed):
        same = sorted(
            (mark for mark in placed if mark.name == name and mark.on is not None),
            key=lambda mark: (mark.on is not None, str(mark.on)),
        )
        early = [mark for mark in same if mark.on is not None and mark.on <= before.on]
        late = [mark for mark in same if mark.on is not None and before.on < mark.on <= after.on]
        if early and late:
            err = math.hypot(early[-1].place.rel_err_m, late[-1].place.rel_err_m)
            seen.append(
                MarkSeen(
                    name=name,
                    before_m=early[-1].place.at_m,
                    after_m=late[-1].place.at_m,
                    err_m=max(err, MARK_ERR_M),
                )
            )
    return tuple(seen)


class _Work:
    """The steps of one matching, each worked out once."""

    def __init__(
        self,
        before: Inspection,
        after: Inspection,
        marks: Sequence[Mark | MarkSeen],
        history: RopeHistory,
        decisions: Sequence[Comparison],
    ) -> None:
        self._before, self._after = before, after
        self._decisions = decisions
        left = Section(*history.at(after.on).in_service)
        everything = spots_of(before)
        self.cut_off = [one for one in everything if not one.finding.section.overlaps(left)]
        self.earlier = [one for one in everything if one.finding.section.overlaps(left)]
        self.later = list(spots_of(after))
        self.like = likeness(self.earlier, self.later)
        self.fixed = self._fixed()
        self.again = np.array(
            [
                found_again_chance(one, after)
                if looked_at(one, after, 0.0) or self._silent
                else 0.3
                for one in self.earlier
            ]
        )
        seen = marks_seen(marks, before, after)
        named = [
            MarkSeen(
                name=f"finding {self.earlier[row].finding.finding_id}",
                before_m=self.earlier[row].at_m,
                after_m=self.later[column].at_m,
                err_m=0.1,
            )
            for (row, column), same in self.fixed.items()
            if same and row >= 0 and column >= 0
        ]
        given = setting(
            self.earlier,
            self.later,
            self.like,
            self.again,
            (*seen, *named),
            _shift_sd_m(self.earlier, self.later),
            left.length_m,
        )
        self.given = given
        self.alignments = alignments(given)

    @property
    def _silent(self) -> bool:
        """Whether the later inspection records no pass at all."""
        return not self._after.passes

    def _fixed(self) -> dict[tuple[int, int], bool]:
        """What persons said, by row and column; -1 is 'stands alone'."""
        rows = {one.finding.finding_id: number for number, one in enumerate(self.earlier)}
        columns = {one.finding.finding_id: number for number, one in enumerate(self.later)}
        fixed: dict[tuple[int, int], bool] = {}
        for column, one in enumerate(self.later):
            row = rows.get(one.finding.same_as or "")
            if row is not None:
                fixed[row, column] = True
        for said in self._decisions:
            row = -1 if said.earlier is None else rows.get(said.earlier, -2)
            column = -1 if said.later is None else columns.get(said.later, -2)
            if -2 in (row, column) or row == column == -1:
                continue
            if said.same or row == -1 or column == -1:
                for key in [key for key in fixed if key[0] == row >= 0 or key[1] == column >= 0]:
                    del fixed[key]
                fixed[row, column] = True
            else:
                fixed[row, column] = False
        return fixed

    def _log_odds(self, by: Alignment) -> Floats:
        given = self.given
        moved = by.later_m(given.earlier_m)
        spread = np.sqrt(given.err**2 + by.variance(given.earlier_m)[:, None])
        off = (given.later_m[None, :] - moved[:, None]) / spread
        # tails heavier than a bell curve: now and then a place is simply written down wrong
        near = np.exp(-0.5 * np.minimum(off**2, 1400.0)) / (spread * math.sqrt(2 * math.pi))
        wrong = 0.02 * np.exp(-np.abs(given.later_m[None, :] - moved[:, None]) / 2.0) / 4.0
        log_odds: Floats = (
            given.like
            + np.log(given.again)[:, None]
            + np.log(np.maximum(0.98 * near + wrong, 1e-300))
            - math.log(given.per_metre)
        )
        return self._as_said(log_odds)

    def _as_said(self, log_odds: Floats) -> Floats:
        log_odds = log_odds.copy()
        for (row, column), same in self.fixed.items():
            if not same:
                log_odds[row, column] = _NEVER
                continue
            if row >= 0:
                log_odds[row, :] = _NEVER
            if column >= 0:
                log_odds[:, column] = _NEVER
        for (row, column), same in self.fixed.items():
            if same and row >= 0 and column >= 0:
                log_odds[row, column] = 150.0
        return log_odds

    def pairings(self) -> tuple[Pairing, ...]:
        alone = np.log(1.0 - self.again)
        best = self.alignments[0]
        chances = np.zeros_like(self.like)
        for one in self.alignments:
            chances += one.weight * pair_chances(self._log_odds(one), alone)
        # the assignment at least cost over all alignments together
        share_alone = np.maximum(1.0 - chances.sum(axis=1), 1e-12)
        new = np.maximum(1.0 - chances.sum(axis=0), 1e-12)
        odds = np.log(np.maximum(chances, 1e-300)) - np.log(new)[None, :]
        pairs = least_cost(np.where(chances > 1e-9, odds, _NEVER), np.log(share_alone))
        moved = best.later_m(self.given.earlier_m)
        found = [
            Pairing(
                earlier=one.finding.finding_id,
                later=None,
                kind="cut off",
                confidence=1.0,
                by="the record",
            )
            for one in self.cut_off
        ]
        for row, spot in enumerate(self.earlier):
            column = pairs.get(row)
            if column is None:
                found.append(self._alone(row, spot, float(share_alone[row]), best))
                continue
            now = self.later[column]
            gap = float(abs(self.given.later_m[column] - moved[row]))
            asks = ""
            if isinstance(spot.finding, BrokenWires) and isinstance(now.finding, BrokenWires):
                asks = fewer_than_before(spot.finding, now.finding)
            found.append(
                Pairing(
                    earlier=spot.finding.finding_id,
                    later=now.finding.finding_id,
                    kind="same",
                    confidence=min(1.0, float(chances[row, column])),
                    by=self._by(row, column),
                    gap_m=gap,
                    asks=asks,
                )
            )
        taken = set(pairs.values())
        for column, now in enumerate(self.later):
            if column not in taken:
                found.append(
                    Pairing(
                        earlier=None,
                        later=now.finding.finding_id,
                        kind="new",
                        confidence=min(1.0, float(new[column])),
                        by=self._by(-1, column),
                    )
                )
        return tuple(found)

    def _by(self, row: int, column: int) -> By:
        if not self.fixed.get((row, column)):
            return "worked out"
        earlier = self.earlier[row].finding.finding_id if row >= 0 else None
        later = self.later[column].finding.finding_id if column >= 0 else None
        for said in self._decisions:
            if (said.earlier, said.later) == (earlier, later):
                return "confirmed"
        return "named in the finding"

    def _alone(self, row: int, spot: Spot, confidence: float, best: Alignment) -> Pairing:
        shift_m = float(best.later_m(np.array([spot.at_m]))[0]) - spot.at_m
        seen = looked_at(spot, self._after, shift_m)
        by = self._by(row, -1)
        return Pairing(
            earlier=spot.finding.finding_id,
            later=None,
            kind="not found again" if seen else "not looked at",
            confidence=confidence,
            by=by,
            asks=vanished(spot.finding, self._before, self._after)
            if seen and by == "worked out"
            else "",
        )


def _shift_sd_m(earlier: Sequence[Spot], later: Sequence[Spot]) -> float:
    """Shift that is reckoned with: the errors that each pass states for all its places."""
    stated = [
        max((one.finding.place.abs_err_m for one in spots), default=0.0)
        for spots in (earlier, later)
    ]
    # a stated ± is about two standard deviations
    return max(0.1, math.hypot(*(0.5 * (value or USUAL_SHIFT_M) for value in stated)))
