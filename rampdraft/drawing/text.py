"""Figures in words, alike on every view and sheet."""

import math

from rampdraft.mechanics.results import LeafGradient
from rampdraft.units import MM, RAD
from rampdraft.words.figures import fixed, number


def mm_text(value_mm: MM, decimals: int = 1) -> str:
    """Return a length in mm without its unit and without idle zeros: `1350`, `37.5`."""
    return number(value_mm, decimals)


def degrees_text(angle_rad: RAD) -> str:
    """Return an angle in degrees with one decimal: `8.6°`."""
    return fixed(math.degrees(angle_rad), 1, "°")


def one_in(leaf: LeafGradient) -> str:
    """Return a gradient as `1 : 6.6`, or `level`; which way it falls is not said."""
    ratio = abs(leaf.ratio)
    return "level" if ratio < 5e-4 else f"1 : {fixed(1 / ratio, 1)}"


def percent_text(leaf: LeafGradient) -> str:
    """Return a gradient in per cent, positive when it climbs towards the deck: `15.2 %`."""
    return fixed(100 * leaf.ratio, 1, "%")


def gradient_text(leaf: LeafGradient) -> str:
    """Return a gradient both ways: `1 : 6.6 (15.2 %)`."""
    return f"{one_in(leaf)} ({percent_text(leaf)})"
