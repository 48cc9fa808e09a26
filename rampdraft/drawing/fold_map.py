"""The clearance map as ink: where the fold may go, and the way it goes. A degree of either angle is one mm.

The joint's angle runs across from straight to closed, the inner leaf's angle runs up, so that every fold
leads from lower left to upper right. The sole owner of contourpy.
"""

import math
from bisect import bisect_left
from collections.abc import Iterator
from dataclasses import replace
from itertools import accumulate, pairwise
from typing import Any, Final

import numpy as np
from contourpy import FillType, LineType, contour_generator
from numpy.typing import NDArray

from rampdraft.drawing.axes import SIZE_PT, Axis, Graph, axes, grid, stepped_ticks
from rampdraft.drawing.ink import Fill, Ink, Label, Path, Picture, area, line, polygon, polyline, ring
from rampdraft.drawing.letters import letters_mm, words_mm
from rampdraft.drawing.text import mm_text
from rampdraft.geometry.linkage import Pose
from rampdraft.geometry.outline import Point, rectangle
from rampdraft.mechanics.folding.clearance_map import BEYOND_RAD, ClearanceMap
from rampdraft.mechanics.folding.folding import closed_pose, closing_sense
from rampdraft.mechanics.results import FoldPath
from rampdraft.model.design import Design
from rampdraft.units import DEG, MM
from rampdraft.words.figures import fixed, mm
from rampdraft.words.say import say

ROUND_MM: Final = (1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0, 200.0, 500.0, 1000.0)
"""Clearances that get a contour line, where they are more than demanded."""
_EVEN: Final = 0.95
"""A level this near to the greatest clearance would trace the unevenness of a plateau."""
_LEAST_LABELLED_MM: Final = 25.0
"""On paper: a contour line shorter than this goes without its figure."""
_BESIDE: Final = math.degrees(BEYOND_RAD)
"""How many degrees are shown beyond the poses that matter."""

_BEYOND: Final = 2.2
"""Words along an axis may be so many times as long as it."""
_STEPS: Final = (1, 2, 3, 6, 12)
_APART: Final = 1.2
"""Figures along an axis stand at least so many of their sizes apart."""

Array = NDArray[np.float64]


def map_point(design: Design, pose: Pose) -> Point:
    """Return the place of a pose on the map."""
    return closing_sense(design) * math.degrees(pose.fold_rad), math.degrees(pose.inner_rad)


def map_pose(design: Design, at: Point) -> Pose:
    """Return the pose at a place of the map."""
    return Pose(math.radians(at[1]), closing_sense(design) * math.radians(at[0]))


def fold_map(surface: ClearanceMap, design: Design, path: FoldPath, per_mm: MM = 1.0) -> Picture:
    """Return the map with the path on it; `per_mm`: see `dimension`."""
    ground = fold_map_ground(surface, design, per_mm)
    return replace(ground, marks=(*ground.marks, *fold_map_path(design, path, None, per_mm)))


def fold_map_ground(surface: ClearanceMap, design: Design, per_mm: MM = 1.0) -> Picture:
    """Return the map alone: clashes hatched, less clearance than demanded tinted, contour lines, both angles
    along its sides.
    """
    across, up, clearance_mm = _shown(surface, design)
    demanded = design.fold.clearance_mm
    graph = _graph(design, across, up, per_mm)
    contours: Any = contour_generator(
        x=across, y=up, z=clearance_mm, fill_type=FillType.OuterOffset, line_type=LineType.Separate
    )
    rings: list[tuple[float, Path]] = []
    kinds: tuple[tuple[MM, Fill, Fill], ...] = ((demanded, "tight", "paper"), (0.0, "clash", "tight"))
    lowest = float(clearance_mm.min()) - 1.0
    for level, within, around in kinds:
        if lowest < level:
            polygons, offsets = contours.filled(lowest, level)
            rings.extend(_rings(polygons, offsets, within, around))
    # They never cross, so the innermost, painted last, is right everywhere.
    rings.sort(key=lambda found: -found[0])
    marks: list[Ink] = [
        area(rectangle(*graph.frame), "ghost", "paper"),
        *(path for _, path in rings),
        *grid(graph),
    ]
    labels: list[Ink] = []
    greatest = float(clearance_mm.max())
    for level in (level for level in ROUND_MM if demanded < level < _EVEN * greatest):
        for points in contours.lines(level):
            marks.append(polyline(points.tolist(), "hidden"))
            labels.extend(_figure(points, mm_text(level), per_mm))
    return Picture(
        marks=(*marks, *axes(graph), *_legend(graph, demanded), *labels),
        box=graph.box,
        title=say("Clearance map"),
    )


def fold_map_path(design: Design, path: FoldPath, cursor: Pose | None, per_mm: MM = 1.0) -> tuple[Ink, ...]:
    """Return the path with its way-points and the stages' numbers, both of its ends named, and a cross at the
    cursor.
    """
    places = [map_point(design, pose) for pose in path.poses]
    marks: list[Ink] = [polyline(places, "accent")]
    ends = {0.0, *(stage.end for stage in path.stages)}
    for number, (place, share) in enumerate(zip(places, path.at, strict=True)):
        radius = (1.1 if share in ends else 0.6) * per_mm
        marks.append(ring(place, radius, pen="accent", owner=f"way-point {number}"))
    for number, stage in enumerate(path.stages, start=1):
        middle = map_point(design, path.pose((stage.start + stage.end) / 2))
        beside = (middle[0] - 3.0 * per_mm, middle[1] + 3.0 * per_mm)
        marks.append(
            Label(text=str(number), at=beside, anchor="centre", pen="accent", size_pt=9.0, boxed=True)
        )
    (x0, y0), (x1, y1) = places[0], places[-1]
    beside, over = (x0 + 3.5 * per_mm, y0 + 5.0 * per_mm), (x1 - 2.5 * per_mm, y1 + 0.6 * per_mm)
    marks.append(Label(text=say("deployed"), at=beside, pen="outline", angle_deg=90.0))
    marks.append(Label(text=say("stowed"), at=over, anchor="right", pen="outline"))
    if cursor is not None:
        marks.extend(_cross(map_point(design, cursor), 5.0 * per_mm))
    return tuple(marks)


def kept_path(design: Design, path: FoldPath) -> tuple[Ink, ...]:
    """Return the path of a ramp that is kept beside the one shown."""
    return (polyline((map_point(design, pose) for pose in path.poses), "other"),)


def _shown(surface: ClearanceMap, design: Design) -> tuple[Array, Array, Array]:
    """Return angles across and up in degrees, rising, and the clearance, shape (up, across), of what is worth
    showing.

    Poses low down, where everything clashes, are left out, and so is what lies far beyond the stowed pose.
    """
    end = map_point(design, closed_pose(design))
    across, up = closing_sense(design) * np.degrees(surface.fold_rad), np.degrees(surface.inner_rad)
    clearance_mm = surface.clearance_mm
    if across[0] > across[-1]:
        across, clearance_mm = across[::-1], clearance_mm[:, ::-1]
    columns = (across > -_BESIDE - 1e-6) & (across < end[0] + _BESIDE + 1e-6)
    free = up[(clearance_mm[:, columns] >= 0).any(axis=1)]
    lowest, highest = (min(free[0], end[1]), end[1]) if free.size else (up[0], end[1])
    rows = (up > lowest - _BESIDE - 1e-6) & (up < highest + _BESIDE + 1e-6)
    return across[columns], up[rows], clearance_mm[np.ix_(rows, columns)]


def _graph(design: Design, across: Array, up: Array, per_mm: MM) -> Graph:
    sense = closing_sense(design)
    wide, tall = (float(side[-1] - side[0]) / per_mm for side in (across, up))
    joint = tuple(
        (value, _joint_text(sense * value))
        for value, _ in stepped_ticks(across[0], across[-1], _step(30.0, words_mm("0180°", SIZE_PT), per_mm))
    )
    inner = tuple(
        (value, f"{words}°")
        for value, words in stepped_ticks(up[0], up[-1], _step(15.0, letters_mm(SIZE_PT), per_mm))
    )
    folded = say(
        "angle of the joint: 0° straight, {joint} faces together"
        if design.fold.closing == "faces"
        else "angle of the joint: 0° straight, {joint} backs together",
        joint=_joint_text(180.0 * sense),
    )
    return Graph(
        across=Axis(low=across[0], high=across[-1], ticks=joint, words=_within(folded, wide)),
        up=Axis(
            low=up[0],
            high=up[-1],
            ticks=inner,
            words=_within(say("angle of the inner leaf: 0° level, 90° upright"), tall),
        ),
        frame=(float(across[0]), float(up[0]), float(across[-1]), float(up[-1])),
        per_mm=per_mm,
    )


def _step(usual: DEG, figure_mm: MM, per_mm: MM) -> DEG:
    """Return how many degrees apart figures stand, so that none touches the next."""
    room = _APART * figure_mm * per_mm
    return usual * next((times for times in _STEPS if usual * times > room), _STEPS[-1])


def _within(words: str, room_mm: MM) -> str:
    """Return the words along an axis, without what explains them where the axis is short."""
    return words if words_mm(words, SIZE_PT) < _BEYOND * room_mm else words.partition(":")[0]


def _joint_text(angle_deg: DEG) -> str:
    return fixed(angle_deg, 0, "°")


def _legend(graph: Graph, demanded: MM) -> Iterator[Ink]:
    """Yield what hatching and tint mean, over the frame."""
    per_mm, x, y = graph.per_mm, graph.frame[0], graph.frame[3] + 1.5 * graph.per_mm
    kinds: tuple[tuple[Fill, str], ...] = (
        ("clash", say("clash")),
        ("tight", say("less than {clearance} of clearance", clearance=mm(demanded))),
    )
    for fill, words in kinds if demanded > 0 else kinds[:1]:
        yield area(rectangle(x, y, x + 5.0 * per_mm, y + 2.4 * per_mm), "thin", fill)
        yield Label(text=words, at=(x + 6.2 * per_mm, y + 0.3 * per_mm), size_pt=7.5)
        x += 24.0 * per_mm


def _rings(
    polygons: list[Array], offsets: list[NDArray[np.uint32]], within: Fill, around: Fill
) -> Iterator[tuple[float, Path]]:
    """Yield the rings of filled areas with the size of what each encloses: the outer ones, and the holes in
    them.
    """
    for points, starts in zip(polygons, offsets, strict=True):
        for first, last in pairwise(starts):
            ring_points = points[first : last - 1]  # contourpy ends a ring where it began
            x, y = ring_points[:, 0], ring_points[:, 1]
            size = abs(float(x @ np.roll(y, -1) - y @ np.roll(x, -1))) / 2
            fill = within if first == 0 else around
            yield size, polygon(ring_points.tolist(), "thin", fill)


def _figure(points: Array, words: str, per_mm: MM) -> tuple[Label, ...]:
    """Return the figure of a contour line, half way along it; none on a short one."""
    places: list[Point] = [(x, y) for x, y in points.tolist()]
    along = [0.0, *accumulate(math.dist(a, b) for a, b in pairwise(places))]
    if along[-1] < _LEAST_LABELLED_MM * per_mm:
        return ()
    return (
        Label(
            text=words,
            at=places[bisect_left(along, along[-1] / 2)],
            anchor="centre",
            pen="hidden",
            size_pt=7.0,
            boxed=True,
        ),
    )


def _cross(at: Point, reach: MM) -> tuple[Ink, ...]:
    (x, y), gap = at, reach / 4
    arms = ((1.0, 0.0), (-1.0, 0.0), (0.0, 1.0), (0.0, -1.0))
    lines = (
        line((x + dx * gap, y + dy * gap), (x + dx * reach, y + dy * reach), "accent") for dx, dy in arms
    )
    return (*lines, ring(at, gap, pen="accent", fill="none"))
