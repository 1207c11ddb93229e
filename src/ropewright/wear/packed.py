"""Counts packed into a few bytes and back, to send them round and keep them.

A count is mostly zeros: packed it takes a hundredth of the room.
"""

import io
import json
import zipfile
import zlib
from collections.abc import Mapping, Sequence
from typing import Any

import numpy as np

from ropewright.errors import InputError
from ropewright.wear.model import BendCount
from ropewright.wear.stored import count_from_arrays, count_to_arrays

_ABOUT = "about them"


def pack_counts(parts: Sequence[tuple[Mapping[str, Any], BendCount]]) -> bytes:
    """Pack counts, each with a few words of JSON about it.

    Parameters
    ----------
    parts
        What is said about each count, and the count.
    """
    arrays: dict[str, np.ndarray[Any, Any]] = {
        _ABOUT: np.array(json.dumps([dict(about) for about, _ in parts], sort_keys=True))
    }
    for number, (_, count) in enumerate(parts):
        for name, array in count_to_arrays(count).items():
            arrays[f"{number}.{name}"] = array
    packed = io.BytesIO()
    np.savez_compressed(packed, **arrays)  # type: ignore[arg-type]
    return packed.getvalue()


def unpack_counts(packed: bytes) -> list[tuple[dict[str, Any], BendCount]]:
    """Unpack what `pack_counts` packed.

    Parameters
    ----------
    packed
        The bytes.

    Raises
    ------
    InputError
        If they are something else, or damaged.
    """
    try:
        with np.load(io.BytesIO(packed), allow_pickle=False) as arrays:
            held = dict(arrays)
        abouts = json.loads(str(held[_ABOUT]))
        return [(about, _count(held, number)) for number, about in enumerate(abouts)]
    except (ValueError, KeyError, EOFError, zipfile.BadZipFile, zlib.error) as problem:
        raise InputError(
            "these are no packed counts, or they are damaged",
            field="packed",
            expected="the bytes of a count",
            given=f"{len(packed)} bytes",
        ) from problem


def _count(held: Mapping[str, np.ndarray[Any, Any]], number: int) -> BendCount:
    mark = f"{number}."
    return count_from_arrays(
        {name.removeprefix(mark): array for name, array in held.items() if name.startswith(mark)}
    )
