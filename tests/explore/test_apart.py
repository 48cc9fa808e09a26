"""A process that answers: what it is asked, faults with where they happened, an end within a moment."""

import os
import time
from collections.abc import Iterator

import pytest

from rampdraft.errors import DesignError, Problem, StrengthUnknownError
from rampdraft.explore import apart as apart_module
from rampdraft.explore.apart import Apart, Crew, GoneError
from rampdraft.progress import Cancelled, Progress, nobody

LONG_S = 30.0


@pytest.fixture(scope="module")
def apart() -> Iterator[Apart]:
    made = Apart(behind=False)
    yield made
    made.end()


def doubled(number: int, progress: Progress) -> int:
    progress(0.5, "half")
    return 2 * number


def own_id(progress: Progress) -> int:
    return os.getpid()


def raised(fault: Exception, progress: Progress) -> None:
    raise fault


def looks(progress: Progress) -> None:
    end = time.monotonic() + LONG_S
    while time.monotonic() < end:
        progress(0.0, "")


def never_looks(progress: Progress) -> None:
    time.sleep(LONG_S)


def dies(progress: Progress) -> None:
    os._exit(7)


def holds_a_lock(progress: Progress) -> object:
    return lambda: None


def asked(apart: Apart, work: object, *given: object, progress: Progress = nobody) -> object:
    assert callable(work)
    return apart.answer(work, given, progress, lambda: True)


def test_an_answer_and_progress_come_from_another_process(apart: Apart) -> None:
    told: list[tuple[float, str]] = []
    assert asked(apart, doubled, 7, progress=lambda share, words: told.append((share, words))) == 14
    assert told == [(0.5, "half")]
    assert asked(apart, own_id) != os.getpid()


def test_a_fault_comes_with_where_it_happened_and_the_process_goes_on(apart: Apart) -> None:
    with pytest.raises(ZeroDivisionError, match="on purpose") as told:
        asked(apart, raised, ZeroDivisionError("on purpose"))
    assert "in raised" in "".join(told.value.__notes__)
    assert asked(apart, doubled, 1) == 2


def test_what_a_rule_forbids_comes_whole(apart: Apart) -> None:
    problem = Problem(key="a", value="1", rule="must be 2")
    with pytest.raises(DesignError) as told:
        asked(apart, raised, DesignError("no", [problem]))
    assert told.value.problems == (problem,)


def test_a_fault_or_an_answer_that_cannot_be_sent_is_told_all_the_same(apart: Apart) -> None:
    with pytest.raises(Exception, match="tin") as told:
        asked(apart, raises_unknown)
    assert not isinstance(told.value, GoneError)
    with pytest.raises(Exception, match=r"lambda|local"):
        asked(apart, holds_a_lock)
    assert asked(apart, doubled, 1) == 2


def raises_unknown(progress: Progress) -> None:
    raise StrengthUnknownError("tin", "yield strength")


@pytest.mark.parametrize(("work", "stays"), [(looks, True), (never_looks, False)], ids=["looks", "never"])
def test_what_nobody_wants_any_more_is_called_off_at_once(
    work: object, stays: bool, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(apart_module, "LEAVE_S", 5.0 if stays else 0.05)
    made = Apart(behind=False)
    try:
        asked(made, doubled, 1)
        begun = time.monotonic()
        with pytest.raises(Cancelled):
            made.answer(work, (), nobody, lambda: time.monotonic() < begun + 0.2)  # type: ignore[arg-type]
        # A tenth of a second is meant; a busy machine may take more, but never the work's own time.
        assert time.monotonic() - begun < LONG_S / 3
        assert made.free is stays
        assert not made.lost, "it has a while to end by itself"
        if stays:
            assert asked(made, doubled, 4) == 8, "a call that came too late stops nothing else"
        else:
            monkeypatch.setattr(apart_module, "LINGER_S", 0.0)
            assert made.lost
    finally:
        made.end()


def test_what_is_called_off_before_the_process_has_begun_is_never_sent() -> None:
    made = Apart(behind=False)
    with pytest.raises(Cancelled):
        made.answer(dies, (bytes(10_000_000),), nobody, lambda: False)
    assert made.free
    assert asked(made, doubled, 3) == 6
    made.end()


def test_an_end_of_the_process_is_told() -> None:
    made = Apart(behind=False)
    with pytest.raises(GoneError, match="7"):
        asked(made, dies)
    assert not made.alive


def test_a_crew_keeps_one_that_has_nothing_to_do_and_takes_no_dead_one() -> None:
    crew = Crew(ready=1)
    with crew.one() as first, crew.one() as second:
        ids = {asked(first, own_id), asked(second, own_id)}
    with crew.one() as again:
        assert asked(again, own_id) in ids
        with pytest.raises(GoneError):
            asked(again, dies)
    with crew.one() as new:
        assert asked(new, own_id) not in ids
    crew.end()
    assert not new.alive


def test_a_crew_goes_on_with_another_where_work_does_not_end(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(apart_module, "LINGER_S", 600.0)
    crew = Crew(ready=1)
    with crew.one() as busy:
        assert asked(busy, doubled, 1) == 2
        looks_left = iter((True, True, True))
        with pytest.raises(Cancelled):
            busy.answer(never_looks, (), nobody, lambda: next(looks_left, False))
    with crew.one() as other:
        assert other is not busy
        assert asked(other, doubled, 2) == 4
    assert busy.alive
    crew.end_lingering()
    assert not busy.alive
    assert other.alive
    crew.end()
