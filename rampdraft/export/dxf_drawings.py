"""The general arrangement and the details as DXF: true size in mm, each dimension a dimension that measures.

Words and arrows are as large as they are on paper at the scale of the view. Areas are filled in the order in
which the view is painted, so that what is in front hides what is behind. Layers: by what a line means.
"""

# ezdxf's own types are partly open, and its front door re-exports what it does not declare.
# pyright: reportUnknownMemberType=false, reportPrivateImportUsage=false

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from ezdxf.colors import rgb2int
from ezdxf.enums import TextEntityAlignment
from ezdxf.layouts.layout import Modelspace

from rampdraft.drawing.details import details
from rampdraft.drawing.dimension import ARROW_MM, GAP_MM, OVERRUN_MM
from rampdraft.drawing.ink import Anchor, Ink, Label, Measures, Path, Pen, Picture
from rampdraft.drawing.letters import MM_PER_PT
from rampdraft.drawing.plan import plan_view
from rampdraft.drawing.side import standing_view, stowed_view
from rampdraft.drawing.style import WASHES
from rampdraft.evaluation.evaluate import Evaluation
from rampdraft.export.dxf import marked, new_document, plain, same_bytes_each_time, written
from rampdraft.geometry.outline import Point
from rampdraft.units import MM
from rampdraft.words.say import say

_VISIBLE, _THIN, _HIDDEN, _CENTRE = "VISIBLE", "THIN", "HIDDEN", "CENTRE"
_DIMENSIONS, _WORDS, _AREAS = "DIMENSIONS", "WORDS", "AREAS"
_LAYERS: Final = (
    (_VISIBLE, 7, 35), (_THIN, 7, 18), (_HIDDEN, 8, 18), (_CENTRE, 8, 18),
    (_DIMENSIONS, 7, 18), (_WORDS, 7, 18), (_AREAS, 9, 18),
)  # fmt: skip
"""Name, colour index, line weight in 0.01 mm."""
_LAYER_OF: Final[dict[Pen, str]] = {
    "outline": _VISIBLE, "ground": _VISIBLE, "accent": _VISIBLE, "clash": _VISIBLE, "thin": _THIN,
    "ghost": _THIN, "swept": _THIN, "hidden": _HIDDEN, "centre": _CENTRE, "dimension": _DIMENSIONS,
}  # fmt: skip
_ALIGNED: Final[dict[Anchor, TextEntityAlignment]] = {
    "left": TextEntityAlignment.LEFT,
    "centre": TextEntityAlignment.CENTER,
    "right": TextEntityAlignment.RIGHT,
}
_STYLE: Final = "RAMP"
_ARRANGED: Final = 20.0
_DETAILED: Final = 2.0
"""Millimetres of the ramp to one of paper: how large words and arrows are."""
_ROW_MM: Final = 6000.0
"""Views stand beside each other up to this width."""
_GAP: Final = 20.0
"""Between views, in mm of paper of theirs."""
_CAP: Final = 0.73
"""Height of a capital over the size of its letter, in the shipped font."""
_TITLE_MM: Final = 9.0 * MM_PER_PT * _CAP
"""Height of a capital of a view's title, and of the revision over them all, in mm of paper."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _View:
    title: str
    picture: Picture
    per_mm: MM


@same_bytes_each_time()
def drawings_dxf(evaluation: Evaluation, revision: str = "") -> bytes:
    """Return the drawings of a design: equal bytes for an equal evaluation and revision."""
    doc = new_document(revision)
    doc.dimstyles.new(_STYLE, dxfattribs={"dimtad": 1, "dimtih": 0, "dimtoh": 0, "dimdec": 1})
    space = doc.modelspace()
    x = top = low = right = 0.0
    for view in _views(evaluation):
        x0, y0, x1, y1 = view.picture.box
        wide, tall, gap = x1 - x0, y1 - y0 + 10.0 * view.per_mm, _GAP * view.per_mm
        if x > 0 and x + wide > _ROW_MM:
            x, top = 0.0, low
        _draw(space, view, (x - x0, top - 10.0 * view.per_mm - y1))
        low, right = min(low, top - tall - gap), max(right, x + wide)
        x += wide + gap
    high = 0.0
    if revision:
        _text(space, marked(revision), (0.0, 2.0 * _ARRANGED), _TITLE_MM * _ARRANGED)
        high = 8.0 * _ARRANGED
    return written(doc, (0.0, low, right, high), _LAYERS)


def _views(evaluation: Evaluation) -> Iterator[_View]:
    site = evaluation.sites[0]
    arranged = (
        (
            say("Side view, deployed: {site}, {deck}", site=site.site, deck=site.deck),
            standing_view(evaluation, site, _ARRANGED),
        ),
        (say("Side view, stowed"), stowed_view(evaluation, _ARRANGED)),
        (say("Plan, laid flat"), plan_view(evaluation, per_mm=_ARRANGED)),
    )
    for title, picture in arranged:
        yield _View(title=title, picture=picture, per_mm=_ARRANGED)
    for detail in details(evaluation):
        yield _View(title=detail.title, picture=detail.draw(_DETAILED), per_mm=_DETAILED)


def _draw(space: Modelspace, view: _View, by: Point) -> None:
    """Draw a view moved by `by`; a dimension takes the place of the lines that stand for it on paper."""
    x0, _, _, y1 = view.picture.box
    at = (x0 + by[0], y1 + by[1] + 4.0 * view.per_mm)
    _text(space, view.title, at, _TITLE_MM * view.per_mm)
    marks = view.picture.marks
    drawn = set(range(len(marks)))
    for number, mark in enumerate(marks):
        if isinstance(mark, Label) and mark.measures is not None:
            drawn -= set(range(number - mark.measures.lines, number))
    for number in sorted(drawn):
        _mark(space, marks[number], view.per_mm, by)


def _mark(space: Modelspace, mark: Ink, per_mm: MM, by: Point) -> None:
    if isinstance(mark, Label):
        if mark.measures is not None:
            _dimension(space, mark, mark.measures, per_mm, by)
            return
        height = mark.size_pt * MM_PER_PT * _CAP * per_mm
        _text(space, mark.text, _moved(mark.at, by), height, mark.angle_deg, mark.anchor)
        return
    _path(space, mark, by)


def _path(space: Modelspace, path: Path, by: Point) -> None:
    points = [(x + by[0], y + by[1], bulge) for x, y, bulge in path.vertices]
    wash = WASHES[path.fill]
    if wash is not None and path.closed:
        hatch = space.add_hatch(dxfattribs={"layer": _AREAS, "true_color": _colour(wash.colour)})
        hatch.paths.add_polyline_path(points, is_closed=True)
    space.add_lwpolyline(points, format="xyb", close=path.closed, dxfattribs={"layer": _LAYER_OF[path.pen]})


def _dimension(space: Modelspace, label: Label, of: Measures, per_mm: MM, by: Point) -> None:
    (ax, ay), (bx, by_) = of.ends
    dimension = space.add_linear_dim(
        base=_moved(of.ends[0], by),
        p1=_moved(of.features[0], by),
        p2=_moved(of.features[1], by),
        angle=math.degrees(math.atan2(by_ - ay, bx - ax)),
        text=plain(label.text),
        dimstyle=_STYLE,
        override={
            "dimtxt": label.size_pt * MM_PER_PT * _CAP * per_mm,
            "dimasz": ARROW_MM * per_mm,
            "dimexo": GAP_MM * per_mm,
            "dimexe": OVERRUN_MM * per_mm,
            "dimgap": GAP_MM * per_mm,
        },
        dxfattribs={"layer": _DIMENSIONS},
    )
    dimension.render()


def _text(
    space: Modelspace,
    words: str,
    at: Point,
    height: MM,
    angle_deg: float = 0.0,
    anchor: Anchor = "left",
) -> None:
    made = space.add_text(plain(words), height=height, rotation=angle_deg, dxfattribs={"layer": _WORDS})
    made.set_placement(at, align=_ALIGNED[anchor])


def _moved(point: Point, by: Point) -> Point:
    return point[0] + by[0], point[1] + by[1]


def _colour(text: str) -> int:
    return rgb2int((int(text[1:3], 16), int(text[3:5], 16), int(text[5:7], 16)))
