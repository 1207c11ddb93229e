"""Loads as whole kilograms, looked up in tables: the class of each, and whether it is a lift."""

from typing import Final, TypeAlias

import numpy as np
import numpy.typing as npt

from ropewright.wear.model import Readings
from ropewright.wear.settings import Counting

Kilograms: TypeAlias = npt.NDArray[np.int32]
Bytes: TypeAlias = npt.NDArray[np.uint8]

EMPTY: Final = 0
BETWEEN: Final = 1
LOADED: Final = 2
DOWN_SHARE: Final = 0.8
"""A lift ends when the load beside the block falls below this share of what began it; own."""


class LoadTables:
    """From whole kilograms to a class, by a table, and to empty, between or loaded.

    Below zero counts as zero; beyond the last bound all loads are one; the table's last entry
    stands for a load that is not known.
    """

    def __init__(self, counting: Counting) -> None:
        """Make the table; loads are in whole kilograms."""
        classes = counting.classes
        self._top = int(np.ceil(classes.upper_t[-1] * 1000)) + 1
        kilograms = np.arange(self._top + 1)
        bounds = np.round(np.array(classes.upper_t) * 1000, 6)
        begins = counting.loaded_above_t * 1000
        block = (counting.block_t or 0.0) * 1000
        ends = block + DOWN_SHARE * (begins - block) if begins > block else DOWN_SHARE * begins
        self._not_empty = np.int32(np.count_nonzero(kilograms < ends))
        self._loaded = np.int32(np.count_nonzero(kilograms <= begins))
        number = np.full(self._top + 2, classes.unknown, dtype=np.uint8)
        number[:-1] = np.searchsorted(bounds, kilograms, side="left")
        self.classes: Bytes = number
        self.most_t = 0.0

    def read(self, load_t: Readings | None, size: int) -> tuple[Kilograms, Bytes]:
        """Loads of a series, and whether each is empty, between or loaded.

        Parameters
        ----------
        load_t
            (n,) loads [t]; none at all if they are not known.
        size
            How many there are.
        """
        if load_t is None:
            unknown = np.full(size, self.unknown, dtype=np.int32)
            return unknown, np.full(size, BETWEEN, dtype=np.uint8)
        kilograms = self.kilograms(load_t)
        states = (kilograms >= self._not_empty).view(np.uint8)
        states += (kilograms >= self._loaded).view(np.uint8)
        if int(kilograms.max()) == self.unknown:
            states[kilograms == self.unknown] = BETWEEN
        return kilograms, states

    @property
    def unknown(self) -> int:
        """What stands for a load that is not known [kg]."""
        return self._top + 1

    def kilograms(self, load_t: Readings) -> Kilograms:
        """Loads as entries of the tables.

        Parameters
        ----------
        load_t
            (n,) loads [t].

        Returns
        -------
        array
            (n,) whole kilograms, at most one more than the last bound, or the unknown [kg].
        """
        most = float(load_t.max())
        known = None
        if not np.isfinite(most):
            known = np.isfinite(load_t)
            load_t = np.where(known, load_t, load_t.dtype.type(0))
            most = float(load_t.max())
        self.most_t = max(self.most_t, most)
        rounded = load_t * load_t.dtype.type(1000)
        np.rint(rounded, out=rounded)
        np.clip(rounded, 0, self._top, out=rounded)
        whole: Kilograms = rounded.astype(np.int32)
        if known is not None:
            whole[~known] = self.unknown
        return whole
