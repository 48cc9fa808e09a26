"""How wide words are in the shipped font, without any format: what is laid out needs to know before it is
printed.
"""

from typing import Final

from rampdraft.units import MM

MM_PER_PT: Final = 25.4 / 72
_ADVANCES: Final = (
    318,
    401,
    460,
    838,
    636,
    950,
    780,
    275,
    390,
    390,
    500,
    838,
    318,
    361,
    318,
    337,
    636,
    636,
    636,
    636,
    636,
    636,
    636,
    636,
    636,
    636,
    337,
    337,
    838,
    838,
    838,
    531,
    1000,
    684,
    686,
    698,
    770,
    632,
    575,
    775,
    752,
    295,
    295,
    656,
    557,
    863,
    748,
    787,
    603,
    787,
    695,
    635,
    611,
    732,
    684,
    989,
    685,
    611,
    685,
    390,
    337,
    390,
    838,
    500,
    500,
    613,
    635,
    550,
    635,
    615,
    352,
    635,
    634,
    278,
    278,
    579,
    278,
    974,
    634,
    612,
    635,
    635,
    411,
    521,
    392,
    634,
    592,
    818,
    592,
    592,
    525,
    636,
    337,
    636,
    838,
)
"""Of the characters from the space to the tilde, in thousandths of the letter size: DejaVu Sans, as shipped
(its table of horizontal metrics).
"""
_OTHER: Final = 1000
"""Of any other character: wider than nearly all that are used."""


def words_mm(text: str, size_pt: float) -> MM:
    """Return how wide a line of words is on paper; no less than it is, but for rare letters."""
    thousandths = sum(_ADVANCES[ord(letter) - 32] if 32 <= ord(letter) < 127 else _OTHER for letter in text)
    return thousandths / 1000 * size_pt * MM_PER_PT


def letters_mm(size_pt: float) -> MM:
    """Return how tall a line of words is, from the foot of a p to the top of an l."""
    return 1.0 * size_pt * MM_PER_PT
