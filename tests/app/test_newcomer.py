"""The survey of an invented job is filled in by few actions; `tests/newcomer.py` walks on to the ramp."""

import pytest
from newcomer import BREAD, JOBS, Hand, Job, survey

from rampdraft.app.shell.desk import Desk
from rampdraft.model.presets import preset_of

MOST = 25
"""So many entries a survey may ask for."""


@pytest.mark.parametrize("job", JOBS, ids=[job.name for job in JOBS])
def test_the_survey_of_a_job_is_told_by_few_actions(desk: Desk, job: Job) -> None:
    hand = Hand()
    desk.filing.new()
    dialog = desk.propose_work.dialog
    assert dialog is not None
    survey(hand, dialog, job)
    told = dialog.survey.survey
    assert hand.count == sum(count for _, count in hand.steps) <= MOST
    assert [preset_of(site).kind for site in told.sites] == [kind for kind, _ in job.sites]
    assert {user.kind: user.mass_kg for user in told.use.users} == {
        kind: float(mass) for kind, mass in job.users
    }
    assert dialog.survey.good
    assert not dialog.survey.told.text()
    dialog.reject()


def test_a_hand_counts_what_it_does_and_nothing_that_is_there_already(desk: Desk) -> None:
    desk.filing.new()
    dialog = desk.propose_work.dialog
    assert dialog is not None
    hand = Hand()
    survey(hand, dialog, BREAD)
    once = hand.count
    survey(hand, dialog, BREAD)
    assert hand.count == once > 10
    dialog.reject()
