"""A count as plain arrays and back, to keep it in a file."""

import json
from collections.abc import Mapping
from dataclasses import asdict
from typing import Any, Final, get_args

import numpy as np

from ropewright.errors import InputError
from ropewright.wear.model import BendCount, PickUps
from ropewright.wear.quality import Origin, QualityReport, Reset
from ropewright.wear.settings import LoadClasses

_FORM: Final = 1
_ARRAYS: Final = (
    "half_bends", "reverse_bends", "wound_on", "drum_layer", "crossover", "layer_change",
)  # fmt: skip
_HELD: Final = ("counts", "rest_ms", "hook_counts")


def count_to_arrays(count: BendCount) -> dict[str, np.ndarray[Any, Any]]:
    """A count as arrays; what is no array stands as JSON text in ``about``.

    Parameters
    ----------
    count
        The count.

    Returns
    -------
    dict
        Arrays by name, ready for ``numpy.savez`` [-].
    """
    about = {
        "form": _FORM,
        "contacts": count.contacts,
        "bin_m": count.bin_m,
        "upper_t": count.classes.upper_t,
        "load_most_t": count.load_most_t,
        "pairs": count.pairs,
        "hook_from_m": count.pick_ups.hook_from_m,
        "lifts": count.pick_ups.lifts,
        "origin": count.origin,
        "first_ms": count.first_ms,
        "last_ms": count.last_ms,
        "quality": asdict(count.quality),
    }
    arrays = {name: getattr(count, name) for name in _ARRAYS}
    held = {name: getattr(count.pick_ups, name) for name in _HELD}
    return arrays | held | {"about": np.array(json.dumps(about, sort_keys=True))}


def count_from_arrays(arrays: Mapping[str, np.ndarray[Any, Any]]) -> BendCount:
    """The count that was made into arrays.

    Parameters
    ----------
    arrays
        As `count_to_arrays` gave them [-].

    Raises
    ------
    InputError
        If an array is missing or the form is another one.
    """
    missing = [name for name in (*_ARRAYS, *_HELD, "about") if name not in arrays]
    if missing:
        raise InputError(
            "this is no stored count of bends", field=missing[0], expected="an array", given=None
        )
    about = json.loads(str(arrays["about"]))
    if about.get("form") != _FORM or about["origin"] not in get_args(Origin):
        raise InputError(
            "this count was stored in another form",
            field="form",
            expected=str(_FORM),
            given=about.get("form"),
        )
    quality = dict(about["quality"])
    quality["reset_list"] = tuple(Reset(**one) for one in quality["reset_list"])
    return BendCount(
        contacts=tuple(about["contacts"]),
        bin_m=about["bin_m"],
        classes=LoadClasses(upper_t=tuple(about["upper_t"])),
        load_most_t=about["load_most_t"],
        pairs=tuple((first, second, near) for first, second, near in about["pairs"]),
        pick_ups=PickUps(
            **{name: arrays[name] for name in _HELD},
            hook_from_m=about["hook_from_m"],
            lifts=about["lifts"],
        ),
        origin=about["origin"],
        first_ms=about["first_ms"],
        last_ms=about["last_ms"],
        quality=QualityReport(**quality),
        **{name: arrays[name] for name in _ARRAYS},
    )
