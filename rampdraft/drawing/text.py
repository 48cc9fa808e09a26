"""Figures in words, alike on every view and sheet."""

import math
from typing import Final

from rampdraft.mechanics.results import LeafGradient
from rampdraft.units import MM, RAD
from rampdraft.words.figures import figure, fixed
from rampdraft.words.manner import manner
from rampdraft.words.say import say

_FINE_MM: Final = 6.35
"""A quarter of an inch: what is smaller and asked for to a hundredth is no length for a rule."""


def mm_text(value_mm: MM, decimals: int = 1) -> str:
    """Return a length without its unit, as dimensions have it: `1350`, `37.5`; in inches `53 5/32`, and what
    is fine in decimals: `0.0197`.
    """
    inches = manner().style.unit("mm") is not None and abs(value_mm) >= _FINE_MM
    return figure(value_mm, "mm", min(decimals, 1) if inches else decimals).removesuffix(f" {length_unit()}")


def length_unit() -> str:
    """Return the unit in which lengths are shown."""
    shown = manner().style.unit("mm")
    return "mm" if shown is None else shown.name


def degrees_text(angle_rad: RAD) -> str:
    """Return an angle in degrees with one decimal: `8.6°`."""
    return fixed(math.degrees(angle_rad), 1, "°")


def one_in(leaf: LeafGradient) -> str:
    """Return a gradient as `1 : 6.6`, or `level`; which way it falls is not said."""
    ratio = abs(leaf.ratio)
    return say("level") if ratio < 5e-4 else f"1 : {fixed(1 / ratio, 1)}"


def percent_text(leaf: LeafGradient) -> str:
    """Return a gradient in per cent, positive when it climbs towards the deck: `15.2 %`."""
    return fixed(100 * leaf.ratio, 1, "%")


def gradient_text(leaf: LeafGradient) -> str:
    """Return a gradient both ways: `1 : 6.6 (15.2 %)`."""
    return f"{one_in(leaf)} ({percent_text(leaf)})"
