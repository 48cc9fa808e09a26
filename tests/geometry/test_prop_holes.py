"""The holes that set a prop's length: one for each height that is needed, as near as a tube bears them.

EN 1993-1-8, table 3.3 (from memory): holes stand p1 >= 2.2 d0 apart, and e1 >= 1.2 d0 from an end.
"""

import random
from itertools import pairwise

import pytest

from rampdraft.geometry.members.prop_holes import settings

APART_MM = 2.2 * 12.5
"""A hole is 0.5 mm wider than its pin."""


def short_mm(heights, needs):
    """Return how much each prop stands short that is pinned at the greatest height that is not too great."""
    return [need - max(height for height in heights if height <= need + 1e-9) for need in needs]


def heights_of(needs, faces=1):
    return [one.height_mm for one in settings(needs, least_mm=225, apart_mm=APART_MM, faces=faces)]


def test_each_height_that_is_needed_has_its_hole():
    needs = (240.0, 300.0, 271.3)
    assert short_mm(heights_of(needs), needs) == [0, 0, 0]
    assert len(heights_of((250.0, 250.2))) == 1, "within the play of a pin one hole does for both"


def test_heights_too_near_to_each_other_share_what_is_short():
    """Two heights 10 mm apart: one hole, 10 mm short, since two would have to stand 17.5 mm off."""
    assert max(short_mm(heights_of((300.0, 310.0)), (300.0, 310.0))) == pytest.approx(10)
    assert max(short_mm(heights_of((300.0, 320.0)), (300.0, 320.0))) == pytest.approx(7.5)
    assert max(short_mm(heights_of((300.0, 310.0), faces=2), (300.0, 310.0))) == 0


@pytest.mark.parametrize("faces", [1, 2])
@pytest.mark.parametrize("seed", range(20))
def test_holes_keep_their_distance_and_no_prop_pushes_the_joint_up(seed, faces):
    rng = random.Random(seed)
    needs = tuple(rng.uniform(226, 360) for _ in range(rng.randint(1, 9)))
    found = settings(needs, least_mm=225, apart_mm=APART_MM, faces=faces)
    for face in range(faces):
        row = sorted(one.height_mm for one in found if one.face == face)
        assert all(high - low >= APART_MM - 1e-6 for low, high in pairwise(row))
    heights = [one.height_mm for one in found]
    assert min(heights) >= 225
    assert max(short_mm(heights, needs)) <= APART_MM / faces + 1e-6
