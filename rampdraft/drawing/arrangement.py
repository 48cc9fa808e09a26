"""The general arrangement: side view deployed and stowed, plan and end view at one scale, each part of the
part list called out once on the view that shows it best, words clear of each other.

ISO 6433: a part number in a ring outside of what is shown, its leader ending in the part.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from rampdraft.drawing.callouts import Callout, called_within
from rampdraft.drawing.clearing import cleared
from rampdraft.drawing.clip import Box
from rampdraft.drawing.from_end import from_end
from rampdraft.drawing.ink import Label, Path, Picture
from rampdraft.drawing.plan import plan_view
from rampdraft.drawing.side import standing_view, stowed_view
from rampdraft.drawing.solid.scene import Solid, Stand
from rampdraft.evaluation.evaluate import Evaluation
from rampdraft.geometry.outline import Outline, Point
from rampdraft.mechanics.results import SitePose
from rampdraft.shop.parts import Part
from rampdraft.units import MM

_SAGITTA_MM: Final = 0.5
_SHARES: Final = (0.5, 0.2, 0.8, 0.05, 0.95)
"""Of the box of a member, where a leader may end."""
_FINE_MM: Final = 1.0
"""On paper, of what is shown as hardly more than a line."""
_TIPS: Final = 24
"""So many places that a leader may end at are enough."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Arranged:
    """The views of a general arrangement."""

    deployed: Picture
    plan: Picture
    stowed: Picture
    end: Picture


def arrangement(evaluation: Evaluation, per_mm: MM, *, numbers: bool = True) -> Arranged:
    """Return the views for a scale, with part numbers or without."""
    site = evaluation.sites[0]
    stand = Stand(pose=site.pose, drop_mm=site.drop_mm, site_number=site.site_number, flap_rad=site.flap_rad)
    side, plan, stowed, end = (
        cleared(picture, per_mm)
        for picture in (
            deployed(evaluation, site, per_mm),
            plan_view(evaluation, per_mm=per_mm),
            stowed_view(evaluation, per_mm),
            from_end(evaluation.design, Solid(evaluation), stand, per_mm=per_mm),
        )
    )
    if numbers:
        side, plan, stowed = _called_out(evaluation.parts, (side, plan, stowed), per_mm)
    return Arranged(deployed=side, plan=plan, stowed=stowed, end=end)


def deployed(evaluation: Evaluation, site: SitePose, per_mm: MM) -> Picture:
    """Return the side view of the ramp put down at a site, without room for a toe flap that it has not."""
    return standing_view(evaluation, site, per_mm, flap=evaluation.design.toe.kind == "flap")


def _called_out(parts: Sequence[Part], pictures: Sequence[Picture], per_mm: MM) -> list[Picture]:
    """Return the pictures with the number of each part on the one that shows it largest; where that has no
    room, on the next.
    """
    drawn = [_areas(picture) for picture in pictures]
    wanted: dict[str, list[tuple[int, tuple[Point, ...]]]] = {}
    for part in parts:
        seen = [(which, *_places(part, areas, per_mm)) for which, areas in enumerate(drawn)]
        ranked = sorted((one for one in seen if one[2]), key=lambda one: (-one[1], one[0]))
        wanted[part.number] = [(which, tips) for which, _, tips in ranked]
    found = list(pictures)
    for choice in range(len(pictures)):
        for which, picture in enumerate(found):
            callouts = tuple(_asked(wanted, choice, which))
            found[which] = called_within(picture, callouts, per_mm)
            for number in {mark.text for mark in found[which].marks if isinstance(mark, Label)} & set(wanted):
                del wanted[number]
    return found


def _asked(
    wanted: Mapping[str, Sequence[tuple[int, tuple[Point, ...]]]], choice: int, which: int
) -> Iterator[Callout]:
    for number, ranked in wanted.items():
        if choice < len(ranked) and ranked[choice][0] == which:
            first, *others = ranked[choice][1]
            yield Callout(kind="part", text=number, tip=first, or_at=tuple(others))


@dataclass(frozen=True, slots=True, kw_only=True)
class _Area:
    owner: str
    covers: bool
    box: Box
    points: tuple[Point, ...]


def _areas(picture: Picture) -> list[_Area]:
    """Return the areas of a picture, what is in front first."""
    found = [
        _Area(
            owner=mark.owner, covers=mark.fill != "none", box=outline.box, points=outline.points(_SAGITTA_MM)
        )
        for mark in picture.marks
        if isinstance(mark, Path) and mark.closed and (mark.owner or mark.fill != "none")
        for outline in (Outline(mark.vertices),)
    ]
    return found[::-1]


def _places(part: Part, areas: Sequence[_Area], per_mm: MM) -> tuple[float, tuple[Point, ...]]:
    """Return how large a part is shown, 2 at most, and where a leader may end on what is seen of it; 0 where
    all of it is behind others.
    """
    size, tips, behind = 0.0, list[Point](), list[Point]()
    for area in areas:
        if area.owner not in part.members:
            continue
        x0, y0, x1, y1 = area.box
        grid = ((x0 + across * (x1 - x0), y0 + up * (y1 - y0)) for across in _SHARES for up in _SHARES)
        points = [point for point in grid if _inside(point, area.points)]
        behind += points
        if area.covers:
            seen = [point for point in points if _in_front(point, areas) in part.members]
        else:  # dashed, or a line in front of all
            seen = points
        if seen:
            size = max(size, min(x1 - x0, y1 - y0) / (_FINE_MM * per_mm))
            tips += seen
    tips = tips or behind
    step = max(1, len(tips) // _TIPS)
    return min(size, 2.0), tuple(tips[::step])


def _in_front(point: Point, areas: Sequence[_Area]) -> str:
    """Return the owner of the foremost area that a point lies in."""
    x, y = point
    for area in areas:
        x0, y0, x1, y1 = area.box
        if area.covers and x0 <= x <= x1 and y0 <= y <= y1 and _inside(point, area.points):
            return area.owner
    return ""


def _inside(point: Point, corners: Sequence[Point]) -> bool:
    x, y = point
    inside = False
    for (ax, ay), (bx, by) in zip(corners, (*corners[1:], corners[0]), strict=True):
        if (ay > y) != (by > y) and x < ax + (y - ay) * (bx - ax) / (by - ay):
            inside = not inside
    return inside
