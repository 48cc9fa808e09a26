"""The standing pose against right triangles in whole numbers: a ramp of length c whose hinge centre is a
above its toe.

sin(alpha) = a / c, going b, rise : going = a : b.
"""

import math

import pytest
from timber_ramp import timber_ramp

from rampdraft.geometry.members.assembly import assemble
from rampdraft.mechanics.results import SitePose
from rampdraft.mechanics.standing.standing import stand
from rampdraft.model.design import Design, Site
from rampdraft.model.fields.paths import with_value

TRIANGLES = [
    (9, 40, 41, 60),
    (7, 24, 25, 100),
    (5, 12, 13, 200),
    (12, 35, 37, 70),
    (13, 84, 85, 32),
    (11, 60, 61, 45),
]
"""Pythagorean triples (Euclid, Elements X.29, lemma 1) and the mm of a unit."""


def standing(
    a: float, c: float, ground: tuple[tuple[float, float], ...] = ((0, 0),)
) -> tuple[Design, SitePose]:
    """Return a plain ramp, c long and straight, whose hinge centre lies on the line of its undersides, a
    above z = 0.
    """
    design = timber_ramp()
    for path, value in {
        "toe.kind": "plain",
        "stop.kind": "none",
        "deck_hinge.height_mm": -40,
        "carrier.deck_height_mm": a + 38,
        "inner_leaf.length_mm": c / 2,
        "outer_leaf.length_mm": c / 2,
        "inner_leaf.cross_positions_mm": (),
        "outer_leaf.cross_positions_mm": (),
    }.items():
        design = with_value(design, path, value)
    site = Site(name="Ground", kind="ground", ground_mm=ground)
    return design, stand(design, assemble(design), site, 1)


@pytest.mark.parametrize(("a", "b", "c", "unit"), TRIANGLES)
def test_whole_number_triangles(a, b, c, unit):
    design, found = standing(a * unit, c * unit)
    assert found.grounds_at_toe
    assert -math.sin(found.pose.inner_rad) == pytest.approx(a / c, abs=1e-12)
    assert found.whole.rise_mm == pytest.approx(a * unit)
    assert found.whole.going_mm == pytest.approx(b * unit)
    assert found.whole.ratio == pytest.approx(a / b)
    assert found.contact == pytest.approx((design.deck_hinge.out_mm + b * unit, 0), abs=1e-6)


@pytest.mark.parametrize(("a", "b", "c", "unit"), TRIANGLES)
def test_on_a_kerb_or_in_a_ditch_the_rise_is_what_is_left(a, b, c, unit):
    """A ground everywhere h higher takes h from the rise, whatever its height."""
    for height in (-150, 150):
        _, found = standing(a * unit + height, c * unit, ((0, 0), (600, 0), (600, height), (4000, height)))
        if found.grounds_at_toe:
            assert found.whole.rise_mm == pytest.approx(a * unit)
    assert found.grounds_at_toe or a * unit < 400, "only a low ramp meets the kerb's edge"


@pytest.mark.parametrize("slope", [1 / 50, -1 / 50, 1 / 12])
def test_on_a_slope_by_the_sine_rule(slope):
    """Ground through (0, 0) at angle s: the perpendicular from the hinge on it is c sin(alpha + s)."""
    a, c = 400.0, 2600.0
    design, found = standing(a, c, ((0, 0), (4000, 4000 * slope)))
    turn = math.atan(slope)
    perpendicular = a * math.cos(turn) - design.deck_hinge.out_mm * math.sin(turn)
    assert found.grounds_at_toe
    assert math.sin(-found.pose.inner_rad + turn) == pytest.approx(perpendicular / c, abs=1e-12)
