"""The members of a ramp as they are judged: results are plain data, the same in another process."""

import pickle

import numpy as np
import pytest
from timber_ramp import timber_ramp

from rampdraft.evaluation.evaluate import evaluate
from rampdraft.files.design_file import load_design
from rampdraft.files.samples import sample_paths
from rampdraft.strength.members import members_of, verdicts
from rampdraft.strength.utilisation import LIMIT_STATES, ULTIMATE, YIELD, Utilisation


@pytest.mark.parametrize("path", sample_paths(), ids=lambda path: path.stem)
def test_members_and_verdicts_survive_another_process(path):
    found = evaluate(load_design(path), path.parent)
    for one in (found.strengths, found.verdicts, found.carried):
        sent = pickle.loads(pickle.dumps(one))
        assert sent == one
    assert (
        members_of(found.design, found.carried, found.sharing, found.bridge_bears_mm, found.bar_line_mm)
        == found.strengths
    )
    sent = pickle.loads(pickle.dumps(found.verdicts))
    workings = [
        (one.utilisation.outcome.worked.lines(), other.utilisation.outcome.worked.lines())
        for one, other in zip(found.verdicts, sent, strict=True)
        if isinstance(one.utilisation, Utilisation)
    ]
    assert workings
    assert all(lines == others for lines, others in workings)


def test_arrays_of_what_the_members_carry_are_read_only_wherever_they_are():
    carried = evaluate(timber_ramp()).carried
    for one in (carried, pickle.loads(pickle.dumps(carried))):
        with pytest.raises(ValueError, match="read-only"):
            one.inner.moment_nmm[0] = 0
    other = pickle.loads(pickle.dumps(carried.inner))
    assert other == carried.inner
    assert other != carried.outer
    assert not np.shares_memory(other.moment_nmm, carried.inner.moment_nmm)


def test_one_and_the_same_members_are_asked_on_each_basis():
    found = evaluate(timber_ramp())
    limits, ultimate, proof = (
        found.strengths.utilisations(basis, found.strengths.in_use)
        for basis in (LIMIT_STATES, ULTIMATE, YIELD)
    )
    assert [one.utilisation for one in found.verdicts] == list(limits)
    assert verdicts(found.strengths) == found.verdicts
    for one, other in zip(limits, ultimate, strict=True):
        assert isinstance(one, Utilisation)
        assert isinstance(other, Utilisation)
        assert one.ratio > other.ratio, one.family
    assert all(isinstance(one, Utilisation) for one in proof)
