"""How a log is to be counted, as its mapping states it; the usual values for all else."""

from ropewright.intake.duty.mapping import LogMapping
from ropewright.wear import Counting, LoadClasses

CLASSES = 20


def counting_of(mapping: LogMapping | None, *, greatest_load_t: float) -> Counting:
    """Settings for counting a log.

    Parameters
    ----------
    mapping
        What the mapping states wins.
    greatest_load_t
        The greatest load, hook block included, if the mapping does not state it [t].
    """
    stated = None if mapping is None else mapping.counting
    if stated is None:
        return Counting(classes=LoadClasses.even(greatest_load_t, classes=CLASSES))
    if stated.greatest_load is not None:
        greatest_load_t = float(stated.greatest_load) / 1000
    thousandths = {
        "bin_m": stated.bin,
        "jitter_m": stated.jitter,
        "block_t": stated.block,
        "lifted_from_t": stated.lifted_from,
    }
    settings = {
        name: float(value) / 1000 for name, value in thousandths.items() if value is not None
    }
    for name in ("gap_s", "hook_speed_m_per_s"):
        value = getattr(stated, name)
        if value is not None:
            settings[name] = value
    return Counting(classes=LoadClasses.even(greatest_load_t, classes=CLASSES), **settings)
