"""EN 1999-1-3: lives of aluminium slats, welds and upstands, against its curves (from memory)."""

import math
from dataclasses import replace

import numpy as np
import pytest

from rampdraft.checks.result import Check, Status
from rampdraft.evaluation.evaluate import evaluate
from rampdraft.mechanics.loading.loads import Rolling
from rampdraft.model.design import Design
from rampdraft.model.fields.paths import with_value
from rampdraft.model.starter import starter_design
from rampdraft.strength.curves import (
    ALUMINIUM_GAMMA_MF,
    DRILLED,
    PLAIN,
    WELDED,
    Curve,
    Detail,
    drilled,
    plain,
    root,
    toe,
)
from rampdraft.strength.guards import Guards
from rampdraft.strength.surface import Boards

ALUMINIUM = "aluminium 6082-T6"


@pytest.mark.parametrize(("curve", "m1", "m2"), [(WELDED, 3.4, 5.4), (DRILLED, 4, 4), (PLAIN, 7, 7)])
def test_curves_go_through_their_points(curve: Curve, m1: float, m2: float) -> None:
    """EN 1999-1-3, 6.2: 2 million at the category, 5 million at (2/5)^(1/m1) of it, and from there with m2 to
    100 million, the cut-off.
    """
    five = 0.4 ** (1 / m1)
    hundred = five * 0.05 ** (1 / m2)
    at = np.array([1.0, five, hundred, hundred * 0.999]) * 56 / ALUMINIUM_GAMMA_MF
    found = Detail(category=56.0, curve=curve, words="").life(at)
    assert found[:3] == pytest.approx([2e6, 5e6, 1e8])
    assert found[3] == math.inf


def test_aluminium_bears_a_weld_far_less_often_than_steel() -> None:
    """12 against 36 at a root, 23 against 80 at a toe, 56 against 90 at a hole (from memory)."""
    metals = ("aluminium", "steel")
    assert [root(metal).category for metal in metals] == [12, 36]
    assert [toe(metal, "", 40.0, 8.0).category for metal in metals] == [23, 80]
    assert [drilled(metal, "").category for metal in metals] == [56, 90]
    assert [plain(metal, "").category for metal in metals] == [90, 125]
    assert toe("aluminium", "", 40.0, 10.5).category == 18


def checked(design: Design, key: str) -> Check:
    return next(one for one in evaluate(design).checks if one.id == f"own/crossings/{key}")


def test_slats_that_bear_every_user_and_tire_all_the_same() -> None:
    """At a library with 400 users a day 8 mm slats crack after four of ten years, though each wheel uses 91 %
    of their strength.
    """
    design = with_value(starter_design(), "use.crossings", 1e6)
    strength = next(one for one in evaluate(design).checks if one.id == "own/strength/outer-slats")
    assert not strength.fails
    check = checked(design, "outer-slats")
    assert check.status is Status.EXCEEDS
    assert "over a rail" in " ".join(check.working)
    assert "in a bay" in " ".join(checked(design, "inner-slats").working)


def test_a_slat_over_a_rail_by_hand() -> None:
    """The moment over a rail on what its holes leave, each axle by itself: 2 axles, or 3 of a chair."""
    design = starter_design()
    found = evaluate(design)
    part = {family.key: one for family, one in found.strengths.parts}["outer-slats"]
    assert isinstance(part, Boards)
    leaf, hole = design.outer_leaf, design.workshop.slat_screw_mm
    used = 0.0
    for number in range(len(design.use.users)):
        rows = part.bent.patches.load == number
        wide = part.bent.wide_mm[rows, 0] * (1 - 2 * hole / leaf.slat_width_mm)
        stress = float((part.over_nmm[rows] / (wide * leaf.slat_thickness_mm**2 / 6)).max())
        load = found.carried.loads[number]
        assert isinstance(load, Rolling)
        axles = len(load.axles)
        if 1.2 * stress / 56 > (2 / 100) ** 0.25:
            used += axles / (2e6 * (56 / (1.2 * stress)) ** 4)
    assert checked(design, "outer-slats").value == pytest.approx(len(design.use.users) / used)


def test_a_weld_of_slats_and_an_upstand_by_hand() -> None:
    """Welded slats bear 23 at their toes; a push of 0.3 F on an upstand of 52 mm, at every tenth crossing."""
    design = with_value(starter_design(), "workshop.slat_screw_mm", 0.0)
    made = replace(design.made_of, rails=ALUMINIUM, cross_members=ALUMINIUM, fittings=ALUMINIUM)
    welded = replace(design, made_of=made)
    assert "category 23" in " ".join(checked(welded, "outer-slats").working)
    assert "category 12" in " ".join(checked(welded, "outer-fixings").working)
    assert checked(welded, "joint-knuckles").status is not Status.UNJUDGED
    found = evaluate(starter_design())
    guard = {family.key: one for family, one in found.fixed_on.parts}["inner-upstands"]
    assert isinstance(guard, Guards)
    users = len(design.use.users)
    push = 0.3 * guard.wheel_n[:users]
    wide = guard.contact_mm[:users] + guard.height_mm
    leaf = design.inner_leaf
    pulled = push * (52 + 4) / (8 * wide * leaf.slat_width_mm / leaf.slat_pitch_mm)
    weld = (pulled + push / (2 * wide * leaf.slat_width_mm / leaf.slat_pitch_mm)) / guard.throat_mm
    foot = push * 52 / (wide * 5**2 / 6)
    lives = [
        users / (0.1 * sum(1 / Detail(category=of, curve=WELDED, words="").life(stress)))
        if sum(stress)
        else 0
        for of, stress in ((12.0, weld), (23.0, foot))
    ]
    assert checked(starter_design(), "inner-upstands").value == pytest.approx(min(lives))


@pytest.mark.parametrize("share", [0.99, 1.0, 1.01])
def test_crossings_of_slats_are_judged_at_their_limit(share: float) -> None:
    borne = checked(starter_design(), "outer-slats").value
    assert borne is not None
    check = checked(with_value(starter_design(), "use.crossings", share * borne), "outer-slats")
    assert check.ratio == pytest.approx(share)
    assert check.fails is (share > 1)


def test_timber_slats_tire_by_no_rule_that_is_known() -> None:
    made = replace(starter_design().made_of, slats="timber C24", upstands="steel S235")
    ids = {one.id for one in evaluate(replace(starter_design(), made_of=made)).checks}
    assert "own/crossings/outer-slats" not in ids
