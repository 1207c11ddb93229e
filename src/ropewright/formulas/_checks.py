"""The one check all equations share: a size is more than zero."""

from fractions import Fraction

from ropewright.errors import InputError


def _positive(**values: Fraction | int) -> None:
    """Refuse the first of the named values that is zero or less."""
    for name, value in values.items():
        if value <= 0:
            raise InputError(field=name, expected="a value above zero", given=value)
