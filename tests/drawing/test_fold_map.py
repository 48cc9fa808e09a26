"""The clearance map: what is painted at a pose is what the map says of it, and the path lies where its poses
are.
"""

import math
from functools import cache
from itertools import pairwise

import numpy as np
import pytest
from inked import texts
from timber_ramp import timber_ramp

from rampdraft.drawing.fold_map import fold_map, fold_map_ground, fold_map_path, map_point, map_pose
from rampdraft.drawing.ink import Label, Path
from rampdraft.evaluation.evaluate import Evaluation, evaluate
from rampdraft.geometry.linkage import Pose
from rampdraft.mechanics.folding.clearance_map import ClearanceMap, clearance_map
from rampdraft.model.fields.paths import with_value


def design(closing="backs"):
    return with_value(timber_ramp(), "fold.closing", closing)


@cache
def evaluated() -> Evaluation:
    return evaluate(timber_ramp())


@cache
def true_map() -> ClearanceMap:
    evaluation = evaluated()
    lowest = evaluation.sites[0].pose.inner_rad
    return clearance_map(evaluation.design, evaluation.assembly, evaluation.design.sites[0], lowest)


def a_map(clearance_of, closing="backs", points=121) -> ClearanceMap:
    """Return a map whose clearance is a function of (joint closed by, inner leaf's angle) in degrees."""
    closed = np.linspace(-6.0, 190.0, points)
    inner = np.linspace(-60.0, 130.0, points)
    sense = 1 if closing == "faces" else -1
    values = clearance_of(closed[None, :], inner[:, None]) + np.zeros((points, points))
    fold = np.radians(sense * closed)
    if sense < 0:
        fold, values = fold[::-1], values[:, ::-1]
    return ClearanceMap(inner_rad=np.radians(inner), fold_rad=fold, clearance_mm=values)


def painted_at(picture, x, y):
    """Return the fill that is seen at a point: that of the last area around it."""
    seen = "none"
    for mark in picture.marks:
        if isinstance(mark, Path) and mark.closed and mark.fill != "none" and len(mark.vertices) > 2:
            ring = [vertex[:2] for vertex in mark.vertices]
            inside = False
            for (ax, ay), (bx, by) in pairwise([*ring, ring[0]]):
                if (ay > y) != (by > y) and x < ax + (y - ay) / (by - ay) * (bx - ax):
                    inside = not inside
            seen = mark.fill if inside else seen
    return seen


def frame_of(picture):
    frame = next(
        mark
        for mark in reversed(picture.marks)
        if isinstance(mark, Path) and mark.closed and mark.fill == "none"
    )
    xs, ys = [x for x, _, _ in frame.vertices], [y for _, y, _ in frame.vertices]
    return min(xs), min(ys), max(xs), max(ys)


@pytest.mark.parametrize("closing", ["backs", "faces"])
@pytest.mark.parametrize("inner_deg", [-12.0, 40.0])
def test_places_and_poses_are_each_others_inverse(closing, inner_deg):
    pose = Pose(math.radians(inner_deg), math.radians(70.0 if closing == "faces" else -70.0))
    place = map_point(design(closing), pose)
    assert place == pytest.approx((70.0, inner_deg))
    back = map_pose(design(closing), place)
    assert (back.inner_rad, back.fold_rad) == pytest.approx((pose.inner_rad, pose.fold_rad))


@pytest.mark.parametrize("closing", ["backs", "faces"])
def test_islands_and_pools_within_each_other_are_painted_right(closing):
    """Rings about (90, 45): clash within 10 degrees, free to 20, clash to 30, free beyond; tinted in
    between.
    """

    def clearance(closed, inner):
        away = np.hypot(closed - 90.0, inner - 45.0)
        return np.where(away < 15.0, away - 10.0, np.where(away < 25.0, 20.0 - away, away - 30.0)) * 2.0

    demanded = 3.0
    shown = with_value(design(closing), "fold.clearance_mm", demanded)
    picture = fold_map_ground(a_map(clearance, closing, 361), shown)
    for away, fill in (
        (0, "clash"),
        (8, "clash"),
        (11, "tight"),
        (15, "paper"),
        (19, "tight"),
        (25, "clash"),
        (31, "tight"),
        (36, "paper"),
    ):
        for turn in range(0, 360, 40):
            x, y = 90 + away * math.cos(math.radians(turn)), 45 + away * math.sin(math.radians(turn))
            assert painted_at(picture, x, y) == fill, (away, turn)


def test_a_true_map_is_painted_as_it_says():
    surface, shown = true_map(), evaluated().design
    picture = fold_map_ground(surface, shown)
    x0, y0, x1, y1 = frame_of(picture)
    demanded, seen = shown.fold.clearance_mm, set()
    for i in range(3, len(surface.inner_rad) - 3, 11):
        for j in range(3, len(surface.fold_rad) - 3, 11):
            x, y = map_point(shown, Pose(surface.inner_rad[i], surface.fold_rad[j]))
            value = surface.clearance_mm[i, j]
            if not (x0 < x < x1 and y0 < y < y1) or min(abs(value), abs(value - demanded)) < 0.02:
                continue
            fill = "clash" if value < 0 else "tight" if value < demanded else "paper"
            assert painted_at(picture, x, y) == fill
            seen.add(fill)
    assert {"clash", "paper"} <= seen


def test_contour_lines_run_where_their_figures_say():
    """Clearance is as many mm as the inner leaf's angle has degrees, so each line is level at its own
    figure.
    """
    shown = with_value(design(), "fold.clearance_mm", 3.0)
    picture = fold_map_ground(a_map(lambda _, inner: inner), shown)
    lines = [mark for mark in picture.marks if isinstance(mark, Path) and mark.pen == "hidden"]
    heights = {round(vertex[1], 6) for mark in lines for vertex in mark.vertices}
    assert heights == {5.0, 10.0, 20.0, 50.0}
    figures = {mark.text: mark.at[1] for mark in picture.marks if isinstance(mark, Label) and mark.boxed}
    assert figures == {"5": 5.0, "10": 10.0, "20": 20.0, "50": 50.0}


def test_what_clashes_everywhere_low_down_is_left_out():
    picture = fold_map_ground(a_map(lambda _, inner: inner + 20.0), design())
    x0, y0, x1, y1 = frame_of(picture)
    assert y0 == pytest.approx(-26.0, abs=3.0)
    assert y1 == pytest.approx(96.0, abs=2.0)
    assert (x0, x1) == pytest.approx((-6.0, 186.0), abs=2.0)


@pytest.mark.parametrize(("value", "fill"), [(-5.0, "clash"), (1.0, "tight"), (50.0, "paper")])
def test_a_map_of_one_value_has_one_look(value, fill):
    picture = fold_map_ground(a_map(lambda closed, _: value + 0.0 * closed), design())
    assert painted_at(picture, 90.3, 41.7) == fill


@pytest.mark.parametrize(
    ("closing", "figures"), [("backs", ["0°", "−30°", "−180°"]), ("faces", ["0°", "30°", "180°"])]
)
def test_the_joints_angle_has_its_sign(closing, figures):
    assert set(figures) <= set(
        texts(fold_map_ground(a_map(lambda closed, _: closed + 10.0, closing), design(closing)))
    )


def test_the_path_goes_through_its_poses_and_each_can_be_pointed_at():
    evaluation = evaluated()
    path = evaluation.fold.path
    marks = fold_map_path(evaluation.design, path, None)
    line = next(mark for mark in marks if isinstance(mark, Path) and not mark.closed)
    assert [vertex[:2] for vertex in line.vertices] == [
        pytest.approx(map_point(evaluation.design, pose)) for pose in path.poses
    ]
    points = [mark for mark in marks if isinstance(mark, Path) and mark.owner]
    assert len({mark.owner for mark in points}) == len(points) == len(path.poses)
    for mark, pose in zip(points, path.poses, strict=True):
        (ax, ay, _), (bx, by, _) = mark.vertices
        assert ((ax + bx) / 2, (ay + by) / 2) == pytest.approx(map_point(evaluation.design, pose))
    words = [mark.text for mark in marks if isinstance(mark, Label)]
    assert words == [*(str(number) for number in range(1, len(path.stages) + 1)), "deployed", "stowed"]


def test_the_cursor_is_a_cross_on_its_pose():
    evaluation = evaluated()
    pose = evaluation.fold.path.pose(0.4)
    without, marked = (
        fold_map_path(evaluation.design, evaluation.fold.path, cursor) for cursor in (None, pose)
    )
    assert marked[: len(without)] == without
    ends = [vertex[:2] for mark in marked[len(without) :] for vertex in mark.vertices]
    middle = sum(x for x, _ in ends) / len(ends), sum(y for _, y in ends) / len(ends)
    assert middle == pytest.approx(map_point(evaluation.design, pose))


def test_the_whole_map_is_its_ground_and_its_path():
    evaluation, surface = evaluated(), true_map()
    whole = fold_map(surface, evaluation.design, evaluation.fold.path)
    ground = fold_map_ground(surface, evaluation.design)
    assert whole.marks == (*ground.marks, *fold_map_path(evaluation.design, evaluation.fold.path, None))
    assert whole.box == ground.box
