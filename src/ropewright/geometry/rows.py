"""Places along the path as rows of multiples of the crane's measures, corrections included."""

from dataclasses import dataclass, fields
from typing import Final, Self

import numpy as np

from ropewright.errors import InputError
from ropewright.geometry.frames import DROP, MEASURES, ONE, Known
from ropewright.geometry.position import Floats, check_finite
from ropewright.geometry.reeving import Reeving, path_table


@dataclass(frozen=True, slots=True, kw_only=True)
class Corrections:
    """What calibration adds to the numbers as typed; all zero before.

    ``hook_zero_m`` is added to every hook reading, ``anchor_side_m`` to the rope between end A
    and the first sheave, ``lead_m`` to the rope between the last fall and the drum (on a twin
    drum: on both sides), ``rope_m`` to the rope's length; ``barrel_mm``, ``rise_mm`` and
    ``wraps`` [wraps] to the drum's barrel, layer rise and wraps of every layer.
    """

    hook_zero_m: float = 0.0
    anchor_side_m: float = 0.0
    lead_m: float = 0.0
    rope_m: float = 0.0
    barrel_mm: float = 0.0
    rise_mm: float = 0.0
    wraps: float = 0.0

    def __post_init__(self) -> None:
        for name in PARAMETERS:
            check_finite(f"corrections.{name}", getattr(self, name))

    def as_array(self) -> Floats:
        """The seven corrections in the order of `PARAMETERS`, each in its own unit [-]."""
        return np.array([getattr(self, name) for name in PARAMETERS], dtype=np.float64)

    @classmethod
    def from_array(cls, values: Floats) -> Self:
        """Make corrections from seven values in the order of `PARAMETERS`.

        Parameters
        ----------
        values
            Each in its own unit [-].
        """
        numbers = (float(value) for value in values)
        return cls(**dict(zip(PARAMETERS, numbers, strict=True)))


PARAMETERS: Final[tuple[str, ...]] = tuple(field.name for field in fields(Corrections))
NO_CORRECTIONS: Final = Corrections()


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class PathRows:
    """Rows that, multiplied by the measures, give path positions.

    ``start`` [m] and ``end`` [m] have one row per contact; ``out`` [m] is where the rope touches
    the drum at end B, ``base`` [m] where it leaves end A's fitting (on a twin drum: drum A).
    """

    start: Floats
    end: Floats
    out: Floats
    base: Floats


def path_rows(
    reeving: Reeving, *, rope_m: float | None = None, corrections: Corrections = NO_CORRECTIONS
) -> PathRows:
    """The path's rows with corrections applied.

    Parameters
    ----------
    reeving
        The path.
    rope_m
        Length of the rope [m]; needed only if both its ends lie on a twin drum.
    corrections
        What calibration found.
    """
    table = path_table(reeving)
    start, end, out = table.start.copy(), table.end.copy(), table.out.copy()
    base = np.zeros(MEASURES)
    if reeving.end_a == "drum":
        if rope_m is None:
            raise InputError(
                field="rope_m",
                expected="the rope's length, because end A lies on the drum too",
                given=None,
            )
        out[ONE] += 2 * corrections.lead_m
        base = -out / 2
        base[ONE] += (rope_m + corrections.rope_m) / 2
        before = corrections.lead_m
    else:
        out[ONE] += corrections.anchor_side_m + corrections.lead_m
        before = corrections.anchor_side_m
        start[table.lead_from :, ONE] += corrections.lead_m
        end[table.lead_from :, ONE] += corrections.lead_m
    start[:, ONE] += before
    end[:, ONE] += before
    rows = [start + base, end + base, out + base, base]
    for row in rows:  # a reading too low by the zero's error means less drop
        row[..., ONE] -= row[..., DROP] * corrections.hook_zero_m
    return PathRows(start=rows[0], end=rows[1], out=rows[2], base=rows[3])


def row_values(rows: Floats, measures: Floats, known: Known) -> Floats:
    """Multiply rows by measures; what depends on a measure not known becomes not-a-number.

    Parameters
    ----------
    rows
        One row [m], or several.
    measures
        One row per measure in [m] or [rad], one column per position.
    known
        Which measures are known.

    Returns
    -------
    array
        One number per position, for each row [m].
    """
    count = measures.shape[1]
    several = np.atleast_2d(rows)
    values = np.empty((len(several), count), dtype=np.float64)
    part = np.empty(count, dtype=np.float64)
    # A row holds two or three numbers beside zeros: adding those up beats a matrix product.
    for row, value in zip(several, values, strict=True):
        used = np.flatnonzero(row)
        if not known[used].all():
            value.fill(np.nan)
            continue
        value.fill(row[ONE])
        for measure in used[used != ONE].tolist():
            value += np.multiply(measures[measure], row[measure], out=part)
    return values if rows.ndim > 1 else values[0]
