"""All drawings as DXF, general arrangement, fold, details and parts: true size in mm, each dimension a
dimension that measures.

Words and arrows are as large as they are on paper at the scale of the view. Areas are filled in the order in
which the view is painted, so that what is in front hides what is behind. Layers: by what a line means.
"""

# ezdxf's own types are partly open, and its front door re-exports what it does not declare.
# pyright: reportUnknownMemberType=false, reportPrivateImportUsage=false

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Final

from ezdxf.colors import rgb2int
from ezdxf.enums import TextEntityAlignment
from ezdxf.layouts.layout import Modelspace

from rampdraft.drawing.arrangement import arrangement
from rampdraft.drawing.details import details
from rampdraft.drawing.dimension import ARROW_MM, GAP_MM, OVERRUN_MM
from rampdraft.drawing.fold_stages import fold_steps, step_view
from rampdraft.drawing.ink import Anchor, Ink, Label, Measures, Path, Pen, Picture
from rampdraft.drawing.letters import MM_PER_PT, words_mm
from rampdraft.drawing.part import END_MM, PART_MM, end_view, part_view
from rampdraft.drawing.sheet import fitted
from rampdraft.drawing.style import WASHES, in_tone
from rampdraft.drawing.words_room import room_of
from rampdraft.evaluation.evaluate import Evaluation
from rampdraft.export.dxf import marked, new_document, plain, same_bytes_each_time, written
from rampdraft.geometry.outline import Point
from rampdraft.shop.parts import Part, full_number
from rampdraft.units import MM
from rampdraft.words.say import say

_VISIBLE, _THIN, _HIDDEN, _CENTRE = "VISIBLE", "THIN", "HIDDEN", "CENTRE"
_DIMENSIONS, _WORDS, _AREAS, _HATCH = "DIMENSIONS", "WORDS", "AREAS", "HATCH"
_LAYERS: Final = (
    (_VISIBLE, 7, 35), (_THIN, 7, 18), (_HIDDEN, 8, 18), (_CENTRE, 8, 18),
    (_DIMENSIONS, 7, 18), (_WORDS, 7, 18), (_AREAS, 9, 18), (_HATCH, 8, 18),
)  # fmt: skip
"""Name, colour index, line weight in 0.01 mm."""
_LAYER_OF: Final[dict[Pen, str]] = {
    "outline": _VISIBLE, "ground": _VISIBLE, "accent": _VISIBLE, "clash": _VISIBLE, "thin": _THIN,
    "ghost": _THIN, "swept": _THIN, "hidden": _HIDDEN, "centre": _CENTRE, "dimension": _DIMENSIONS,
    "edge": _THIN, "own": _THIN, "other": _THIN, "hatch": _HATCH,
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
_ROW_MM: Final = 12000.0
"""Views stand beside each other up to this width."""
_GAP: Final = 20.0
"""Between views, in mm of paper of theirs."""
_BESIDE_LINE: Final = 1.0 / GAP_MM
"""A running value stands so many gaps beside its line."""
_CAP: Final = 0.73
"""Height of a capital over the size of its letter, in the shipped font."""
_TITLE_PT: Final = 9.0
_TITLE_MM: Final = _TITLE_PT * MM_PER_PT * _CAP
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
    low = right = 0.0
    for group in _groups(evaluation):
        x, top = 0.0, low
        for view in group:
            x0, y0, x1, y1 = view.picture.box
            wide = max(x1 - x0, words_mm(plain(view.title), _TITLE_PT) * view.per_mm)
            tall, gap = y1 - y0 + 10.0 * view.per_mm, _GAP * view.per_mm
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


def _groups(evaluation: Evaluation) -> Iterator[Iterable[_View]]:
    """Yield general arrangement, fold, details and parts, each group to begin a row; those of one scale stand
    together.
    """
    yield _general(evaluation)
    yield (
        _View(
            title=f"{number}  {step.say}",
            picture=step_view(evaluation, step, _ARRANGED),
            per_mm=_ARRANGED,
        )
        for number, step in enumerate(fold_steps(evaluation), start=1)
    )
    yield (
        _View(title=detail.title, picture=detail.draw(_DETAILED), per_mm=_DETAILED)
        for detail in details(evaluation)
    )
    number = evaluation.design.about.drawing_number
    parts = [view for part in evaluation.parts for view in _part(part, number)]
    for scale in sorted({view.per_mm for view in parts}):
        yield [view for view in parts if view.per_mm == scale]


def _general(evaluation: Evaluation) -> Iterator[_View]:
    site, views = evaluation.sites[0], arrangement(evaluation, _ARRANGED)
    arranged = (
        (say("Side view, deployed: {site}, {deck}", site=site.site, deck=site.deck), views.deployed),
        (say("Side view, stowed"), views.stowed),
        (say("Plan, laid flat"), views.plan),
        (say("End view, from the toe"), views.end),
    )
    for title, picture in arranged:
        yield _View(title=title, picture=picture, per_mm=_ARRANGED)


def _part(part: Part, drawing_number: str) -> Iterator[_View]:
    """Yield a part with its running dimensions, and its ends that are cut, at their scales on paper."""
    head = say(
        "{number}  {name}: {quantity} off",
        number=full_number(part, drawing_number),
        name=part.with_hand,
        quantity=part.quantity,
    )
    view = fitted(lambda per_mm: part_view(part, per_mm=per_mm), *PART_MM)
    yield _View(title=head, picture=view.picture, per_mm=view.scale)
    for which, end in enumerate(part.piece.ends):
        if end.kind != "square":
            view = fitted(lambda per_mm, which=which: end_view(part, which, per_mm=per_mm), *END_MM)
            words = say("datum end") if which == 0 else say("other end")
            yield _View(title=f"{part.number}, {words}", picture=view.picture, per_mm=view.scale)


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
        colour = _colour(in_tone(wash.colour, path.tone))
        hatch = space.add_hatch(dxfattribs={"layer": _AREAS, "true_color": colour})
        hatch.paths.add_polyline_path(points, is_closed=True)
        if path.pen == "own":
            return
    space.add_lwpolyline(points, format="xyb", close=path.closed, dxfattribs={"layer": _LAYER_OF[path.pen]})


def _dimension(space: Modelspace, label: Label, of: Measures, per_mm: MM, by: Point) -> None:
    override = {
        "dimtxt": label.size_pt * MM_PER_PT * _CAP * per_mm,
        "dimasz": ARROW_MM * per_mm,
        "dimexo": GAP_MM * per_mm,
        "dimexe": OVERRUN_MM * per_mm,
        "dimgap": GAP_MM * per_mm,
    }
    if label.runs:
        _running(space, label, of, override, by)
        return
    (ax, ay), (bx, by_) = of.ends
    dimension = space.add_linear_dim(
        base=_moved(of.ends[0], by),
        p1=_moved(of.features[0], by),
        p2=_moved(of.features[1], by),
        angle=math.degrees(math.atan2(by_ - ay, bx - ax)),
        text=plain(label.text),
        dimstyle=_STYLE,
        override=override,
        location=_moved(room_of(label, per_mm).middle, by) if of.moved else None,
        dxfattribs={"layer": _DIMENSIONS},
    )
    dimension.render()


def _running(space: Modelspace, label: Label, of: Measures, override: dict[str, float], by: Point) -> None:
    """Draw a running dimension as an ordinate from the common origin."""
    (x, y), (_, end) = of.features[1], of.ends[1]
    aside = max(label.at[0] - x - override["dimgap"] * _BESIDE_LINE, 0.0)
    dimension = space.add_ordinate_x_dim(
        _moved((x, y), by),
        offset=(aside, end - y + override["dimexe"]),
        origin=_moved(of.features[0], by),
        text=plain(label.text),
        dimstyle=_STYLE,
        override=override,
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
