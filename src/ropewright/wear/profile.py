"""A quantity along a line of metres: constant between edges, exact at them."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from ropewright.errors import InputError

_LEAST_CELL_M = 1e-9


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Profile:
    """Values between edges; zero before the first and after the last.

    ``edges_m`` has one number more than ``values`` [-] and rises.
    """

    edges_m: npt.NDArray[np.float64]
    values: npt.NDArray[np.float64]

    def __post_init__(self) -> None:
        """Refuse edges that do not rise or do not fit the values."""
        if self.edges_m.size != self.values.size + 1 or (np.diff(self.edges_m) <= 0).any():
            raise InputError(
                field="edges_m",
                expected="rising edges, one more than there are values",
                given=f"{self.edges_m.size} edges for {self.values.size} values",
            )

    def at(self, places_m: npt.NDArray[np.float64]) -> npt.NDArray[np.float64]:
        """Value at places; at an edge that of the cell behind it.

        Parameters
        ----------
        places_m
            The places [m].

        Returns
        -------
        array
            Zero outside the edges [-].
        """
        cell = np.searchsorted(self.edges_m, places_m, side="right") - 1
        inside = (cell >= 0) & (cell < self.values.size)
        found = np.zeros(places_m.shape)
        found[inside] = self.values[cell[inside]]
        return found

    def mean(self, from_m: float, to_m: float) -> float:
        """Mean value over a section from ``from_m`` [m] to ``to_m`` [m]; the result in [-]."""
        edges = np.clip(self.edges_m, from_m, to_m)
        return float((np.diff(edges) * self.values).sum() / (to_m - from_m))

    def means(self, edges_m: npt.NDArray[np.float64]) -> npt.NDArray[np.float64]:
        """Mean values of the steps between edges ``edges_m`` [m]; the result in [-]."""
        sums = np.concatenate([[0.0], np.cumsum(np.diff(self.edges_m) * self.values)])
        inside = np.interp(edges_m, self.edges_m, sums)
        return np.asarray(np.diff(inside) / np.diff(edges_m))

    def most(self, from_m: float, to_m: float) -> float:
        """Greatest value in a section from ``from_m`` [m] to ``to_m`` [m]; the result in [-].

        A place outside the edges counts as zero.
        """
        inside = (self.edges_m[1:] > from_m) & (self.edges_m[:-1] < to_m)
        return float(self.values[inside].max(initial=0.0))

    def moved(self, by_m: float) -> "Profile":
        """The same profile, ``by_m`` [m] further on."""
        return Profile(edges_m=self.edges_m + by_m, values=self.values)

    def mirrored(self, length_m: float) -> "Profile":
        """The profile measured from the other end of a length ``length_m`` [m]."""
        return Profile(edges_m=(length_m - self.edges_m)[::-1], values=self.values[::-1])

    def times(self, factor: float) -> "Profile":
        """The profile with its values multiplied by a ``factor`` [-]."""
        return Profile(edges_m=self.edges_m, values=self.values * factor)


def merged_edges(
    *lists_m: npt.NDArray[np.float64], from_m: float, to_m: float
) -> npt.NDArray[np.float64]:
    """All edges of several lines inside a section, the section's ends included.

    Parameters
    ----------
    lists_m
        Lists of edges [m].
    from_m, to_m
        The section [m].

    Returns
    -------
    array
        Rising edges, at least a nanometre apart [m].
    """
    every = np.concatenate([*lists_m, np.array([from_m, to_m])])
    every = np.unique(every[(every >= from_m) & (every <= to_m)])
    keep = np.concatenate([[True], np.diff(every) > _LEAST_CELL_M])
    edges = every[keep]
    edges[-1] = to_m
    return np.asarray(edges, dtype=np.float64)


def middles(edges_m: npt.NDArray[np.float64]) -> npt.NDArray[np.float64]:
    """Middles of the cells between edges ``edges_m`` [m]; the result in [m]."""
    return (edges_m[1:] + edges_m[:-1]) / 2


def even_edges(from_m: float, to_m: float, step_m: float) -> npt.NDArray[np.float64]:
    """Edges of even steps over a section; the last step may be shorter.

    Parameters
    ----------
    from_m, to_m
        The section [m].
    step_m
        Length of a step [m].

    Returns
    -------
    array
        Rising edges, the section's ends included [m].
    """
    count = max(1, int(np.ceil((to_m - from_m) / step_m - 1e-9)))
    return np.asarray(np.minimum(from_m + np.arange(count + 1) * step_m, to_m))


def sum_of(profiles: Sequence[Profile], *, from_m: float, to_m: float) -> Profile:
    """Sum of several profiles over a section.

    Parameters
    ----------
    profiles
        What to add up.
    from_m, to_m
        The section of the result [m].
    """
    edges = merged_edges(*(one.edges_m for one in profiles), from_m=from_m, to_m=to_m)
    at = middles(edges)
    values = np.zeros(at.shape)
    for one in profiles:
        values += one.at(at)
    return Profile(edges_m=edges, values=values)


def bins_profile(values: npt.NDArray[np.float64], bin_m: float) -> Profile:
    """A profile of evenly wide bins from zero on.

    Parameters
    ----------
    values
        One value per bin [-].
    bin_m
        Width of a bin [m].
    """
    return Profile(edges_m=np.arange(values.size + 1, dtype=np.float64) * bin_m, values=values)
