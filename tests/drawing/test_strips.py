"""Strips along the fold: what they show is what was worked out, and it stays in its frame."""

import pytest

from rampdraft.drawing.charts import Strip, clearance_strip, force_strip, strip_cursor, strip_ground
from rampdraft.drawing.ink import Path
from rampdraft.evaluation.evaluate import evaluate
from rampdraft.files.design_file import load_design
from rampdraft.files.samples import sample_paths

FRAME = (2.0, 1.0, 152.0, 13.0)
SAMPLES = {path.stem: evaluate(load_design(path), path.parent) for path in sample_paths()}


@pytest.mark.parametrize("name", SAMPLES)
def test_the_place_that_counts_most_is_the_least_clearance_and_the_peak(name: str) -> None:
    evaluation = SAMPLES[name]
    clearance, force = clearance_strip(evaluation), force_strip(evaluation)
    share, least = clearance.marked
    assert clearance.value(share) == least == min(value for _, value in clearance.runs[0])
    share, peak = force.marked
    assert abs(peak) == pytest.approx(max(abs(value) for run in force.runs for _, value in run))


@pytest.mark.parametrize("name", SAMPLES)
@pytest.mark.parametrize("strip_of", [clearance_strip, force_strip])
def test_nothing_but_the_cursor_leaves_the_frame(name: str, strip_of) -> None:  # type: ignore[no-untyped-def]
    strip = strip_of(SAMPLES[name])
    x0, y0, x1, y1 = FRAME
    for mark in strip_ground(strip, FRAME):
        assert isinstance(mark, Path)
        if mark.fill != "paper":  # rings stand on the edge
            assert all(
                x0 - 1e-9 <= x <= x1 + 0.5 and y0 - 1e-9 <= y <= y1 + 1e-9 for x, y, _ in mark.vertices
            )
    upright = strip_cursor(strip, 0.25, FRAME)[0]
    assert isinstance(upright, Path)
    assert {x for x, _, _ in upright.vertices} == {x0 + 0.25 * (x1 - x0)}


def test_of_two_curves_the_greater_counts() -> None:
    runs = (((0.0, 1.0), (1.0, 3.0)), ((0.0, -4.0), (1.0, 0.0)))
    strip = Strip(low=-5.0, top=10.0, runs=runs, limits=(), ends=(), marked=(0.0, -4.0))
    assert strip.value(0.0) == -4.0
    assert strip.value(1.0) == 3.0
    assert len(strip_cursor(strip, 0.5, FRAME)) == 2
