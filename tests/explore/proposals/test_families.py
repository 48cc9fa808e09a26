"""One family worked out for a survey: looser wishes never lose it, mirrors and seeds, what is locked."""

from dataclasses import replace
from pathlib import Path

import pytest

from rampdraft.evaluation.evaluate import evaluate
from rampdraft.explore.pool import pool
from rampdraft.explore.proposals import propose as searching
from rampdraft.explore.proposals.draft import FAMILIES, Family
from rampdraft.explore.proposals.improve import improved
from rampdraft.explore.proposals.mirror import faces_left, mirrored
from rampdraft.explore.proposals.propose import Done, Task, done_of, propose
from rampdraft.explore.proposals.worth import cost, mass_kg, pieces, steepest
from rampdraft.files.design_file import load_design
from rampdraft.files.samples import samples_folder
from rampdraft.model.design import Design, Towards
from rampdraft.model.fields.paths import changed, value_at
from rampdraft.model.survey import survey_of
from rampdraft.progress import Cancelled

FOLDER = samples_folder()
PROP = Family(closing="faces", held="prop", ends="taper")


def survey(name: str = "orchard-trolley") -> Design:
    return survey_of(load_design(FOLDER / f"{name}.toml"))


def worked(design: Design, family: Family = PROP) -> Done:
    return done_of(Task(start=design, folder=FOLDER, family=family))


@pytest.fixture(scope="module")
def plain() -> Done:
    return worked(survey())


def passes(design: Design | None, folder: Path = FOLDER) -> bool:
    return design is not None and not any(check.fails for check in evaluate(design, folder).all_checks)


def test_a_family_passes_every_check(plain: Done) -> None:
    assert passes(plain.design)


@pytest.mark.parametrize(
    ("path", "value"),
    [
        ("carrier.stow_height_mm", 1200.0),
        ("carrier.stow_out_mm", 200.0),
        ("hands.people", 3),
        ("carrier.opening_width_mm", 800.0),
        ("road.held_n", 3000.0),
    ],
)
def test_looser_wishes_never_lose_a_proposal(plain: Done, path: str, value: float) -> None:
    looser = worked(changed(survey(), path, value))
    assert passes(looser.design)
    assert looser.mass_kg <= 1.02 * plain.mass_kg


def test_a_gentler_wish_is_kept() -> None:
    found = worked(changed(survey(), "wishes.gentler_than", 5.5))
    assert passes(found.design)
    assert found.gradient <= 1 / 5.5


def few(monkeypatch: pytest.MonkeyPatch) -> None:
    """Look at one family alone, and no further: what is asked here does not hang on how many there are."""
    monkeypatch.setattr(searching, "FAMILIES", (PROP,))
    monkeypatch.setattr(searching, "STRETCHES", ())


def test_mirror_surveys_give_mirror_proposals(monkeypatch: pytest.MonkeyPatch) -> None:
    few(monkeypatch)
    one = survey()
    assert one.sites[1].cross_slope_percent, "the survey has sides"
    assert faces_left(one) != faces_left(mirrored(one))
    here, there = propose(one, FOLDER), propose(mirrored(one), FOLDER)
    assert [mirrored(it.design) for it in here.found] == [it.design for it in there.found]
    assert passes(there.chosen[0].design)


def test_a_seed_gives_the_same_answer_on_any_number_of_processes(monkeypatch: pytest.MonkeyPatch) -> None:
    few(monkeypatch)
    with pool(2) as workers:
        there = propose(survey(), FOLDER, seed=3, workers=workers)
    here = propose(survey(), FOLDER, seed=3)
    assert [it.design for it in here.chosen] == [it.design for it in there.chosen]
    assert here.tried == there.tried


def test_work_called_off_ends(monkeypatch: pytest.MonkeyPatch) -> None:
    few(monkeypatch)

    def stop(share: float, words: str) -> None:
        raise Cancelled

    with pytest.raises(Cancelled):
        propose(survey(), FOLDER, progress=stop)


def test_each_ramp_is_told_as_it_is_found(monkeypatch: pytest.MonkeyPatch) -> None:
    few(monkeypatch)
    told: list[Design] = []
    found = propose(survey(), FOLDER, told=lambda one: told.append(one.design))
    assert {it.design for it in found.found} == set(told)


WORTH = {"light": mass_kg, "gentle": steepest, "cheap": cost, "quick": pieces}


@pytest.mark.parametrize("towards", ["light", "gentle", "cheap", "quick"])
def test_locked_values_stay_while_a_design_is_made_better(towards: Towards) -> None:
    before = load_design(FOLDER / "orchard-trolley.toml")
    locked = ("inner_leaf.width_mm", "outer_leaf.rail_section", "joint.knuckle_diameter_mm")
    after = improved(before, towards, locked, FOLDER)
    assert after is not None
    assert all(value_at(after, path) == value_at(before, path) for path in locked)
    assert passes(after)
    worth = WORTH[towards]
    assert worth(evaluate(after, FOLDER)) < worth(evaluate(before, FOLDER))


def test_nothing_is_made_better_where_all_is_locked() -> None:
    before = load_design(FOLDER / "orchard-trolley.toml")
    groups = ("inner_leaf", "outer_leaf", "toe", "prop", "bridge", "joint", "deck_hinge", "stop")
    assert improved(before, "light", groups, FOLDER) is None


def test_a_survey_without_room_says_what_fails() -> None:
    found = worked(changed(survey(), "carrier.stow_height_mm", 350.0))
    assert found.design is None


def test_every_family_is_another() -> None:
    assert len(set(FAMILIES)) == len(FAMILIES)


def test_mirroring_twice_is_nothing() -> None:
    one = survey("library-trailer")
    assert mirrored(mirrored(one)) == replace(one)
