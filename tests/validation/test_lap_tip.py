"""Hollow rails under a lapping bar's tip: EN 1993-1-8, table 7.13."""

from dataclasses import replace

import pytest
from written_starter import all_given

from rampdraft.evaluation.evaluate import evaluate
from rampdraft.files.design_file import load_design
from rampdraft.files.samples import sample_paths
from rampdraft.model.design import Design
from rampdraft.model.fields.paths import with_value
from rampdraft.model.section import parse_section


def reed_ferry() -> Design:
    return all_given(load_design(next(path for path in sample_paths() if path.stem == "reed-ferry")))


def tip_of(design: Design):
    return next((one for one in evaluate(design).checks if one.id == "own/strength/lap-tip"), None)


def test_both_walls_of_a_rail_by_hand() -> None:
    """A plate over all of a box 60x40x3 in S355: 0.9 x 355 x 3 (10 x 3) = 28.8 kN a rail; walls of 2 mm bear
    4/9 of it.
    """
    check = tip_of(with_value(reed_ferry(), "outer_leaf.rail_section", parse_section("box 60x40x3")))
    assert check is not None
    assert "28.8 kN" in " ".join(check.working)
    thin = tip_of(with_value(reed_ferry(), "outer_leaf.rail_section", parse_section("box 60x40x2")))
    assert thin is not None
    # The rails weigh less too, which tells little.
    assert thin.ratio == pytest.approx(9 / 4 * (check.ratio or 0), rel=0.02)


def test_thin_walls_fail_and_are_told() -> None:
    """Was no check: the tip was left to whoever checks the ramp."""
    design = with_value(reed_ferry(), "outer_leaf.rail_section", parse_section("box 60x40x2"))
    check = tip_of(with_value(design, "use.rated_load_kg", 330.0))
    assert check is not None
    assert check.fails
    assert check.about.leaf == "outer"


def test_a_bar_narrower_than_the_rail_dents_its_face() -> None:
    """A bar of 20 mm within a box 60x80x3, b = 0.25: kn = 0.3 at least, 0.3 x 355 x 9 (2 + 0.7) / root of
    0.775 = 2940 N (secondary: table 7.13 as written out in public code; kn with the rail bent to its
    limit).
    """
    design = with_value(reed_ferry(), "stop.section", parse_section("flat 12x20"))
    design = with_value(
        with_value(design, "stop.count", 4), "outer_leaf.rail_section", parse_section("box 60x80x3")
    )
    check = tip_of(design)
    assert check is not None
    assert "presses on 25 % of the width" in " ".join(check.working)
    assert "= 2940 N" in " ".join(check.working)


def test_a_bar_over_one_wall_crushes_that_one() -> None:
    """Bars of 20 mm half way between the knuckles lie on the inner wall of each rail: half of 28.8 kN."""
    design = with_value(reed_ferry(), "stop.section", parse_section("flat 12x20"))
    design = with_value(design, "outer_leaf.rail_section", parse_section("box 60x40x3"))
    check = tip_of(with_value(design, "stop.count", 4))
    assert check is not None
    assert "14.4 kN" in " ".join(check.working)


def test_a_bar_dents_a_tube() -> None:
    """24 of 60 mm under the bar, b = 0.4: 0.3 x 355 x 9 (4 + 20 b^2) = 6901 N (table 7.3, from memory)."""
    design = with_value(reed_ferry(), "stop.section", parse_section("flat 12x40"))
    design = with_value(design, "outer_leaf.rail_section", parse_section("tube 60x3"))
    check = tip_of(with_value(design, "stop.count", 4))
    assert check is not None
    assert "presses on 40 % of the width" in " ".join(check.working)
    assert "= 6901 N" in " ".join(check.working)


def test_solid_rails_and_timber() -> None:
    design = reed_ferry()
    solid = with_value(design, "outer_leaf.rail_section", parse_section("flat 60x30"))
    assert tip_of(solid) is None
    timber = replace(design, made_of=replace(design.made_of, rails="timber C24"))
    timber = with_value(timber, "outer_leaf.rail_section", parse_section("timber 60x40"))
    check = tip_of(with_value(timber, "inner_leaf.rail_section", parse_section("timber 60x40")))
    assert check is not None
    assert "across the grain" in check.why
