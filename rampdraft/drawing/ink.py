"""Ink without a format: the few primitives that every view is made of, in mm, y up.

A `Picture` is drawn by the window, by the PDF and by the SVG alike. Line kinds and widths follow ISO 128-2
(continuous thick for visible outlines, thin for the rest, long-dashed dotted for centre lines, dashed for
hidden edges).
"""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

from rampdraft.geometry.outline import Outline, Point
from rampdraft.units import DEG, MM

Pen = Literal[
    "outline", "thin", "hidden", "centre", "ground", "dimension", "accent", "clash", "ghost", "swept",
    "other", "own", "edge", "hatch",
]  # fmt: skip
"""What a line means; each format has its own width and colour for it, from one table each. `other` is what is
kept beside what is shown; `own` has the colour of the area that it goes round, which so shows no edge, and
`edge` is what is seen between two faces of a solid, `hatch` lies on what is cut.
"""

Fill = Literal[
    "none",
    "paper",
    "inner",
    "outer",
    "carrier",
    "ground",
    "timber",
    "tight",
    "swept",
    "clash",
    "tyre",
    "solid",
]
"""What an area means; `clash` is hatched as well as coloured, `tight` has too little clearance, `swept` is
moved through, `solid` is cut and too thin to be hatched.
"""

Anchor = Literal["left", "centre", "right"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Path:
    """Lines and arcs. An open path ends at its last vertex; the bulge of that vertex is not used."""

    vertices: tuple[tuple[MM, MM, float], ...]
    closed: bool
    pen: Pen
    fill: Fill = "none"
    owner: str = ""
    """Key of the member it shows, or path of the field it dimensions, so that it can be pointed at; empty for
    none.
    """
    tone: float = 1.0
    """Share of its colour that the area shows: of a face turned from the light, less."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Measures:
    """What a dimension measures: two features, and the ends of its line that belong to them."""

    features: tuple[Point, Point]
    ends: tuple[Point, Point]
    lines: int
    """So many marks before its value are its lines and arrows."""
    moved: bool = False
    """Whether its value stands elsewhere than in the middle of its line, to be clear of what is there."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Label:
    """Text. Its size is that of the paper or the screen (`size_pt`), whatever the scale of the view."""

    text: str
    at: Point
    """On the baseline; a boxed label has its middle there."""
    anchor: Anchor = "left"
    pen: Pen = "dimension"
    size_pt: float = 8.0
    angle_deg: DEG = 0.0
    boxed: bool = False
    """With paper behind it, so that lines do not cross the letters."""
    owner: str = ""
    measures: "Measures | None" = None
    """What it is the value of, where it is that of a dimension."""
    runs: bool = False
    """Whether it stands along an extension line, as running dimensions do."""


Ink = Path | Label


@dataclass(frozen=True, slots=True, kw_only=True)
class Picture:
    """A view: marks in the order they are painted."""

    marks: tuple[Ink, ...]
    box: tuple[MM, MM, MM, MM]
    """(x0, y0, x1, y1) worth showing."""
    title: str = ""


def line(a: Point, b: Point, pen: Pen, owner: str = "") -> Path:
    """Return the straight line from a to b."""
    return Path(vertices=((*a, 0.0), (*b, 0.0)), closed=False, pen=pen, owner=owner)


def area(outline: Outline, pen: Pen, fill: Fill, owner: str = "") -> Path:
    """Return the outline as a closed, filled path."""
    return Path(vertices=outline.vertices, closed=True, pen=pen, fill=fill, owner=owner)


def polyline(points: Iterable[Point], pen: Pen, owner: str = "") -> Path:
    """Return the straight lines from point to point, open at the end."""
    return Path(vertices=tuple((x, y, 0.0) for x, y in points), closed=False, pen=pen, owner=owner)


def polygon(points: Iterable[Point], pen: Pen, fill: Fill, owner: str = "") -> Path:
    """Return a straight-sided area."""
    return Path(vertices=tuple((x, y, 0.0) for x, y in points), closed=True, pen=pen, fill=fill, owner=owner)


def ring(at: Point, radius_mm: MM, *, pen: Pen = "dimension", fill: Fill = "paper", owner: str = "") -> Path:
    """Return a small circle: the origin of running dimensions, a marked point, a wheel."""
    x, y = at
    return Path(
        vertices=((x - radius_mm, y, 1.0), (x + radius_mm, y, 1.0)),
        closed=True,
        pen=pen,
        fill=fill,
        owner=owner,
    )
