"""Hook heights from the drum's turns, for logs that count turns."""

import numpy as np

from ropewright.errors import InputError
from ropewright.geometry import Axis, CranePositions, Hoist
from ropewright.wear.model import Floats, Readings


def hook_from_turns(hoist: Hoist, turns: Readings, axes: dict[Axis, Readings]) -> Floats:
    """Hook heights at which so many turns of rope lie on the drum.

    Parameters
    ----------
    hoist
        The hoist; its drum and rope length must be known.
    turns
        (n,) turns from the clamp; more than the drum holds, or none, gives not-a-number [turns].
    axes
        The log's other readings, metres or degrees [-].

    Returns
    -------
    array
        (n,) hook heights [m].

    Raises
    ------
    InputError
        If drum or rope length are missing, or the path does not depend on the hook.
    """
    drum = hoist.wound_drum()
    length = hoist.rope_length_m()
    values = np.asarray(turns, dtype=np.float64)
    known = (values >= 0) & (values <= sum(drum.wraps))  # false for not-a-number
    on_drum = np.full(values.shape, np.nan)
    on_drum[known] = drum.metres_at_turns(values[known])
    rest = dict(axes)
    rest.pop("hook_m", None)
    out_at_zero = _out_m(hoist, rest, 0.0, values.size)
    per_metre = _out_m(hoist, rest, 1.0, values.size) - out_at_zero
    if (np.abs(per_metre) < 1e-9).any():
        raise InputError(
            field="drum_turns",
            expected="a rope that is paid out as the hook goes down",
            given="a path that does not depend on the hook height",
        )
    hook: Floats = (length - on_drum - out_at_zero) / per_metre
    return hook


def _out_m(hoist: Hoist, rest: dict[Axis, Readings], hook_m: float, count: int) -> Floats:
    """Return where the rope touches the drum at end B, with the hook at one height [m]."""
    at = CranePositions(
        hook_m=np.full(count, hook_m),
        **{axis: np.asarray(column, dtype=np.float64) for axis, column in rest.items()},
    )
    measures, _ = hoist.reeving.frame.measures(at)
    out: Floats = hoist.rows().out @ measures
    return out
