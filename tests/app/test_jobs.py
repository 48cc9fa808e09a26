import threading
from collections.abc import Iterator

import pytest
from pytestqt.qtbot import QtBot

from rampdraft.app.jobs import Job, Jobs
from rampdraft.progress import Progress


@pytest.fixture
def jobs(alone: None) -> Iterator[Jobs]:
    jobs = Jobs()
    yield jobs
    jobs.close()


def _watched(job: Job) -> list[tuple[str, object]]:
    seen: list[tuple[str, object]] = []
    job.progressed.connect(lambda share, words: seen.append(("progress", (share, words))))
    job.done.connect(lambda result: seen.append(("done", result)))
    job.failed.connect(lambda fault: seen.append(("failed", str(fault))))
    job.ended.connect(lambda: seen.append(("ended", None)))
    return seen


def test_progress_result_and_end_arrive_in_order(jobs: Jobs, qtbot: QtBot) -> None:
    def work(progress: Progress) -> int:
        progress(0.5, "half")
        return 7

    job = jobs.new(work)
    seen = _watched(job)
    jobs.start(job)
    qtbot.waitUntil(lambda: len(seen) == 3)
    assert seen == [("progress", (0.5, "half")), ("done", 7), ("ended", None)]


def test_a_fault_is_told_and_not_lost(jobs: Jobs, qtbot: QtBot) -> None:
    def work(progress: Progress) -> None:
        raise ValueError("on purpose")

    job = jobs.new(work)
    seen = _watched(job)
    jobs.start(job)
    qtbot.waitUntil(lambda: len(seen) == 2)
    assert seen == [("failed", "on purpose"), ("ended", None)]


def test_the_newest_job_wins(jobs: Jobs, qtbot: QtBot) -> None:
    started, go_on = threading.Event(), threading.Event()

    def slow(progress: Progress) -> str:
        started.set()
        go_on.wait(5)
        return "old"

    old, new = jobs.new(slow), jobs.new(lambda progress: "new")
    seen_old, seen_new = _watched(old), _watched(new)
    jobs.start(old)
    assert started.wait(5)
    jobs.start(new)
    go_on.set()
    qtbot.waitUntil(lambda: ("ended", None) in seen_new)
    assert seen_old == [("ended", None)]
    assert seen_new == [("done", "new"), ("ended", None)]


def test_closing_calls_the_work_off_and_waits(jobs: Jobs, qtbot: QtBot) -> None:
    started, left = threading.Event(), threading.Event()

    def work(progress: Progress) -> None:
        started.set()
        try:
            while True:
                progress(0.0, "")
        finally:
            left.set()

    job = jobs.new(work)
    seen = _watched(job)
    jobs.start(job)
    assert started.wait(5)
    jobs.close()
    assert left.is_set()
    qtbot.waitUntil(lambda: ("ended", None) in seen)
    assert not [what for what, _ in seen if what in ("done", "failed")]
