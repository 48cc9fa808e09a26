"""Gradients and changes of grade as they are measured, of poses with given slopes of each part."""

from dataclasses import replace

import pytest
from ramps import base_design, base_poses, checks, rule_set, slope

from rampdraft.checks.result import Check
from rampdraft.mechanics.results import LeafGradient, SitePose
from rampdraft.mechanics.standing.props import PropSet, PropsSet
from rampdraft.model.design import Design

YARD = base_design().sites[0]


def posed(
    inner: float, outer: float, flap: float | None = None, bridge: float | None = None, **given: float
) -> SitePose:
    """Return the pose in the yard with these slopes, rising towards the deck."""

    def part(ratio: float | None) -> LeafGradient | None:
        return None if ratio is None else slope(ratio, 100.0)

    return replace(
        base_poses()[0],
        inner=slope(inner),
        outer=slope(outer),
        whole=slope((inner + outer) / 2, 2000.0),
        flap=part(flap),
        bridge=part(bridge),
        reaches=True,
        **given,
    )


def change(pose: SitePose, ground_mm: tuple[tuple[float, float], ...] = YARD.ground_mm) -> Check:
    design: Design = replace(base_design(), sites=(replace(YARD, ground_mm=ground_mm),))
    found = checks(rule_set("grade-break"), design=design, sites=(pose,))
    (check,) = (one for one in found.values() if one.id.startswith("grade-break/"))
    return check


@pytest.mark.parametrize(
    ("pose", "value", "between"),
    [
        (posed(0.16, 0.12), 0.16, ("inner leaf", "deck")),
        (posed(0.10, 0.16), 0.16, ("ground", "outer leaf")),
        (posed(0.02, 0.10), 0.10, ("ground", "outer leaf")),
        # Over a platform above the deck the ramp falls towards the deck, then rises.
        (posed(-0.08, 0.10), 0.18, ("outer leaf", "inner leaf")),
        (posed(0.10, 0.10, flap=0.24), 0.24, ("ground", "toe flap")),
        (posed(0.10, 0.10, flap=-0.05), 0.15, ("toe flap", "outer leaf")),
        (posed(0.10, 0.05, bridge=-0.06), 0.16, ("inner leaf", "bridge plate")),
        (posed(0.10, 0.05, bridge=0.14), 0.14, ("bridge plate", "deck")),
    ],
)
def test_the_greatest_change_of_grade_on_the_way(pose: SitePose, value: float, between: tuple[str, str]):
    found = change(pose)
    assert found.value == pytest.approx(value)
    assert f"|grade of {between[0]} − grade of {between[1]}|" in found.working[0]


@pytest.mark.parametrize(("rises", "value"), [(0.05, 0.15), (-0.02, 0.10), (0.0, 0.10)])
def test_the_ground_beyond_the_toe_counts(rises: float, value: float):
    """The toe stands at 2000 mm, just where the ground bends; with a flap of 100 mm at 1900."""
    ground = ((0.0, 0.0), (2000.0, 0.0), (4000.0, 2000.0 * rises))
    assert change(posed(0.10, 0.10, contact=(2000.0, 0.0)), ground).value == pytest.approx(value)
    flap = change(posed(0.10, 0.10, flap=0.10, contact=(1900.0, 10.0)), ground)
    assert flap.value == pytest.approx(value)
    before = change(posed(0.10, 0.10, flap=0.10, contact=(1890.0, 10.0)), ground)
    assert before.value == pytest.approx(0.10)


@pytest.mark.parametrize(
    ("inner", "outer", "name"),
    [
        (0.1, 0.1, "gradient ="),
        (0.1, 0.1 - 2e-6, "gradient of the inner leaf, the steeper one"),
        (0.1, 0.1001, "gradient of the outer leaf, the steeper one"),
    ],
)
def test_the_steeper_leaf_is_named_where_they_differ(inner: float, outer: float, name: str):
    found = checks(rule_set("us-vehicle-2016"), sites=(posed(inner, outer),))
    lines = [check.working[0] for check in found.values() if check.limit and "gradient" in check.working[0]]
    assert any(line.startswith(name) for line in lines)


def test_the_steeper_leaf_is_named_with_the_joint_down_on_its_props():
    """A joint that drops by 5 mm makes the inner leaf of two that lie straight on the steeper one."""
    pose = posed(0.1, 0.1)
    prop = PropSet(
        site_number=pose.site_number, state=pose.state, rail=0, room_mm=305.0, hole=1, set_mm=300.0
    )
    dropped = posed(0.1 + 5 / 1500, 0.1 - 5 / 1500)
    on_props = {(pose.site_number, pose.state): dropped}
    stages = {"props_set": PropsSet(holes={}, sets=(prop,), on_props=on_props)}
    found = checks(rule_set("us-vehicle-2016"), sites=(pose,), stages=stages)
    lines = [check.working[0] for check in found.values() if check.limit and "gradient" in check.working[0]]
    assert any(line.startswith("gradient of the inner leaf, the steeper one") for line in lines)
