"""In which units checks measure, and their values in words."""

from typing import Final, Literal

from rampdraft.words import figures
from rampdraft.words.say import say

Unit = Literal[
    "mm", "kg", "N", "J", "m/s", "deg", "gradient", "kPa", "count", "share", "factor", "yes/no", "none"
]  # fmt: skip
"""A gradient is rise over going, a share that of the strength; `none`: no number is known of yet."""

SHOWN_UNITS: Final[dict[Unit, str]] = {
    "mm": "mm",
    "kg": "kg",
    "N": "N",
    "J": "J",
    "kPa": "kPa",
    "m/s": "m/s",
    "deg": "°",
    "gradient": "rise/going",
    "count": "",
    "share": "share",
    "factor": "factor",
    "yes/no": "",
    "none": "",
}
_WHOLE: Final = ("N", "J", "kPa", "count")
"""Units of which a tenth is worth nothing ..."""
_THOUSAND: Final = 1000.0
"""... nor is it of so many of any."""


def value_words(value: float, unit: Unit, limit: float | None = None) -> str:
    """Return a value for a list: `1 : 6.56 = 15.24 % = 8.67°`, `860 mm`, `yes`; with the digits that part it
    from its limit.
    """
    if unit == "gradient":
        return figures.gradient(value)
    if unit == "yes/no":
        return say("yes" if value else "no")
    if unit == "share":
        return say("{value} of the strength", value=figures.percent(value))
    if unit == "factor":
        return figures.number(value, 2)
    least = 0 if unit in _WHOLE or abs(value) >= _THOUSAND else 1
    digits = least if limit is None else figures.digits_that_part(value, limit, least)
    if unit == "mm":
        return figures.figure(value, unit, digits)
    return f"{figures.number(value, digits)} {SHOWN_UNITS[unit]}".rstrip()
