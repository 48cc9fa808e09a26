"""From the units in which rules are written to the base unit of the quantity, exactly; and back to words."""

import math
from typing import Final

from rampdraft.checks.subjects import Unit
from rampdraft.figures import number
from rampdraft.units import KG_PER_POUND, MM_PER_INCH

FACTORS: Final[dict[Unit, dict[str, float]]] = {
    "mm": {"mm": 1.0, "m": 1000.0, "in": MM_PER_INCH},
    "kg": {"kg": 1.0, "lb": KG_PER_POUND},
    "N": {"N": 1.0},
    "count": {"": 1.0},
    "factor": {"": 1.0},
    "yes/no": {"": 1.0},
}
"""Base unit -> unit word -> base units in one; a gradient has no factor."""

GRADIENT_UNITS: Final = ("1:N", "%", "deg")


def units_for(unit: Unit) -> tuple[str, ...]:
    """Return the unit words that a rule file may write for a quantity of this base unit."""
    return GRADIENT_UNITS if unit == "gradient" else tuple(FACTORS.get(unit, {}))


def to_base(value: float, word: str, unit: Unit) -> float:
    """Return `value` in the base unit; a gradient as rise over going."""
    if unit == "gradient":
        return {
            "1:N": lambda: 1 / value,
            "%": lambda: value / 100,
            "deg": lambda: math.tan(math.radians(value)),
        }[word]()
    return value * FACTORS[unit][word]


def limit_words(value: float, word: str, unit: Unit) -> str:
    """Return a limit as it is written on a check sheet: `1:12`, `25 %`, `7°`, `36 in (914.4 mm)`."""
    if unit == "gradient":
        return {"1:N": f"1:{number(value, 2)}", "%": f"{number(value, 2)} %", "deg": f"{number(value, 2)}°"}[
            word
        ]
    if word in ("in", "lb"):
        return f"{number(value, 3)} {word} ({number(to_base(value, word, unit), 1)} {unit})"
    return f"{number(value, 3)} {word}".strip() if unit != "yes/no" else ("yes" if value else "no")
