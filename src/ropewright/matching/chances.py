"""One-to-one assignment at least cost, and how sure each pair is among all assignments."""

import numpy as np
from scipy.optimize import linear_sum_assignment  # type: ignore[import-untyped]

from ropewright.matching.likeness import Floats

_ROUNDS = 60
_NEVER = -1e8


def least_cost(log_odds: Floats, log_alone: Floats) -> dict[int, int]:
    """Pairs of the assignment at least cost; everything else stands alone.

    Parameters
    ----------
    log_odds
        Logarithm of the odds of each pair against the later finding being new [-].
    log_alone
        Logarithm of the chance that each earlier finding is not found again [-].

    Returns
    -------
    dict
        Row to column.
    """
    rows, columns = log_odds.shape
    if rows == 0 or columns == 0:
        return {}
    cost = np.full((rows, columns + rows), 1e9)
    cost[:, :columns] = np.minimum(-log_odds, 1e9)
    cost[np.arange(rows), columns + np.arange(rows)] = -log_alone
    chosen_rows, chosen = linear_sum_assignment(cost)
    return {
        int(row): int(column)
        for row, column in zip(chosen_rows, chosen, strict=True)
        if column < columns and log_odds[row, column] > _NEVER
    }


def pair_chances(log_odds: Floats, log_alone: Floats) -> Floats:
    """Chance of each pair over all one-to-one assignments, by message passing.

    Summing over all assignments is out of reach beyond a dozen findings; passing messages
    between rows and columns until they settle comes close to it.

    Parameters
    ----------
    log_odds
        Logarithm of the odds of each pair against the later finding being new [-].
    log_alone
        Logarithm of the chance that each earlier finding is not found again [-].

    Returns
    -------
    ndarray
        Chance of each pair [-]; what is missing to 1 in a row or column is standing alone.
    """
    rows, columns = log_odds.shape
    if rows == 0 or columns == 0:
        return np.zeros((rows, columns))
    odds = np.exp(np.clip(log_odds - log_alone[:, None], -200.0, 200.0))
    to_row = np.ones_like(odds)
    # sums over all others are added up, never subtracted: the odds differ by many powers of ten
    other_columns, other_rows = 1.0 - np.eye(columns), 1.0 - np.eye(rows)
    for _ in range(_ROUNDS):
        to_column = odds / (1.0 + (odds * to_row) @ other_columns)
        to_row = 0.5 * to_row + 0.5 / (1.0 + other_rows @ to_column)
    strength = odds * to_row
    chances: Floats = strength / (1.0 + strength.sum(axis=1, keepdims=True))
    return chances
