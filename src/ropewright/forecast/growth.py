"""How broken wires multiply: the mean course, and what passes leave unseen."""

from collections.abc import Sequence

import numpy as np

from ropewright.forecast._numeric import Floats

_LARGEST_EXPONENT = 600.0  # beyond it the mean is larger than any rope


def expected_breaks(clock: Floats, life: Floats, steepness: Floats, at_life: float) -> Floats:
    """Mean number of breaks per window since the rope was fitted.

    The intensity grows log-linearly from the day of fitting; the mean starts at zero and
    reaches ``at_life`` when the clock reads ``life``.

    Parameters
    ----------
    clock
        Clock readings since fitting, in clock units [-].
    life
        Reading at which the mean window has ``at_life`` breaks, in clock units [-].
    steepness
        Number of e-folds over the life [-].
    at_life
        Breaks per window at ``life`` [-].

    Returns
    -------
    Floats
        Mean breaks per window [-].
    """
    power = np.minimum(steepness * clock / life, _LARGEST_EXPONENT)
    grown: Floats = at_life * np.expm1(power) / np.expm1(steepness)
    return grown


def life_for(breaks: Floats, clock: float, steepness: Floats, at_life: float) -> Floats:
    """The life that gives a mean of ``breaks`` at ``clock``: the inverse of the mean course.

    Parameters
    ----------
    breaks
        Mean breaks per window at ``clock`` [-].
    clock
        Clock reading, in clock units [-].
    steepness
        Number of e-folds over the life [-].
    at_life
        Breaks per window at the life [-].

    Returns
    -------
    Floats
        The life in clock units [-].
    """
    life: Floats = steepness * clock / np.log1p(breaks * np.expm1(steepness) / at_life)
    return life


def seen_and_unseen(
    grown: Sequence[Floats], chances: Sequence[Floats], shares: Floats
) -> tuple[list[Floats], Floats]:
    """What each pass is expected to find newly, and what stays unseen after the last.

    Found breaks stay known, so each class of breaks is thinned by every pass; whatever the
    classes, newly found and unseen add up to all that grew.

    Parameters
    ----------
    grown
        Mean breaks grown since the pass before, one array over nodes for each pass [-].
    chances
        For each pass the chance to find a break of each class, shape (detection, class) [-].
    shares
        Share of breaks in each class, shape (class,) [-].

    Returns
    -------
    tuple
        Expected newly found breaks for each pass, shape (detection, node), and expected
        unseen breaks after the last, same shape [-].
    """
    detections, classes = chances[0].shape
    nodes = grown[0].shape[0]
    unseen = np.zeros((detections, classes, nodes))
    found: list[Floats] = []
    for more, chance in zip(grown, chances, strict=True):
        unseen += shares[None, :, None] * more[None, None, :]
        found.append(np.einsum("dk,dkn->dn", chance, unseen))
        unseen *= (1.0 - chance)[:, :, None]
    return found, unseen.sum(axis=1)
