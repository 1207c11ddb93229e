"""Answers sent compressed to whoever takes that: a rope's page becomes a tenth of its size."""

import zlib
from typing import Final

#: Below this nothing is gained [bytes].
LEAST_BYTES: Final = 1000
#: Quick rather than small: the harder levels take longer than they save on the way.
_LEVEL: Final = 1
#: Window of 15 bits, with the head and tail of gzip (zlib manual, deflateInit2).
_GZIP: Final = 31


def takes_gzip(accepted: str) -> bool:
    """Whether the header ``accept-encoding`` of a request allows gzip.

    Examples
    --------
    >>> takes_gzip("deflate, gzip;q=0.5"), takes_gzip("gzip;q=0, *"), takes_gzip("")
    (True, False, False)
    """
    any_other = False
    for one in accepted.lower().split(","):
        name, _, rest = one.partition(";")
        taken = rest.replace(" ", "") not in ("q=0", "q=0.0", "q=0.00", "q=0.000")
        if name.strip() in ("gzip", "x-gzip"):
            return taken
        any_other |= name.strip() == "*" and taken
    return any_other


def packed(body: bytes, accepted: str) -> tuple[bytes, dict[str, str]]:
    """The body as it is sent, and the headers that say so.

    Parameters
    ----------
    body
        The answer.
    accepted
        The header ``accept-encoding`` of the request.
    """
    headers = {"vary": "accept-encoding"}
    if len(body) < LEAST_BYTES or not takes_gzip(accepted):
        return body, headers
    work = zlib.compressobj(_LEVEL, zlib.DEFLATED, _GZIP)
    return work.compress(body) + work.flush(), {**headers, "content-encoding": "gzip"}
