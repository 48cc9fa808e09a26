"""The search on maps that are drawn by hand: a wall with one way through."""

import math

import numpy as np
import pytest

from rampdraft.geometry.linkage import Pose
from rampdraft.mechanics.folding.clearance_map import ClearanceMap
from rampdraft.mechanics.folding.search import keeps, widest_mm

STEP = 0.1
AXIS = STEP * np.arange(21)
START, END = Pose(AXIS[2], AXIS[3]), Pose(AXIS[18], AXIS[17])


def walled(*, gap_mm: float, at: int = 12, wall_mm: float = 1.0) -> ClearanceMap:
    """Return a map with 10 mm everywhere but on a wall across it, which has one gap."""
    clearance = np.full((21, 21), 10.0)
    clearance[10, :] = wall_mm
    clearance[10, at] = gap_mm
    return ClearanceMap(inner_rad=AXIS, fold_rad=AXIS, clearance_mm=clearance)


@pytest.mark.parametrize("gap_mm", [-3.0, 1.5, 4.0, 12.0])
def test_the_widest_way_is_as_wide_as_its_tightest_place(gap_mm: float):
    widest = min(10.0, max(1.0, gap_mm))
    for at in (0, 12, 20):
        surface = walled(gap_mm=gap_mm, at=at)
        assert widest_mm(surface, START, END) == widest_mm(surface, END, START) == widest
        assert keeps(surface, START, END, widest)
        assert not keeps(surface, START, END, widest + 0.01)


def test_a_map_that_is_alike_everywhere():
    surface = walled(gap_mm=10.0, wall_mm=10.0)
    assert widest_mm(surface, START, END) == 10.0
    assert not keeps(surface, START, END, 10.01)


@pytest.mark.parametrize(("steps", "joined"), [(3, True), (4, False)])
def test_a_pose_beside_the_map_s_free_ones_is_joined_to_them(steps: int, joined: bool):
    """The deployed pose stands on the ground, where the map may have a clash; a free one is near."""
    surface = walled(gap_mm=10.0)
    clearance = np.array(surface.clearance_mm)
    i, j = np.meshgrid(np.arange(21), np.arange(21), indexing="ij")
    clearance[np.hypot(i - 2, j - 3) < steps - 1e-9] = -5.0
    clash = ClearanceMap(inner_rad=AXIS, fold_rad=AXIS, clearance_mm=clearance)
    assert keeps(clash, START, END, 10.0) is joined
    assert math.isclose(widest_mm(clash, START, END), 10.0 if joined else -5.0)
