"""How many wires count when broken wires are counted."""

from ropewright.formulas._checks import _positive


def load_bearing_outer_wires(*, outer_strands: int, wires_per_outer_strand: int) -> int:
    """Load-bearing wires of all outer strands, n = outer strands × wires per outer strand.

    The whole strand counts, not only its outside layer; filler wires bear no load and are left
    out.

    Parameters
    ----------
    outer_strands
        Number of strands in the outside layer of the rope.
    wires_per_outer_strand
        Load-bearing wires in one of them.

    Returns
    -------
    int
        n.

    Raises
    ------
    InputError
        If a number is not above zero.

    Source: ISO 4309:2017, broken wire tables for single-layer ropes, meaning of n.
    Provenance: second-hand

    Examples
    --------
    >>> load_bearing_outer_wires(outer_strands=6, wires_per_outer_strand=36)
    216
    """
    _positive(outer_strands=outer_strands, wires_per_outer_strand=wires_per_outer_strand)
    return outer_strands * wires_per_outer_strand
