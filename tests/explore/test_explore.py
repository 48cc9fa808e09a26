"""Answers that take many designs: each is true by what the program says of the design it names."""

from dataclasses import replace

import pytest

from rampdraft.evaluation.evaluate import evaluate
from rampdraft.explore.folds import (
    SLAM_N,
    Interleaved,
    folds_at_sites,
    freeing_dimensions,
    interleave,
    size_spring,
)
from rampdraft.files.design_file import load_design
from rampdraft.files.samples import samples_folder
from rampdraft.geometry.members.assembly import assemble
from rampdraft.mechanics.folding.search import Blocked, FoundPath, find_fold
from rampdraft.mechanics.handling.hand_force import hand_force
from rampdraft.mechanics.standing.standing import stand
from rampdraft.model.design import Design
from rampdraft.model.fields.paths import with_value
from rampdraft.progress import Cancelled

LIMIT_N = 250.0


def sample(name: str) -> Design:
    """Return a sample without rule files of its own."""
    design = load_design(samples_folder() / f"{name}.toml")
    return replace(design, use=replace(design.use, rule_sets=()))


def trailer() -> Design:
    return sample("library-trailer")


def trolley() -> Design:
    return sample("orchard-trolley")


def blocked_trolley() -> Design:
    """Return a trolley's ramp whose slats meet when it closes."""
    return replace(trolley(), joint=replace(trolley().joint, height_mm=5.0))


def found_for(design: Design) -> FoundPath | Blocked:
    assembly, site = assemble(design), design.sites[0]
    return find_fold(design, assembly, site, stand(design, assembly, site, 1).pose)


@pytest.mark.parametrize(
    "assist",
    [
        {"kind": "torsion", "count": 2, "slack_deg": 90.0},
        {
            "kind": "gas",
            "count": 2,
            "carrier_out_mm": 10.0,
            "carrier_below_mm": 250.0,
            "leaf_at_mm": 300.0,
            "leaf_above_mm": -20.0,
        },
    ],
)
def test_a_sized_spring_brings_the_peak_under_the_limit_and_a_weaker_one_does_not(
    assist: dict[str, object],
) -> None:
    """Of leaves so light that one helps: with the trailer's own slats none keeps both limits."""
    design = trailer()
    for leaf in ("inner_leaf", "outer_leaf"):
        design = with_value(design, f"{leaf}.slat_thickness_mm", 4.0)
    design = replace(design, assist=replace(design.assist, **assist))
    path = evaluate(design).fold.path
    spring = size_spring(evaluate(design), LIMIT_N)
    assert spring is not None
    sized = hand_force(replace(design, assist=spring.assist), assemble(design), path)
    assert abs(sized.peak.peak_n) == pytest.approx(spring.peak_n)
    assert spring.peak_n <= LIMIT_N
    assert spring.least_n >= -SLAM_N
    strength = "rate_nmm_deg" if assist["kind"] == "torsion" else "force_n"
    weaker = replace(spring.assist, **{strength: 0.98 * getattr(spring.assist, strength)})
    assert abs(hand_force(replace(design, assist=weaker), assemble(design), path).peak.peak_n) > LIMIT_N


def test_no_spring_is_said_where_none_is_chosen_or_none_helps() -> None:
    design = replace(trailer(), assist=replace(trailer().assist, kind="none"))
    assert size_spring(evaluate(design), LIMIT_N) is None
    torsion = replace(
        design, assist=replace(design.assist, kind="torsion", slack_deg=-80.0)
    )  # slack all the way
    assert size_spring(evaluate(torsion), LIMIT_N) is None


def test_each_freeing_dimension_frees_and_half_of_it_does_not() -> None:
    design = blocked_trolley()
    assert isinstance(found_for(design), Blocked)
    freed = freeing_dimensions(evaluate(design))
    assert [one.path for one in freed] == ["joint.height_mm"]
    for one in freed:
        assert isinstance(found_for(with_value(design, one.path, one.after)), FoundPath)
        half = (one.before + one.after) / 2
        assert isinstance(found_for(with_value(design, one.path, half)), Blocked)


def test_the_search_for_what_frees_can_be_called_off() -> None:
    asked: list[float] = []

    def stop(share: float, words: str) -> None:
        asked.append(share)
        raise Cancelled

    with pytest.raises(Cancelled):
        freeing_dimensions(evaluate(blocked_trolley()), stop)
    assert asked == [0.0]


def test_slats_fall_into_gaps_with_the_gap_asked_for() -> None:
    narrow = {"slat_width_mm": 40.0, "slat_pitch_mm": 60.0}
    design = trolley()
    design = replace(
        design,
        joint=replace(design.joint, height_mm=5.0),
        inner_leaf=replace(design.inner_leaf, **narrow),
        outer_leaf=replace(design.outer_leaf, **narrow),
    )
    assert evaluate(design).fold.clearance.tightest.certified_mm < 0
    found = interleave(evaluate(design), 4.0)
    assert isinstance(found, Interleaved)
    assert found.pitch_mm == 88.0
    assert found.opening_mm == 48.0
    slats = next(
        pair for pair in evaluate(found.design).fold.clearance.pairs if pair.what == "inner slat - outer slat"
    )
    assert slats.certified_mm == pytest.approx(found.clearance_mm, abs=0.1)
    assert found.clearance_mm > 3.5


def test_slats_that_cannot_fall_into_gaps_say_why() -> None:
    assert "faces together" in str(interleave(evaluate(trailer()), 4.0))
    low = replace(trolley(), joint=replace(trolley().joint, height_mm=1.0))
    assert "set the joint 4.5 mm or more above the rails" in str(interleave(evaluate(low), 4.0))


def test_the_fold_is_sought_at_each_site() -> None:
    design = trailer()
    folds = folds_at_sites(evaluate(design))
    assert [fold.site for fold in folds] == [site.name for site in design.sites]
    for fold in folds:
        assert isinstance(fold.found, FoundPath)
        deployed = stand(design, assemble(design), design.sites[fold.site_number - 1], fold.site_number).pose
        assert fold.found.path.poses[0].inner_rad == pytest.approx(deployed.inner_rad)
