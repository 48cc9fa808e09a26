"""Random surveys that have a ramp: most are solved, and what is found passes by a fresh evaluation."""

import pytest
from explore.proposals.backwards import passes, surveys

from rampdraft.explore.proposals.draft import FAMILIES
from rampdraft.explore.proposals.propose import Task, done_of
from rampdraft.explore.proposals.survey import guarded
from rampdraft.files.samples import samples_folder
from rampdraft.model.design import Design

MANY = 200
SOLVED = 0.95


def first_found(survey: Design) -> Design | None:
    """Return the first family's ramp that passes."""
    for family in FAMILIES:
        if family.closing == "backs" or not guarded(survey):
            found = done_of(Task(start=survey, folder=samples_folder(), family=family))
            if found.design is not None:
                return found.design
    return None


@pytest.mark.soak
def test_surveys_that_have_a_ramp_are_solved() -> None:
    found = [first_found(survey) for _, survey in surveys(MANY)]
    assert all(passes(one, samples_folder()) for one in found if one is not None)
    assert sum(one is not None for one in found) >= SOLVED * MANY
