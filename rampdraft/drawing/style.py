"""How lines, areas and letters look on paper: one table for PDF and SVG, and the font that screen and paper
share.
"""

from dataclasses import dataclass
from functools import lru_cache
from importlib.resources import files
from pathlib import Path as FilePath
from typing import Final

from rampdraft.drawing.ink import Fill, Pen
from rampdraft.units import MM

INK: Final = "#20292e"
QUIET: Final = "#5b676d"
FAINT: Final = "#c3c9cb"
WASH: Final = "#f2f3f1"
"""Behind the head of a table."""
SWEPT: Final = "#eeefeb"
"""Lines and areas of the room that is moved through look alike, so that many of them are one."""
ACCENT: Final = "#b3441e"
"""The one accent. Nothing is told by it alone: a clash is hatched, a clearance is written out."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Stroke:
    """A line on paper."""

    width_mm: MM
    colour: str
    dash_mm: tuple[MM, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Wash:
    """An area on paper."""

    colour: str
    hatched: bool = False
    """With strokes in the accent at 45 degrees."""


def _dashed(width_mm: MM) -> tuple[MM, ...]:
    """Return ISO 128-2 line 02: dashes of 12 d, gaps of 3 d."""
    return 12 * width_mm, 3 * width_mm


def _chain(width_mm: MM) -> tuple[MM, ...]:
    """Return ISO 128-2 line 10: a long dash of 24 d, a gap of 3 d, a dot of half d, a gap of 3 d."""
    return 24 * width_mm, 3 * width_mm, 0.5 * width_mm, 3 * width_mm


def _double_chain(width_mm: MM) -> tuple[MM, ...]:
    """Return ISO 128-2 line 12: a long dash of 24 d, two dots of half d, gaps of 3 d between; what is drawn
    with it stands elsewhere, or beside what is shown.
    """
    return 24 * width_mm, 3 * width_mm, 0.5 * width_mm, 3 * width_mm, 0.5 * width_mm, 3 * width_mm


WIDE_MM: Final = 0.35
NARROW_MM: Final = 0.18
"""Line group 0.35 of ISO 128-2: the wide line is twice the narrow one. Finer than 0.5, for thin walls at 1 :
10 on A4.
"""

STROKES: Final[dict[Pen, Stroke]] = {
    "outline": Stroke(width_mm=WIDE_MM, colour=INK),
    "thin": Stroke(width_mm=NARROW_MM, colour=INK),
    "hidden": Stroke(width_mm=NARROW_MM, colour=QUIET, dash_mm=_dashed(NARROW_MM)),
    "centre": Stroke(width_mm=NARROW_MM, colour=QUIET, dash_mm=_chain(NARROW_MM)),
    "ground": Stroke(width_mm=WIDE_MM, colour=QUIET),
    "dimension": Stroke(width_mm=NARROW_MM, colour=INK),
    "accent": Stroke(width_mm=WIDE_MM, colour=ACCENT),
    "clash": Stroke(width_mm=WIDE_MM, colour=ACCENT),
    "ghost": Stroke(width_mm=NARROW_MM, colour=FAINT),
    "swept": Stroke(width_mm=NARROW_MM, colour=SWEPT),
    "other": Stroke(width_mm=NARROW_MM, colour=ACCENT, dash_mm=_double_chain(NARROW_MM)),
    "own": Stroke(width_mm=NARROW_MM, colour=INK),
    "edge": Stroke(width_mm=NARROW_MM, colour=QUIET),
    "hatch": Stroke(width_mm=NARROW_MM, colour=INK),
}

WASHES: Final[dict[Fill, Wash | None]] = {
    "none": None,
    "paper": Wash(colour="#ffffff"),
    "inner": Wash(colour="#d3dfe5"),
    "outer": Wash(colour="#dae5d3"),
    "carrier": Wash(colour="#e4e2dd"),
    "ground": Wash(colour="#ece8df"),
    "timber": Wash(colour="#f0e1c2"),
    "tight": Wash(colour="#f7e9df"),
    "swept": Wash(colour=SWEPT),
    "clash": Wash(colour="#f3d9ce", hatched=True),
    "tyre": Wash(colour="#b9bdbe"),
    "solid": Wash(colour=INK),
}


@lru_cache(maxsize=1024)
def in_tone(colour: str, tone: float) -> str:
    """Return the part of a colour, `#d3dfe5`, that a face shows."""
    if tone == 1.0:
        return colour
    return "#" + "".join(f"{round(int(colour[at : at + 2], 16) * tone):02x}" for at in (1, 3, 5))


HATCH_PITCH_MM: Final = 1.2
FONT: Final = "DejaVuSans"
FONT_BOLD: Final = "DejaVuSans-Bold"


def font_path(name: str = FONT) -> FilePath:
    """Return the file of a font that is shipped with the program; its licence lies beside it."""
    return FilePath(str(files("rampdraft.drawing").joinpath("fonts", f"{name}.ttf")))


def icon_path() -> FilePath:
    """Return the file of the program's icon, an SVG."""
    return FilePath(str(files("rampdraft.drawing").joinpath("rampdraft.svg")))
