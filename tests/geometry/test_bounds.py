"""A design may be as long as its lists allow, but not ask for more work than a program can take on."""

from dataclasses import replace

import pytest
from any_design import START

from rampdraft.geometry.buildable.bounds import BOUNDS
from rampdraft.geometry.buildable.problems import problems_of
from rampdraft.model.design import Design, FoldStage
from rampdraft.model.fields.paths import with_value
from rampdraft.model.fields.values import MOST_ROWS


def with_poses(count: int) -> Design:
    """Return a design with so many stages and poses on the way, four stages of them."""
    each = [count // 4 + (number < count % 4) for number in range(4)]
    stages = tuple(
        FoldStage(say=f"Stage {number}.", inner_deg=0, fold_deg=0, via_deg=((1, 1), (2, 2)) * 100)
        for number in range(4)
    )
    cut = (
        replace(stage, via_deg=stage.via_deg[: most - 1]) for stage, most in zip(stages, each, strict=True)
    )
    return with_value(START, "fold_stages", tuple(cut))


def with_ground(count: int) -> Design:
    each = MOST_ROWS // 2
    site = replace(START.sites[0], ground_mm=tuple((10.0 * at, float(at % 2)) for at in range(each)))
    sites = [replace(site, name=f"Site {number}") for number in range(count // each)]
    if count % each:
        sites.append(replace(site, name="The last", ground_mm=site.ground_mm[: count % each]))
    return with_value(with_value(START, "sites", tuple(sites)), "use.users", START.use.users[:1])


def with_crossings(count: int) -> Design:
    """Return a design with so many users, at one site."""
    user = START.use.users[0]
    design = with_value(START, "sites", START.sites[:1])
    return with_value(design, "use.users", tuple(replace(user, name=f"User {at}") for at in range(count)))


def with_members(count: int) -> Design:
    """Return a design with so many rails, cross members and slats, the slats of one leaf set closer."""
    design = with_value(START, "inner_leaf.length_mm", 6000.0)
    for key, value in (("slat_width_mm", 10.0), ("slat_pitch_mm", 10.0), ("slat_first_mm", 0.0)):
        design = with_value(design, f"inner_leaf.{key}", value)
    (bound,) = (bound for bound in BOUNDS if bound.key == "inner_leaf.slat_pitch_mm")
    spare = 10.0 * (bound.count(design) - count)
    return with_value(design, "inner_leaf.slat_last_gap_mm", design.inner_leaf.slat_last_gap_mm + spare)


@pytest.mark.parametrize(
    ("key", "having"),
    [
        ("fold_stages", with_poses),
        ("sites", with_ground),
        ("use.users", with_crossings),
        ("inner_leaf.slat_pitch_mm", with_members),
    ],
)
def test_work_is_bounded_in_all(key: str, having) -> None:
    (bound,) = (bound for bound in BOUNDS if bound.key == key)
    told = []
    for count in (bound.most, bound.most + 1):
        design = having(count)
        assert bound.count(design) == count
        told.append([one.text() for one in problems_of(design) if "more work than" in one.rule])
    assert told[0] == []
    (problem,) = told[1]
    assert problem.startswith(
        f"{key} = {bound.most + 1} in all: is more work than this program takes on: at most {bound.most} "
    )


def test_every_bound_is_tried() -> None:
    assert {bound.key for bound in BOUNDS} == {
        "fold_stages",
        "sites",
        "use.users",
        "inner_leaf.slat_pitch_mm",
    }
