"""Adding up over bins: crossings of their middles, and sections that cover them.

The rule at the edges: places are whole tenths of a millimetre; bin number ``k`` lies on end A's
side of a tangent point when its middle lies before that point, and on the drum's side when it
lies at or behind it.  So a point that goes from one place to another passes exactly the bins
whose middles lie at or behind the lower place and before the higher one.
"""

from typing import TypeAlias

import numpy as np
import numpy.typing as npt

from ropewright.wear.model import Ints, Places
from ropewright.wear.settings import TENTHS_PER_M

Rows: TypeAlias = Ints | Places | npt.NDArray[np.uint8]


class Bins:
    """Bins of one width from end A on."""

    def __init__(self, count: int, bin_m: float) -> None:
        """Make ``count`` bins of ``bin_m`` [m]."""
        self.count = count
        self._width = round(bin_m * TENTHS_PER_M)
        self._lift = self._width // 2 - 1

    def before(self, places: Places) -> Places:
        """How many bins lie before places.

        Parameters
        ----------
        places
            (n,) places in tenths of a millimetre from end A [-].

        Returns
        -------
        array
            (n,) numbers of bins, from 0 to all of them [-].
        """
        numbers = (places + np.int32(self._lift)) // np.int32(self._width)
        return np.clip(numbers, 0, self.count, out=numbers)


class Sums:
    """Whole-number sums, one row of bins per class."""

    def __init__(self, classes: int, bins: Bins) -> None:
        """Start with nothing in ``classes`` [-] rows."""
        self._bins = bins
        self._steps = np.zeros((classes, bins.count + 1), dtype=np.int64)

    def cover(self, first: Places, behind: Places, rows: Rows, times: Ints | None = None) -> None:
        """Add one, or so many, to all bins of sections.

        Parameters
        ----------
        first, behind
            (n,) first bin of each section and the first one behind it; an empty or turned round
            section adds nothing [-].
        rows
            (n,) row of each [-].
        times
            (n,) how much to add; one, if not given [-].
        """
        some = np.flatnonzero(first < behind)
        if not some.size:
            return
        at = rows[some] * np.int64(self._bins.count + 1)
        if times is None:
            size = self._steps.size
            begun = np.bincount(at + first[some], minlength=size)
            begun -= np.bincount(at + behind[some], minlength=size)
            self._steps += begun.reshape(self._steps.shape)
            return
        flat = self._steps.reshape(-1)
        np.add.at(flat, at + first[some], times[some])
        np.subtract.at(flat, at + behind[some], times[some])

    def passed(self, first: Places, last: Places, rows: Rows) -> None:
        """Add one to all bins that a point passes going from one place to another, either way.

        Parameters
        ----------
        first, last
            (n,) bins before the point's places [-].
        rows
            (n,) row of each [-].
        """
        self.cover(np.minimum(first, last), np.maximum(first, last), rows)

    def copy(self) -> "Sums":
        """The same sums, to go on with elsewhere."""
        twin = Sums(self._steps.shape[0], self._bins)
        twin._steps += self._steps
        return twin

    def total(self) -> Ints:
        """The sums, (classes, bins) [-]."""
        return np.cumsum(self._steps, axis=1)[:, :-1]
