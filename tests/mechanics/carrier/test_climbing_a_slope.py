"""What a user's axles put on the carrier from a ramp that slopes, either way round: statics by hand."""

from dataclasses import replace
from functools import cache

import numpy as np
import pytest
from test_carrier import trolley, wheels
from timber_ramp import timber_ramp

from rampdraft.evaluation.evaluate import evaluate
from rampdraft.geometry.members.assembly import assemble
from rampdraft.mechanics.carrier.results import Climb, Standing
from rampdraft.mechanics.carrier.standing import carrier_standing, weights_of
from rampdraft.model.design import Design, WheeledUser
from rampdraft.units import G_M_S2

CHAIR = WheeledUser(
    name="chair", kind="powered wheelchair", mass_kg=300, width_mm=600, wheelbase_mm=500,
    front_share_percent=30, mass_centre_height_mm=650,
)  # fmt: skip
W = 300 * G_M_S2
FRONT, REAR = 0.3 * W, 0.7 * W
GRADE = 1 / 6
MOVED = W * 650 / 500 * GRADE
"""637.43 N: of a rigid body on two axles, moments about the surface."""


@cache
def assembly():
    return assemble(timber_ramp())


def with_user(design: Design, user: WheeledUser = CHAIR) -> Design:
    return replace(design, use=replace(design.use, users=(user,), rated_load_kg=300))


def climb_of(design: Design, grade: float) -> Climb:
    found = carrier_standing(design, assembly(), (grade,))
    assert isinstance(found, Standing)
    return next(climb for climb in found.climbs if not climb.across_mm and not climb.cargo)


def on_deck(design: Design, grade: float, first_mm: float, *, forwards: bool) -> tuple[float, float]:
    """Return force and moment about the deck edge of the user with his first axle there, N and N mm."""
    climb = climb_of(design, grade)
    gaps = np.abs(climb.first_axle_mm - first_mm) + 1e6 * (climb.forwards != forwards)
    at = int(gaps.argmin())
    assert gaps[at] < 1e-6, "looked at where an axle comes onto hinge or edge"
    weights = weights_of(design, climb, at)
    return sum(one.force_n for one in weights), sum(one.force_n * one.x_mm for one in weights)


def length(design: Design) -> float:
    return design.inner_leaf.length_mm + design.outer_leaf.length_mm


@pytest.mark.parametrize(
    ("forwards", "upper", "lower"),
    [(True, FRONT - MOVED, REAR + MOVED), (False, REAR - MOVED, FRONT + MOVED)],
)
def test_wholly_on_the_ramp_the_lower_axle_has_more(forwards, upper, lower):
    """The first axle over the hinge, the other 500 mm further out: both on the slope."""
    design = with_user(trolley())
    force, moment = on_deck(design, GRADE, 0.0, forwards=forwards)
    by_hand = upper + lower * (1 - 500 / length(design))
    assert force == pytest.approx(by_hand)
    assert moment == pytest.approx(by_hand * design.deck_hinge.out_mm)


@pytest.mark.parametrize(("forwards", "first", "last"), [(True, FRONT, REAR), (False, REAR, FRONT)])
def test_from_where_the_lower_axle_is_at_the_hinge_it_stands_level(forwards, first, last):
    design, out = with_user(trolley()), trolley().deck_hinge.out_mm
    force, moment = on_deck(design, GRADE, -500.0, forwards=forwards)
    assert force == pytest.approx(W)
    assert moment == pytest.approx(last * out + first * (out - 500))


def test_astride_the_hinge_it_leans_by_what_is_on_the_slope():
    """The front axle on the edge, `out` beyond the hinge: of its wheelbase, 500 - out stand on the slope."""
    design, out = with_user(trolley()), trolley().deck_hinge.out_mm
    assert out > 0
    moved = MOVED * (500 - out) / 500
    force, moment = on_deck(design, GRADE, -out, forwards=True)
    rear = (REAR + moved) * (1 - (500 - out) / length(design))
    assert force == pytest.approx(FRONT - moved + rear)
    assert moment == pytest.approx(rear * out)


def test_a_ramp_that_falls_towards_the_deck_brings_more_onto_it():
    """A platform above the deck: the leading axle is the lower one."""
    design = with_user(trolley())
    force, _ = on_deck(design, -GRADE, 0.0, forwards=True)
    assert force == pytest.approx(FRONT + MOVED + (REAR - MOVED) * (1 - 500 / length(design)))


def test_the_feet_of_an_attendant_stay_what_they_are():
    design = with_user(trolley(), replace(CHAIR, attendant_kg=80, attendant_behind_mm=400))
    force, _ = on_deck(design, GRADE, 0.0, forwards=True)
    reach = length(design)
    by_hand = FRONT - MOVED + (REAR + MOVED) * (1 - 500 / reach) + 80 * G_M_S2 * (1 - 900 / reach)
    assert force == pytest.approx(by_hand)
    backwards, _ = on_deck(design, GRADE, -400.0, forwards=False)
    by_hand = 80 * G_M_S2 + REAR - MOVED + (FRONT + MOVED) * (1 - 500 / reach)
    assert backwards == pytest.approx(by_hand)


def overhung(back_mm: float, user: WheeledUser = CHAIR) -> Design:
    near = tuple(
        replace(one, back_mm=back_mm) if one.name.startswith("near") else one
        for one in wheels(unsprung_kg=0.0)
    )
    return with_user(trolley(near, body_kg=400.0, body_back_mm=1000.0), user)


def test_it_tips_under_who_leans_though_not_as_on_the_level():
    """Near wheels so far back that the level chair leaves the carrier just standing, and one that leans over
    the hinge tips it.
    """
    rear_heavy = replace(CHAIR, front_share_percent=20)
    for back in np.linspace(300, 700, 201):
        climbs = (climb_of(overhung(float(back), rear_heavy), grade) for grade in (0.0, 0.3))
        level, slope = (
            climb.overturning[climb.forwards & (climb.first_axle_mm > -500.1)].max() for climb in climbs
        )
        if level < 1 < slope:
            return
    pytest.fail("the slope moves nothing outward")


def test_backwards_tips_where_forwards_does_not():
    """With the heavy axle at the hinge, what follows on a long ramp still hangs on it."""
    for back in np.linspace(300, 700, 201):
        climb = climb_of(overhung(float(back)), 0.0)
        over = climb.overturning >= 1
        if over[~climb.forwards].any() and not over[climb.forwards].any():
            return
    pytest.fail("both ways round are alike")


def test_every_grade_of_the_ramp_is_climbed_both_ways_round():
    design = with_user(trolley())
    found = evaluate(design)
    assert isinstance(found.standing, Standing)
    assert all(grade > 0 for grade in found.ramp_grades), "no grade but those of the leaves"
    for climb in found.standing.climbs:
        grades = found.ramp_grades[-1:] if climb.on_deck else found.ramp_grades
        assert {
            (bool(way), float(grade)) for way, grade in zip(climb.forwards, climb.grade, strict=True)
        } == {(forwards, grade) for forwards in (True, False) for grade in grades}


def test_what_a_steeper_ramp_puts_on_the_hinge_is_met_on_the_way_up():
    """So it is not looked at again: no more of anything than with all grades climbed from the toe."""
    design = with_user(trolley())
    both = carrier_standing(design, assembly(), (0.2, 0.1))
    assert isinstance(both, Standing)
    for grade in (0.2, 0.1):
        one = carrier_standing(design, assembly(), (grade,))
        assert isinstance(one, Standing)
        for climb, other in zip(both.climbs, one.climbs, strict=True):
            assert climb.overturning.max() >= other.overturning.max() - 1e-9
            assert climb.stances.share.min() <= other.stances.share.min() + 1e-9
            for turn in ("edge_drop_mm", "nod_rad", "lean_rad"):
                most, least = getattr(climb.stances, turn), getattr(other.stances, turn)
                assert most.max() >= least.max() - 1e-9
                assert most.min() <= least.min() + 1e-9
