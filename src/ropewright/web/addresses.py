"""Names in addresses: a rope's id may hold a slash, which an address cannot."""

from urllib.parse import quote


def in_address(name: str) -> str:
    """A name as part of an address.

    Examples
    --------
    >>> in_address("KQ-1 hoist"), in_address("a/b~c")
    ('KQ-1%20hoist', 'a~2Fb~7Ec')
    """
    return quote(name.replace("~", "~7E").replace("/", "~2F"), safe="~")


def from_address(part: str) -> str:
    """The name behind a part of an address that is decoded already.

    Examples
    --------
    >>> from_address("a~2Fb~7Ec")
    'a/b~c'
    """
    return part.replace("~2F", "/").replace("~7E", "~")


def rope_path(rope_id: str, *more: str) -> str:
    """The address of a rope's page, or of one below it."""
    return "/".join(["/ropes", in_address(rope_id), *(in_address(one) for one in more)])
