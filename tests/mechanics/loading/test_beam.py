"""The ramp as a beam, against plain statics: reactions by moments about a support, forces summed on one side
of a section.
"""

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from rampdraft.mechanics.loading.beam import (
    Spans,
    deflection,
    envelope,
    first_axles_mm,
    greatest_moment_places,
    hinge_line,
    moment_line,
    nodes_mm,
    prop_line,
    shear_line,
    spread_moment,
    spread_shear,
    support_places,
    toe_line,
)

RAMP = Spans(length_mm=2650, joint_mm=1350, propped=False)
PROPPED = Spans(length_mm=2650, joint_mm=1350, propped=True)
BOTH = pytest.mark.parametrize("spans", [RAMP, PROPPED], ids=["one span", "over a prop"])


def by_statics(spans: Spans, x: float, places, forces) -> tuple[float, float]:
    """Return moment and shear at x (on no axle) of axles at places, as one writes it by hand for a simple
    span.
    """
    low, high = next(span for span in spans.ends_mm if span[0] <= x <= span[1])
    on = [(at - low, force) for at, force in zip(places, forces, strict=True) if low <= at <= high]
    length, cut = high - low, x - low
    reaction = sum(force * (length - at) for at, force in on) / length
    before = [(at, force) for at, force in on if at < cut]
    return reaction * cut - sum(force * (cut - at) for at, force in before), reaction - sum(
        force for _, force in before
    )


@st.composite
def spans_of(draw) -> Spans:
    length = draw(st.floats(1000, 8000))
    return Spans(length_mm=length, joint_mm=length * draw(st.floats(0.15, 0.85)), propped=draw(st.booleans()))


@st.composite
def trains(draw, *, least: float = 0.0):
    """Return offsets and forces of one to four axles."""
    gaps = draw(st.lists(st.floats(100, 1500), min_size=0, max_size=3))
    offsets = np.array((0.0, *np.cumsum(gaps)))
    return offsets, np.array([draw(st.floats(least, 1000)) for _ in offsets])


def sweep(spans: Spans, offsets, count: int = 400):
    """Return the axles' places (C, K) as a train goes over the ramp in even steps."""
    return np.linspace(-offsets[-1], spans.length_mm, count)[:, None] + offsets


@settings(max_examples=200)
@given(spans_of(), trains(), st.floats(0.01, 0.99), st.floats(0, 1))
def test_lines_are_those_of_statics(spans, train, part, share):
    offsets, forces = train
    x = part * spans.length_mm
    places = -offsets[-1] + share * (spans.length_mm + offsets[-1]) + offsets
    assume(np.abs(places - x).min() > 1e-6)
    assume(not spans.propped or abs(x - spans.joint_mm) > 1e-6)
    moment, shear = by_statics(spans, x, places, forces)
    assert float(moment_line(spans, np.array(x), places) @ forces) == pytest.approx(
        moment, rel=1e-9, abs=1e-5
    )
    assert float(shear_line(spans, np.array(x), places) @ forces) == pytest.approx(shear, rel=1e-9, abs=1e-8)


@BOTH
def test_signs(spans):
    """A load square to the ramp bends it down; towards the deck from the load the shear is positive, beyond
    it negative.
    """
    at = np.array(700.0)
    assert moment_line(spans, np.array(300.0), at) > 0
    assert shear_line(spans, np.array(300.0), at) > 0
    assert shear_line(spans, np.array(1100.0), at) < 0
    assert shear_line(spans, at, at) > 0  # a load on the section counts as beyond it


@settings(max_examples=100)
@given(spans_of(), st.floats(0, 1))
def test_the_supports_carry_the_load_between_them(spans, share):
    """Sum of forces, and of moments about the deck hinge."""
    at = np.array(share * spans.length_mm)
    hinge, toe = float(hinge_line(spans, at)), float(toe_line(spans, at))
    prop = float(prop_line(spans, at)) if spans.propped else 0.0
    assert hinge + prop + toe == pytest.approx(1)
    assert prop * spans.joint_mm + toe * spans.length_mm == pytest.approx(float(at), abs=1e-6)


@BOTH
def test_what_is_beside_the_ramp_weighs_nothing(spans):
    beside = np.array([-300.0, -0.001, 2650.001, 4000.0])
    x = np.array([[10.0], [1349.0], [1351.0], [2640.0]])
    for line in (moment_line, shear_line):
        assert not line(spans, x, beside).any()
    for line in (hinge_line, toe_line, prop_line):
        assert not line(spans, beside).any()
    assert not deflection(spans, nodes_mm(spans, np.array([]), 8), np.ones(8)).under(beside).any()


def test_over_a_prop_neither_leaf_feels_the_other():
    """The joint lets nothing through: no moment over the prop, and the unloaded leaf neither bends nor
    sinks.
    """
    at = np.array([100.0, 1000.0, 1349.0, 1351.0, 2000.0])
    assert moment_line(PROPPED, np.array(1350.0), at) == pytest.approx(0, abs=1e-9)
    beam = deflection(PROPPED, nodes_mm(PROPPED, np.array([]), 8), np.full(8, 1e9))
    sunk = beam.under(at)
    assert not sunk[:3][:, beam.nodes_mm >= 1350].any()
    assert not sunk[3:][:, beam.nodes_mm <= 1350].any()
    assert (sunk[:3][:, (beam.nodes_mm > 0) & (beam.nodes_mm < 1350)] > 0).all()
    only_inner = beam.spread(np.where(beam.nodes_mm[1:] <= 1350, 1.0, 0.0))
    assert not only_inner[beam.nodes_mm >= 1350].any()


@settings(max_examples=150)
@given(spans_of(), trains(), st.lists(st.floats(-1, 1), min_size=8, max_size=8), st.floats(0.01, 0.99))
def test_nothing_on_the_way_exceeds_the_envelope(spans, train, shares, part):
    """Two rails take shares of either sign: a wheel beyond the outer rail relieves the one inside it."""
    offsets, forces = train
    loads = np.array(shares)[: 2 * len(forces)].reshape(2, -1) * forces
    x = part * spans.length_mm
    found = envelope(spans, np.array([x]), offsets[None], loads[None])
    most, least, shear = (one[0, :, 0] for one in (found.moment_most, found.moment_least, found.shear_most))
    moments = loads @ moment_line(spans, np.array(x), sweep(spans, offsets)).T
    shears = loads @ shear_line(spans, np.array(x), sweep(spans, offsets)).T
    hair = 1e-9 * (1 + np.abs(loads).sum() * spans.length_mm)
    assert (moments <= most[:, None] + hair).all()
    assert (moments >= least[:, None] - hair).all()
    assert (np.abs(shears) <= shear[:, None] + hair).all()
    first = first_axles_mm(spans, np.full(2, x), np.stack((offsets, offsets)), loads)
    reached = moment_line(spans, np.array(x), first[:, None] + offsets)
    assert np.maximum((reached * loads).sum(axis=1), 0) == pytest.approx(most, rel=1e-9, abs=1e-6)


@settings(max_examples=150)
@given(spans_of(), trains(least=1.0))
def test_nothing_beats_the_greatest_moment(spans, train):
    """A fine sweep of the train, with a section under each axle, against the sections that Barre's theorem
    names.
    """
    offsets, forces = train
    places = sweep(spans, offsets, 1500)
    moments = [
        moment_line(spans, places[:, [axle]], places)[on] @ forces
        for axle in range(len(forces))
        if (on := (places[:, axle] > 0) & (places[:, axle] < spans.length_mm)).any()
    ]
    swept = max(float(one.max()) for one in moments)
    sections = greatest_moment_places(spans, offsets[None], forces[None])
    most = float(envelope(spans, sections, offsets[None], forces[None, None]).moment_most.max())
    assert swept <= most * (1 + 1e-9)
    assert most <= swept * (1 + 1e-3)  # and it is no invention: the sweep comes close


@pytest.mark.parametrize("spans", [RAMP, PROPPED, Spans(length_mm=2650.3, joint_mm=1350.1, propped=True)])
@pytest.mark.parametrize("offset", [0.0, 450.0, 1200.7, 987.654321])
def test_an_axle_on_a_support_is_all_on_that_support(spans, offset):
    """Its place is reckoned from the first axle's, and rounding may not put it beside the ramp."""
    offsets = np.array([[0.0, offset]])
    carried = [line(spans, support_places(spans, offsets))[0, :, 1].max() for line in (hinge_line, toe_line)]
    assert carried == pytest.approx([1, 1])
    found = envelope(
        spans, np.array([0.0, spans.joint_mm, spans.length_mm]), offsets, np.array([[[0.0, 7.0]]])
    )
    beside_joint = (
        7.0 if spans.propped else 7 * max(spans.joint_mm, spans.length_mm - spans.joint_mm) / spans.length_mm
    )
    assert found.shear_most[0, 0] == pytest.approx([7, beside_joint, 7])


def test_a_hair_beside_a_support_is_on_it():
    assert hinge_line(RAMP, np.array(-1e-10)) == pytest.approx(1)
    assert toe_line(RAMP, np.array(2650 + 1e-10)) == pytest.approx(1)
    assert shear_line(RAMP, np.array(-2e-10), np.array(-1e-10)) == pytest.approx(1)


def test_every_length_keeps_its_last_axle():
    """The same over many lengths with decimals, some of which do not survive a subtraction and an
    addition.
    """
    lengths, offsets = np.arange(1000.1, 8000, 70.3), np.arange(100.1, 1500, 33.7)
    for length in lengths:
        spans = Spans(length_mm=float(length), joint_mm=float(length) / 2, propped=False)
        places = support_places(spans, np.stack((np.zeros_like(offsets), offsets), axis=1))
        assert toe_line(spans, places)[:, :, 1].max(axis=1) == pytest.approx(np.ones(len(offsets)))


@settings(max_examples=100)
@given(spans_of(), st.tuples(st.floats(-0.2, 1.2), st.floats(-0.2, 1.2)), st.floats(0.02, 0.98))
def test_a_strip_is_the_sum_of_its_slices(spans, ends, part):
    start, end = (share * spans.length_mm for share in sorted(ends))
    x = np.array(part * spans.length_mm)
    low, high = max(start, 0.0), min(end, spans.length_mm)
    # Slices that end at the section and at the joint: on each the influence line is straight, its middle the
    # mean.
    cuts = (
        np.unique([low, *(at for at in (float(x), spans.joint_mm) if low < at < high), high])
        if low < high
        else np.zeros(1)
    )
    middles, widths = (cuts[1:] + cuts[:-1]) / 2, np.diff(cuts)
    moment, shear = (float(line(spans, x, middles) @ widths) for line in (moment_line, shear_line))
    scale = spans.length_mm
    assert float(spread_moment(spans, x, start, end)) == pytest.approx(moment, rel=1e-9, abs=1e-9 * scale**2)
    assert float(spread_shear(spans, x, start, end)) == pytest.approx(shear, rel=1e-9, abs=1e-9 * scale)


@BOTH
def test_deflection_is_mutual(spans):
    """Maxwell: what a load at one place sinks another is what it would be sunk from there."""
    nodes = nodes_mm(spans, np.array([]), 9)
    beam = deflection(spans, nodes, np.where(nodes[1:] <= spans.joint_mm, 3e9, 7e9))
    assert beam.lines == pytest.approx(beam.lines.T, rel=1e-9, abs=1e-15)
    assert beam.under(nodes) == pytest.approx(beam.lines, rel=1e-9, abs=1e-15)


def test_nodes_hold_what_they_must_once():
    found = nodes_mm(RAMP, np.array([700.0, 1350.0, -5.0, 9000.0, 700.0000001]), 10)
    assert {0.0, 700.0, 1350.0, 2650.0} <= set(found.tolist())
    assert (np.diff(found) > 1e-6).all()
    assert len(found) in range(11, 14)
