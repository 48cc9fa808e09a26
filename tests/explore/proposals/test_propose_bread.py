"""A long ramp for two people, of a survey that no ramp came from: steel slats tire before they break, and the
tip of the taper is the weakest place of the rails.
"""

from dataclasses import replace
from pathlib import Path

import pytest

from rampdraft.evaluation.evaluate import evaluate
from rampdraft.explore.proposals.cures import lying
from rampdraft.explore.proposals.cures.cure import kind_of, ratio_of
from rampdraft.explore.proposals.draft import Family
from rampdraft.explore.proposals.mend import CURES
from rampdraft.explore.proposals.propose import Done, Task, done_of
from rampdraft.files.design_file import load_design, load_survey
from rampdraft.files.samples import samples_folder
from rampdraft.model.fields.paths import with_value
from rampdraft.model.section import parse_section
from rampdraft.model.survey import survey_of

SURVEY = Path(__file__).parents[2] / "surveys" / "bread-trailer.toml"
PROP = Family(closing="backs", held="prop", ends="taper")


@pytest.fixture(scope="module")
def done() -> Done:
    return done_of(Task(start=load_survey(SURVEY), folder=None, family=PROP))


def test_a_ramp_is_found_that_passes_by_a_fresh_evaluation(done: Done) -> None:
    assert done.design is not None
    assert not [check.title for check in evaluate(done.design).all_checks if check.fails]


@pytest.mark.parametrize("name", ["barn-stage", "library-trailer", "orchard-trolley", "reed-ferry"])
def test_whatever_tires_has_a_cure(name: str) -> None:
    path = samples_folder() / f"{name}.toml"
    tiring = evaluate(load_design(path), path.parent).tiring
    assert tiring
    assert not {kind_of(check) for check in tiring} - CURES.keys()


def test_an_eighth_of_the_crossings_is_twice_the_stress() -> None:
    """EN 1993-1-9, 7.1: N goes with the stress range to the power of -3."""
    path = samples_folder() / "orchard-trolley.toml"
    check = evaluate(load_design(path), path.parent).tiring[0]
    assert ratio_of(replace(check, ratio=8.0)) == pytest.approx(2.0)


def test_slats_that_bear_all_but_little_have_a_gentler_ramp() -> None:
    """The thickest boards to be had bear 99.5 % of a wheel as steep as the rules let it be."""
    folder = samples_folder()
    survey = survey_of(load_design(folder / "barn-stage.toml"))
    flap = Family(closing="backs", held="prop", ends="flap")
    found = done_of(Task(start=survey, folder=folder, family=flap))
    assert found.design is not None
    assert not [check.title for check in evaluate(found.design, folder).all_checks if check.fails]


@pytest.mark.parametrize("section", ["box 40x40x2", "round 40"])
def test_a_prop_that_no_tube_slides_in_is_cut_to_go_under(section: str) -> None:
    folder = samples_folder()
    design = with_value(load_design(folder / "barn-stage.toml"), "prop.section", parse_section(section))
    before = evaluate(replace(design, sites=design.sites[:1]), folder)
    failing = next(check for check in before.checks if check.id == "own/prop/site-1-empty" and check.fails)
    cured = lying.prop_reach(before, failing)
    assert cured is not None
    found = evaluate(cured, folder)
    assert not [check.id for check in found.checks if check.id.startswith("own/prop") and check.fails]
