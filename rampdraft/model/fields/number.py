"""Numbers as text."""

import math


def number_text(number: float) -> str:
    """Return the shortest decimal text that reads back as the very same number; a whole number has no
    point.
    """
    value = float(number)
    return (
        str(int(value)) if math.isfinite(value) and value == int(value) and abs(value) < 1e15 else repr(value)
    )
