"""The plan: what lies where across, and what is hidden."""

from dataclasses import replace

import pytest
from inked import owners, paths_of, texts
from timber_ramp import timber_ramp

from rampdraft.drawing.ink import Path
from rampdraft.drawing.plan import plan_view
from rampdraft.evaluation.evaluate import evaluate
from rampdraft.geometry.members.leaves import slat_starts_mm
from rampdraft.model.design import Obstacle
from rampdraft.model.fields.paths import with_value

EVALUATION = evaluate(timber_ramp())
PLAN = plan_view(EVALUATION)


def box(path):
    xs, ys = [x for x, _, _ in path.vertices], [y for _, y, _ in path.vertices]
    return min(xs), min(ys), max(xs), max(ys)


def test_every_member_of_the_ramp_is_seen_or_dashed():
    assert owners(PLAN) >= {member.key for member in EVALUATION.assembly.of("inner", "outer", "carrier")}


@pytest.mark.parametrize(("body", "start"), [("inner", 44.0), ("outer", 44.0 + 1350.0)])
def test_slats_lie_at_their_pitch_over_the_whole_width(body, start):
    leaf = EVALUATION.design.inner_leaf if body == "inner" else EVALUATION.design.outer_leaf
    for number, at in enumerate(slat_starts_mm(leaf), start=1):
        (slat,) = paths_of(PLAN, f"{body} slat {number}")
        assert box(slat) == pytest.approx((start + at, -430, start + at + 95, 430))


def test_members_keep_their_interval_across():
    for member in EVALUATION.assembly.of("inner", "outer", "carrier"):
        for path in paths_of(PLAN, member.key):
            assert box(path)[1::2] == pytest.approx((member.y0_mm, member.y1_mm))


def test_rails_are_dashed_over_the_slats_that_hide_them():
    solid, dashed = paths_of(PLAN, "outer rail 2")
    assert (solid.pen, dashed.pen, dashed.fill) == ("outline", "hidden", "none")
    order = [mark for mark in PLAN.marks if isinstance(mark, Path)]
    slats = [index for index, mark in enumerate(order) if " slat " in mark.owner]
    assert order.index(solid) < min(slats)
    assert order.index(dashed) > max(slats)


def test_the_bridge_plate_lies_over_the_deck_edge_on_top():
    (strip,), (plate,) = paths_of(PLAN, "bridge strip"), paths_of(PLAN, "bridge plate")
    assert (box(strip)[::2], box(plate)[::2]) == ((-80, 0), (0, 80))


@pytest.mark.parametrize("carried", [0, 90, 180])
def test_the_toe_flap_is_laid_straight_on_however_it_is_carried(carried):
    plan = plan_view(evaluate(with_value(timber_ramp(), "toe.carried_deg", carried)))
    (flap,) = paths_of(plan, "outer toe flap")
    assert box(flap) == pytest.approx((44 + 1350 + 1300, -430, 44 + 1350 + 1300 + 180, 430))


def test_widths_lengths_and_the_run_of_slats_are_dimensioned():
    found = texts(PLAN)
    assert {"W 860", "O 1000", "L 1350", "L 1300"} <= set(found)
    assert "11 × p 105 (= 1155), slat b 95" in found
    # From the far end of the toe flap back to the near end of the bridge plate.
    assert "overall 2954" in found
    # Slat end to rail, rail to rail, rail to slat end: they add up to the width.
    chain = [float(text) for text in found if text.replace(".", "").isdigit()]
    assert chain == [88, 386, 298, 88]
    assert sum(chain) == 860


def test_the_overall_length_counts_only_what_is_there():
    design = with_value(with_value(timber_ramp(), "bridge.fitted", False), "toe.kind", "plain")
    assert "overall 2650" in texts(plan_view(evaluate(design)))


def test_an_obstacle_covers_its_place():
    lamp = Obstacle(
        name="lamp", outline_mm=((-60.0, 900.0), (0.0, 900.0), (0.0, 1500.0)), left_mm=-300, right_mm=100
    )
    (covered,) = paths_of(plan_view(evaluate(replace(timber_ramp(), obstacles=(lamp,)))), "obstacle lamp")
    assert box(covered) == (-60, -300, 0, 100)


def test_everything_lies_in_the_box():
    x0, y0, x1, y1 = PLAN.box
    for mark in PLAN.marks:
        points = mark.vertices if isinstance(mark, Path) else (mark.at,)
        assert all(x0 <= point[0] <= x1 and y0 <= point[1] <= y1 for point in points), mark


def test_without_dimensions_there_is_no_text():
    assert texts(plan_view(EVALUATION, dimensions=False)) == []
