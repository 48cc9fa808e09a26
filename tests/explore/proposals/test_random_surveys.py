"""Random surveys that have a ramp: most are solved, and what is found passes by a fresh evaluation."""

import pytest
from explore.proposals.backwards import first_found, passes, surveys

from rampdraft.files.samples import samples_folder

MANY = 200
SOLVED = 0.95


@pytest.mark.soak
def test_surveys_that_have_a_ramp_are_solved() -> None:
    found = [first_found(survey) for _, survey in surveys(MANY)]
    assert all(passes(one, samples_folder()) for one in found if one is not None)
    assert sum(one is not None for one in found) >= SOLVED * MANY
