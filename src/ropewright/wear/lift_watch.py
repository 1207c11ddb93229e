"""When a load was picked up, how heavy the lift became, and where the crane was at that moment."""

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from ropewright.geometry import Axis
from ropewright.wear.loads import BETWEEN, EMPTY, LOADED, Bytes, Kilograms, LoadTables
from ropewright.wear.model import Floats, Places
from ropewright.wear.settings import TENTHS_PER_M

Numbers = npt.NDArray[np.intp]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Lifts:
    """Lifts that have ended: readings at the pick-up, and the greatest load.

    ``followed`` [-] has (lifts,) readings per axis in ten-thousandths of a metre or degree;
    ``peak_kg`` is (lifts,).
    """

    followed: dict[Axis, Places]
    peak_kg: Kilograms

    @property
    def hook_m(self) -> Floats:
        """Hook heights at the pick-ups [m]; none at all if the path does not depend on them."""
        hook = self.followed.get("hook_m")
        return np.zeros(0) if hook is None else hook / TENTHS_PER_M


class LiftWatch:
    """Finds lifts in the states of load, piece by piece; one under way is kept for the next."""

    def __init__(self, tables: LoadTables) -> None:
        """Start with an empty hook."""
        self._unknown = tables.unknown
        self._state = EMPTY
        self._begun: dict[Axis, int] = {}
        self._peak = 0

    def take(
        self,
        states: Bytes,
        kilograms: Kilograms,
        at: Numbers,
        followed: dict[Axis, Places],
    ) -> Lifts | None:
        """Lifts that end in a piece.

        Parameters
        ----------
        states
            (n,) empty, between or loaded [-].
        kilograms
            (n,) entries of the load tables [kg].
        at
            Samples that end a movement [-].
        followed
            Readings there [-].
        """
        turns = self._turns(states)
        known = kilograms
        if int(kilograms.max()) == self._unknown:
            known = np.where(kilograms == self._unknown, np.int32(0), kilograms)
        if not turns.size:
            if self._state == LOADED:
                self._peak = max(self._peak, int(known.max()))
            return None
        peaks = np.maximum.reduceat(known, turns)
        was_loaded = self._state == LOADED
        ups = turns[int(was_loaded) :: 2]
        up_peaks = peaks[int(was_loaded) :: 2]
        number = np.searchsorted(at, ups, side="right") - 1
        begun = {axis: values[number] for axis, values in followed.items()}
        if was_loaded:
            head = int(known[: turns[0]].max()) if turns[0] else 0
            begun = {
                axis: np.concatenate([np.array([self._begun[axis]], dtype=np.int32), values])
                for axis, values in begun.items()
            }
            first = np.array([max(self._peak, head)], dtype=np.int32)
            up_peaks = np.concatenate([first, up_peaks])
        self._state = EMPTY if (turns.size % 2 == 1) == was_loaded else LOADED
        if self._state == LOADED:
            self._begun = {axis: int(values[-1]) for axis, values in begun.items()}
            self._peak = int(up_peaks[-1])
            begun = {axis: values[:-1] for axis, values in begun.items()}
            up_peaks = up_peaks[:-1]
        return Lifts(followed=begun, peak_kg=up_peaks)

    def _turns(self, states: Bytes) -> Numbers:
        """Return the samples at which empty turns to loaded or back, 'between' left out."""
        changes = np.flatnonzero(states[1:] != states[:-1]) + 1
        changes = np.concatenate([[0], changes])
        changes = changes[states[changes] != BETWEEN]
        kinds = states[changes]
        turned = np.empty(kinds.size, dtype=np.bool_)
        turned[1:] = kinds[1:] != kinds[:-1]
        turned[:1] = kinds[:1] != self._state
        found: Numbers = changes[turned]
        return found

    def last(self) -> Lifts | None:
        """The lift that is under way at the log's end, if one is."""
        if self._state != LOADED:
            return None
        begun = {axis: np.array([value], dtype=np.int32) for axis, value in self._begun.items()}
        return Lifts(followed=begun, peak_kg=np.array([self._peak], dtype=np.int32))
