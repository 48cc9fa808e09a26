"""The same question asked of many designs, here and in other processes."""

import time
from concurrent.futures.process import BrokenProcessPool
from dataclasses import replace

import pytest
from any_design import designs
from timber_ramp import timber_ramp

from rampdraft.errors import DesignError
from rampdraft.evaluation.evaluate import Evaluation, evaluate
from rampdraft.explore.pool import ask_each, pool, stop_sign
from rampdraft.progress import Cancelled

Row = tuple[tuple[str, float | None, str], ...]


def found(evaluation: Evaluation) -> Row:
    return tuple((check.id, check.value, check.status.value) for check in evaluation.checks)


def test_a_pool_answers_as_one_process_does_and_as_a_fresh_evaluation() -> None:
    many = list(designs(40, seed=8))
    here = ask_each(many, found)
    with pool(2) as workers:
        there = ask_each(many, found, workers=workers)
    assert there == here
    assert here[::13] == [found(evaluate(design)) for design in many[::13]]
    assert len(set(map(hash, here))) > 20, "the designs are not all alike"


def test_a_design_that_cannot_be_built_answers_with_its_problems() -> None:
    wrong = replace(timber_ramp(), sites=())
    good, bad = ask_each([timber_ramp(), wrong], found)
    assert not isinstance(good, DesignError)
    assert isinstance(bad, DesignError)
    assert bad.problems


def test_a_stop_sign_ends_work_that_looks_at_nothing() -> None:
    stop = stop_sign()
    with pool(2, stop) as workers:
        long = workers.submit(time.sleep, 600)
        stop.set()
        with pytest.raises(BrokenProcessPool):
            long.result(300)


def test_work_called_off_ends() -> None:
    def stop(share: float, words: str) -> None:
        raise Cancelled

    with pytest.raises(Cancelled):
        ask_each([timber_ramp()], found, progress=stop)
