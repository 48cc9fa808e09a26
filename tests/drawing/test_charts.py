"""Charts along the fold: the curve goes through the figures, and limits, stages and cursor stand at their
values.
"""

from dataclasses import replace
from functools import cache

import numpy as np
import pytest
from inked import texts
from ramps import parts_of, standing_in
from timber_ramp import timber_ramp

from rampdraft.checks.result import Check, Demand, Measured, Source, compose
from rampdraft.drawing.charts import (
    CHART_MM,
    clearance_chart,
    clearance_curve,
    force_chart,
    force_limits,
)
from rampdraft.drawing.ink import Label, Path
from rampdraft.evaluation.evaluate import Evaluation, evaluate
from rampdraft.mechanics.results import PairClearance
from rampdraft.words.prose import stated

WIDE_MM = CHART_MM[0]


@cache
def ramp() -> Evaluation:
    return evaluate(timber_ramp())


def changed(**values) -> Evaluation:
    return standing_in(ramp(), **parts_of(replace(ramp().fold, **values)))


def curves(picture) -> list[Path]:
    return [mark for mark in picture.marks if isinstance(mark, Path) and mark.pen == "outline"]


def scale(picture):
    """Return the way from a height in the chart to a value, read from the figures along its side as a person
    reads them.
    """
    figures = [
        (mark.at[1], mark.text)
        for mark in picture.marks
        if isinstance(mark, Label) and mark.anchor == "right" and mark.at[0] < 0
    ]
    (y0, first), (y1, last) = figures[0], figures[-1]
    a, b = (float(text.replace("−", "-")) for text in (first, last))
    # The baseline of a figure lies a little under its tick.
    return lambda y: a + (y - 0.95 - y0) / (y1 - y0) * (b - a)


def test_the_clearance_curve_holds_every_sample_and_the_tightest_places():
    clearance = ramp().fold.clearance
    curve = dict(clearance_curve(clearance))
    for share, value in zip(clearance.at, clearance.clearance_mm, strict=True):
        assert curve[float(share)] <= value
    assert min(curve.values()) == clearance.tightest.clearance_mm
    assert curve[clearance.tightest.at] == clearance.tightest.clearance_mm


def sampled(clearance_mm: float) -> tuple[PairClearance, ...]:
    """Return a tightest pair that adds nothing to what is sampled at the beginning."""
    return (replace(ramp().fold.clearance.pairs[0], at=0.0, clearance_mm=clearance_mm),)


def test_the_drawn_clearance_can_be_read_off_the_figures():
    values = np.array([8.0, 2.0, 5.0])
    clearance = replace(
        ramp().fold.clearance, at=np.array([0.0, 0.5, 1.0]), clearance_mm=values, pairs=sampled(8.0)
    )
    picture = clearance_chart(changed(clearance=clearance))
    (curve,) = curves(picture)
    read = scale(picture)
    assert [x for x, _, _ in curve.vertices] == pytest.approx([0.0, WIDE_MM / 2, WIDE_MM])
    assert [read(y) for _, y, _ in curve.vertices] == pytest.approx(values.tolist())
    demanded = ramp().design.fold.clearance_mm
    assert f"{demanded:g} mm demanded" in texts(picture)
    limit = next(
        mark
        for mark in picture.marks
        if isinstance(mark, Path) and mark.pen == "hidden" and mark.vertices[0][1] == mark.vertices[1][1]
    )
    assert read(limit.vertices[0][1]) == pytest.approx(demanded)


def test_a_wide_clearance_ends_at_the_chart():
    clearance = replace(
        ramp().fold.clearance,
        at=np.array([0.0, 0.5, 1.0]),
        clearance_mm=np.array([4.0, 400.0, 4.0]),
        pairs=sampled(4.0),
        spans_clashing=(),
    )
    picture = clearance_chart(changed(clearance=clearance))
    assert all(0 <= y <= CHART_MM[1] for curve in curves(picture) for _, y, _ in curve.vertices)


def test_clashes_are_hatched_over_their_stretch():
    clearance = replace(
        ramp().fold.clearance,
        at=np.array([0.0, 0.5, 1.0]),
        clearance_mm=np.array([4.0, -6.0, 4.0]),
        pairs=sampled(4.0),
        spans_clashing=((0.2, 0.8),),
    )
    (hatched,) = [
        mark
        for mark in clearance_chart(changed(clearance=clearance)).marks
        if isinstance(mark, Path) and mark.fill == "clash"
    ]
    xs = [x for x, _, _ in hatched.vertices]
    assert (min(xs), max(xs)) == pytest.approx((0.2 * WIDE_MM, 0.8 * WIDE_MM))
    assert not [
        mark for mark in clearance_chart(ramp()).marks if isinstance(mark, Path) and mark.fill == "clash"
    ]


@pytest.mark.parametrize("chart", [clearance_chart, force_chart])
def test_stages_are_numbered_and_end_at_their_lines(chart):
    picture, stages = chart(ramp()), ramp().fold.path.stages
    ends = {
        x
        for mark in picture.marks
        if isinstance(mark, Path) and mark.pen == "hidden"
        for x, _, _ in mark.vertices
    }
    assert {round(stage.end * WIDE_MM, 6) for stage in stages[:-1]} <= {round(x, 6) for x in ends}
    for number in range(1, len(stages) + 1):
        assert [
            text for text in texts(picture) if text == str(number) or text.startswith(f"{number}  at the ")
        ]


def test_the_force_goes_through_its_figures_and_says_its_peak():
    picture, hand = force_chart(ramp()), ramp().fold.hand
    read, drawn = scale(picture), [curve.vertices for curve in curves(picture)]
    for vertices, force in zip(drawn, hand.force_n, strict=True):
        assert [x / WIDE_MM for x, _, _ in vertices] == pytest.approx(hand.at.tolist(), abs=1e-9)
        assert [read(y) for _, y, _ in vertices] == pytest.approx(force.tolist(), abs=1e-6)
    assert f"{hand.peak.peak_n:.0f} N" in texts(picture)
    for stage in hand.stages:
        assert [text for text in texts(picture) if text.endswith(f"at the {stage.handle}")]


def a_limit(limit, kind="deploying_force", sense="at most") -> Check:
    source = Source(rule_set="x", title="House rule", clause="", publication="")
    demand = Demand.own("y", "Force", sense, "N", limit, "", source)
    return compose(replace(demand, kind=kind), Measured(key="", subject="", value=1.0, working=stated()))


def test_limits_are_those_of_the_rule_sets_in_use():
    own = standing_in(
        ramp(),
        checks=(
            a_limit(180.0),
            a_limit(90.0),
            a_limit(70.0, kind="rise"),
            a_limit(60.0, sense="at least"),
        ),
    )
    assert force_limits(own) == ((90.0, "90 N, House rule"), (180.0, "180 N, House rule"))
    assert {"90 N, House rule", "180 N, House rule"} <= set(texts(force_chart(own)))


def test_without_a_rule_set_for_it_the_french_figure_is_shown():
    """250 N to deploy a ramp by hand: the rule set of French vehicles, 2-6.1."""
    assert force_limits(standing_in(ramp(), checks=())) == ((250.0, "250 N, French rule for vehicles"),)


@pytest.mark.parametrize("size", [(60.0, 20.0), (150.0, 42.0), (240.0, 80.0)])
def test_a_chart_has_the_size_asked_for(size):
    for chart in (clearance_chart, force_chart):
        x0, y0, x1, y1 = chart(ramp(), size).box
        assert size[0] < x1 - x0 < size[0] + 30
        assert size[1] < y1 - y0 < size[1] + 20
