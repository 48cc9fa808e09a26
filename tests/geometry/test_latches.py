"""Latches and their hooks: where they lie, what they weigh, and that they are in nothing's way."""

import math
from dataclasses import replace
from itertools import pairwise

import pytest

from rampdraft.evaluation.evaluate import Evaluation, evaluate
from rampdraft.files.design_file import load_design
from rampdraft.files.samples import sample_paths
from rampdraft.geometry.linkage import Pose, placings
from rampdraft.geometry.members.latches import LATCHES, latch_size
from rampdraft.geometry.members.member import Member
from rampdraft.model.design import FREE, ON_THE_ROAD, Design
from rampdraft.model.fields.paths import with_value
from rampdraft.model.starter import starter_design
from rampdraft.shop.parts import BOUGHT

FOLDER = sample_paths()[0].parent
SAMPLES = {path.stem: load_design(path) for path in sample_paths()}


def latches(found: Evaluation) -> dict[str, Member]:
    return {one.key: one for one in found.assembly.members if one.role in ("latch", "latch hook")}


def failing(design: Design) -> dict[str, str]:
    checks = evaluate(replace(design, use=replace(design.use, rule_sets=()))).checks
    return {check.id: check.why for check in checks if check.fails}


def test_a_latch_that_has_nothing_to_bear_on_fails() -> None:
    """Its line runs 17 mm over the rails, through the slats: it held the joint all the same."""
    design = with_value(starter_design(), "hold_down.arm_mm", 80.0)
    found = failing(design)
    assert {"own/latch-line/inner", "own/latch-line/outer"} <= found.keys()
    assert "Nothing is there" in found["own/latch-line/inner"]
    assert not failing(starter_design())


@pytest.mark.parametrize(("arm", "fails"), [(2.4, True), (2.6, False), (63.4, False), (63.6, True)])
def test_the_line_of_the_latch_at_its_limits(arm: float, fails: bool) -> None:
    """The joint's centre is 63 mm below the top of rails 60 deep; half a millimetre is let pass."""
    found = failing(with_value(starter_design(), "hold_down.arm_mm", arm))
    assert ("own/latch-line/inner" in found) is fails


def test_what_is_fitted_for_which_latch() -> None:
    bare = replace(starter_design(), hold_down=FREE, road=ON_THE_ROAD)
    assert not latches(evaluate(bare))
    joint = with_value(bare, "hold_down.latch", True)
    assert set(latches(evaluate(joint))) == {"inner latch 1", "outer latch hook 1"}
    stow = {"inner latch 2", "inner latch 4", "outer latch hook 4"}
    assert set(latches(evaluate(with_value(bare, "road.latch_n", 900.0)))) == stow
    locks = {"inner latch 3", "inner latch 5", "outer latch hook 5"}
    assert set(latches(evaluate(with_value(bare, "road.second_n", 900.0)))) == locks


def test_they_are_bought_and_weighed() -> None:
    """Steel plates of the size of their row: 80 x 25 x 6 weigh 94 g, their hooks half of that."""
    design = starter_design()
    found = evaluate(design)
    bare = evaluate(replace(design, hold_down=FREE, road=ON_THE_ROAD))
    more = [a - b for a, b in zip(found.assembly.leaves_kg, bare.assembly.leaves_kg, strict=True)]
    plate, hook = 80 * 25 * 6 * 7.85e-6, 40 * 25 * 6 * 7.85e-6
    assert more == pytest.approx([5 * plate, 3 * hook])
    bought = {part.words: part.quantity for part in found.parts if part.role in ("latch", "latch hook")}
    assert bought == {
        "inner latch, 500 N": 1,
        "inner latch, 1500 N": 4,
        "outer latch hook, 500 N": 1,
        "outer latch hook, 1500 N": 2,
    }
    assert {"latch", "latch hook"} <= set(BOUGHT)
    sawn = {cut.part for bar in found.plan.bars for cut in bar.cuts}
    assert not sawn & {part.number for part in found.parts if part.role in BOUGHT}


@pytest.mark.parametrize("name", sorted(SAMPLES))
def test_in_the_samples_each_lies_on_its_rail_and_clear_of_all_else(name: str) -> None:
    """Box against box, of all members of the leaf; face to face with a rail over its whole length."""
    found = evaluate(SAMPLES[name], FOLDER)
    for plate in latches(found).values():
        u0, w0, u1, w1 = plate.silhouette.box
        rails = 0
        for other in found.assembly.of(plate.body):
            a0, b0, a1, b1 = other.silhouette.box
            along, high = min(u1, a1) - max(u0, a0), min(w1, b1) - max(w0, b0)
            across = min(plate.y1_mm, other.y1_mm) - max(plate.y0_mm, other.y0_mm)
            if other is not plate:
                assert min(along, high, across) <= 1e-6, (plate.key, other.key)
            if other.role == "rail" and abs(across) < 1e-6 and min(along, high) > 0:
                rails += 1
                assert high == pytest.approx(w1 - w0)
        assert rails == 1, plate.key
    held = [check for check in found.checks if check.id.endswith(("-latch", "-latch-hook"))]
    assert held or not latches(found)
    assert not any(check.fails for check in held)


def test_a_stow_latch_meets_its_hook_when_the_ramp_is_closed() -> None:
    """The library trailer's leaves lie flat on each other: latch and hook of a lock are beside each other."""
    found = evaluate(SAMPLES["library-trailer"])
    plates, design = latches(found), SAMPLES["library-trailer"]
    sense = -1 if design.fold.closing == "backs" else 1
    closed = placings(
        design, Pose(math.radians(design.fold.stowed_deg), sense * math.radians(design.fold.closed_deg))
    )
    for number in (4, 5):
        latch, hook = plates[f"inner latch {number}"], plates[f"outer latch hook {number}"]
        at = closed["inner"].point(*latch.centre_uw_mm)
        to = closed["outer"].point(*hook.centre_uw_mm)
        assert math.dist(at, to) < 150, "its hook has room within so much of where it is wanted"
        assert abs(latch.centre_mm[1] - hook.centre_mm[1]) < 20


def test_they_take_part_in_the_certified_clearance() -> None:
    """A hook on the underside of shallow rails is nearest to the other leaf's latch beside it."""
    found = evaluate(SAMPLES["library-trailer"])
    kins = {kin.role for pair in found.clearance.pairs for kin in pair.kin}
    assert {"latch", "latch hook"} <= kins


def test_sizes_grow_with_the_load() -> None:
    sizes = [latch_size(load) for load in (100, 2000, 2001, 5000, 10000, 20000, 50000)]
    assert sizes[0] is sizes[1] is LATCHES[0]
    for one, other in pairwise(LATCHES):
        assert all(a < b for a, b in zip(one, other, strict=True))
