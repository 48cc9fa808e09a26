"""Mend all: edits after which nothing fails, and what is left where none are found."""

import pytest

from rampdraft.errors import DesignError
from rampdraft.evaluation.evaluate import Evaluation, evaluate
from rampdraft.explore import mending
from rampdraft.explore.mending import failing, mend
from rampdraft.explore.ways_out.results import Value
from rampdraft.model.design import Design
from rampdraft.model.fields.paths import changed, value_of
from rampdraft.model.starter import starter_design
from rampdraft.progress import Cancelled

BROKEN: list[tuple[str, Value]] = [
    ("inner_leaf.slat_thickness_mm", 2.0),
    ("joint.pin_diameter_mm", 5.0),
    ("joining.weld_throat_mm", 1.5),
    ("stop.kind", "none"),
]


def broken(path: str, value: Value) -> Evaluation:
    return evaluate(changed(starter_design(), path, value))


def fails_of(design: Design) -> frozenset[str]:
    return failing(evaluate(design))


@pytest.mark.parametrize(
    ("path", "value"),
    [BROKEN[-1], *(pytest.param(*one, marks=pytest.mark.soak) for one in BROKEN[:-1])],
)
def test_after_the_edits_nothing_fails(path: str, value: Value) -> None:
    before = broken(path, value)
    assert failing(before)
    found = mend(before)
    assert not found.left
    assert not fails_of(found.design)


def test_the_edits_lead_where_they_say_and_each_does_what_it_says() -> None:
    design = starter_design()
    for path, value in BROKEN[:2]:
        design = changed(design, path, value)
    before = evaluate(design)
    found = mend(before)
    assert len(found.edits) >= 2
    for edit in found.edits:
        fails = fails_of(design)
        for change in edit.changes:
            assert value_of(design, change.path) == change.before
            design = changed(design, change.path, change.after)
        then = fails_of(design)
        assert {check.id for check in edit.cures} == fails - then
        assert {check.id for check in edit.breaks} == then - fails
    assert design == found.design
    assert not fails_of(design)


@pytest.mark.soak
def test_no_edit_is_idle() -> None:
    before = broken(*BROKEN[1])
    found = mend(before)
    for left_out in range(len(found.edits)):
        design = before.design
        for number, edit in enumerate(found.edits):
            if number != left_out:
                for change in edit.changes:
                    design = changed(design, change.path, change.after)
        try:
            assert fails_of(design)
        except DesignError:
            continue


def test_the_same_design_gives_the_same_edits() -> None:
    assert mend(broken(*BROKEN[0])) == mend(broken(*BROKEN[0]))


def test_what_does_not_fail_needs_no_edit() -> None:
    found = mend(evaluate(starter_design()))
    assert found.edits == found.left == ()
    assert found.design == starter_design()


def test_what_is_not_mended_is_left_with_its_check(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(mending, "MOST_ASKED", 0)
    before = broken(*BROKEN[0])
    found = mend(before)
    assert found.edits == ()
    assert {left.check.id for left in found.left} == failing(before)


def test_work_called_off_says_nothing() -> None:
    shares: list[float] = []

    def progress(share: float, words: str) -> None:
        assert words
        shares.append(share)
        if len(shares) == 4:
            raise Cancelled

    with pytest.raises(Cancelled):
        mend(broken(*BROKEN[1]), progress)
    assert len(shares) == 4
    assert shares == sorted(shares)
    assert 0 <= shares[0] <= shares[-1] <= 1
