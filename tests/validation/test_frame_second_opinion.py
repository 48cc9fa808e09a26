"""Influence lines against PyNiteFEA, a stiffness-method frame program, on random ramps and random axles.

The frame has a node at the deck hinge, at the joint and at the toe, a member a leaf, and no shear
deformation; over a prop the outer leaf's member is hinged to the joint. PyNite integrates a member's loads in
closed form, so nothing but rounding may differ: 1e-6 of the figure, or of the largest figure that these loads
could make.
"""

from dataclasses import dataclass

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from Pynite import FEModel3D

from rampdraft.mechanics.loading.beam import (
    Spans,
    deflection,
    envelope,
    first_axles_mm,
    hinge_line,
    moment_line,
    nodes_mm,
    prop_line,
    shear_line,
    spread_moment,
    spread_shear,
    toe_line,
)

Row = tuple[float, ...]
AGREEMENT = 1e-6
E_MPA = 210_000.0


@dataclass(frozen=True, kw_only=True)
class Frame:
    """The ramp as PyNite has it, analysed."""

    model: FEModel3D
    joint_mm: float

    def at(self, x: float):
        """Return the member that a section lies in and where in it."""
        return (
            (self.model.members["inner"], x)
            if x <= self.joint_mm
            else (self.model.members["outer"], x - self.joint_mm)
        )

    def moment(self, x: float) -> float:
        member, along = self.at(x)
        return -float(member.moment("Mz", along))

    def shear(self, x: float) -> float:
        member, along = self.at(x)
        return float(member.shear("Fy", along))

    def sink(self, x: float) -> float:
        member, along = self.at(x)
        return -float(member.deflection("dy", along))

    def reaction(self, node: str) -> float:
        return float(self.model.nodes[node].RxnFY["Combo 1"])


def frame(
    spans: Spans,
    axles: list[tuple[float, float]] | None = None,
    strips: list[tuple[float, float, float]] | None = None,
    second_moments_mm4: tuple[float, float] = (1e6, 1e6),
    *,
    opens: bool = True,
) -> Frame:
    """Return the ramp under axles (place, N) and strips (start, end, N/mm); what is beside the ramp is left
    out.

    `opens` says that the joint opens over a prop.
    """
    model = FEModel3D()
    model.add_material("steel", E_MPA, 81_000.0, 0.3, 0.0)
    for name, x in (("hinge", 0.0), ("joint", spans.joint_mm), ("toe", spans.length_mm)):
        model.add_node(name, x, 0.0, 0.0)
    leaves = (
        ("inner", "hinge", "joint", 0.0, spans.joint_mm),
        ("outer", "joint", "toe", spans.joint_mm, spans.length_mm),
    )
    for (name, start, end, _, _), second_moment in zip(leaves, second_moments_mm4, strict=True):
        model.add_section(name, 1000.0, 1e6, second_moment, 1e6)
        model.add_member(name, start, end, "steel", name)
    model.def_support("hinge", True, True, True, True, False, False)
    model.def_support("toe", False, True, True, False, False, False)
    if spans.propped:
        model.def_support("joint", False, True, False, False, False, False)
        model.def_releases("outer", Rzi=opens)
    for name, _, _, start, end in leaves:
        for place, force in axles or ():
            # An axle that rounding put a hair beside the ramp stands on its end; the joint belongs to the
            # inner leaf.
            at = min(max(place, 0.0), spans.length_mm)
            if abs(at - place) < 1e-9 and (start < at <= end or at == start == 0.0):
                model.add_member_pt_load(name, "Fy", -force, at - start)
        for first, last, n_mm in strips or ():
            low, high = max(first, start), min(last, end)
            if low < high:
                model.add_member_dist_load(name, "Fy", -n_mm, -n_mm, low - start, high - start)
    model.analyze_linear(check_stability=False, sparse=False)
    return Frame(model=model, joint_mm=spans.joint_mm)


@st.composite
def spans_of(draw) -> Spans:
    length = draw(st.floats(1000, 8000))
    return Spans(length_mm=length, joint_mm=length * draw(st.floats(0.15, 0.85)), propped=draw(st.booleans()))


@st.composite
def trains(draw) -> tuple[Row, Row]:
    """Return how far each axle stands from the first, and its force: one to four axles."""
    gaps = draw(st.lists(st.floats(150, 1500), min_size=0, max_size=3))
    offsets = (0.0, *np.cumsum(gaps).tolist())
    return offsets, tuple(draw(st.floats(50, 5000)) for _ in offsets)


SHARES = st.lists(st.floats(0, 1), min_size=3, max_size=3)
"""Where something is, as shares of the length."""


def axles_at(spans: Spans, train: tuple[Row, Row], share: float) -> tuple[np.ndarray, np.ndarray]:
    """Return places and forces of a train whose way over the ramp, from its last axle coming on, is done by
    `share`.
    """
    offsets, forces = np.array(train[0]), np.array(train[1])
    return -offsets[-1] + share * (spans.length_mm + offsets[-1]) + offsets, forces


def away(x: float, places: np.ndarray, spans: Spans) -> float:
    """Return a section near x that is on no axle and on no support, where the shear has two values."""
    forbidden = np.array([*places, 0.0, spans.joint_mm, spans.length_mm])
    for step in range(2 * len(forbidden) + 1):
        at = (
            min(x + 0.5 * step, spans.length_mm - 0.25)
            if x < spans.length_mm / 2
            else max(x - 0.5 * step, 0.25)
        )
        if np.abs(forbidden - at).min() > 0.1:
            return at
    raise AssertionError("no free section near x")


def forces_agree(spans: Spans, train: tuple[Row, Row], share: float, sections: list[float]) -> None:
    places, forces = axles_at(spans, train, share)
    second = frame(spans, list(zip(places.tolist(), forces.tolist(), strict=True)))
    weight = forces.sum()
    for part in sections:
        x = away(part * spans.length_mm, places, spans)
        moment = float(moment_line(spans, np.array(x), places) @ forces)
        shear = float(shear_line(spans, np.array(x), places) @ forces)
        assert moment == pytest.approx(
            second.moment(x), rel=AGREEMENT, abs=AGREEMENT * weight * spans.length_mm / 4
        )
        assert shear == pytest.approx(second.shear(x), rel=AGREEMENT, abs=AGREEMENT * weight)
    supports = [("hinge", hinge_line), ("toe", toe_line)] + ([("joint", prop_line)] if spans.propped else [])
    for node, line in supports:
        assert float(line(spans, places) @ forces) == pytest.approx(
            second.reaction(node), rel=AGREEMENT, abs=AGREEMENT * weight
        )


@settings(max_examples=250)
@given(spans_of(), trains(), st.floats(0, 1), SHARES)
def test_moment_shear_and_reactions_of_axles(spans, train, share, sections):
    forces_agree(spans, train, share, sections)


@pytest.mark.soak
@settings(max_examples=1500)
@given(spans_of(), trains(), st.floats(0, 1), SHARES)
def test_moment_shear_and_reactions_of_more_axles(spans, train, share, sections):
    forces_agree(spans, train, share, sections)


@settings(max_examples=200)
@given(spans_of(), st.tuples(st.floats(-0.1, 1.1), st.floats(-0.1, 1.1)), st.floats(0.1, 10), SHARES)
def test_moment_and_shear_of_a_strip(spans, ends, n_mm, sections):
    start, end = (spans.length_mm * share for share in sorted(ends))
    second = frame(spans, strips=[(start, end, n_mm)])
    weight = n_mm * spans.length_mm
    for part in sections:
        x = away(part * spans.length_mm, np.array([]), spans)
        moment = n_mm * float(spread_moment(spans, np.array(x), start, end))
        shear = n_mm * float(spread_shear(spans, np.array(x), start, end))
        assert moment == pytest.approx(
            second.moment(x), rel=AGREEMENT, abs=AGREEMENT * weight * spans.length_mm / 8
        )
        assert shear == pytest.approx(second.shear(x), rel=AGREEMENT, abs=AGREEMENT * weight / 2)


STIFF = st.tuples(st.floats(1e5, 1e7), st.floats(1e5, 1e7))
"""Second moments of area of both leaves, mm4."""


def beam_of(spans: Spans, second_moments: tuple[float, float], count: int):
    nodes = nodes_mm(spans, np.array([]), count)
    inner = (nodes[1:] + nodes[:-1]) / 2 < spans.joint_mm
    return deflection(spans, nodes, E_MPA * np.where(inner, *second_moments))


def deflections_agree(
    spans: Spans, train: tuple[Row, Row], share: float, second_moments: tuple[float, float]
) -> None:
    places, forces = axles_at(spans, train, share)
    # Few nodes, so that the axles lie between them, and far.
    beam = beam_of(spans, second_moments, 6)
    found = forces @ beam.under(places)
    second = frame(
        spans, list(zip(places.tolist(), forces.tolist(), strict=True)), second_moments_mm4=second_moments
    )
    opinion = [second.sink(x) for x in beam.nodes_mm]
    most = forces.sum() * spans.length_mm**3 / (48 * E_MPA * min(second_moments))
    assert found == pytest.approx(opinion, rel=AGREEMENT, abs=AGREEMENT * most)


@settings(max_examples=250)
@given(spans_of(), trains(), st.floats(0, 1), STIFF)
def test_deflection_of_axles_on_two_leaves_of_different_stiffness(spans, train, share, second_moments):
    deflections_agree(spans, train, share, second_moments)


@pytest.mark.soak
@settings(max_examples=1500)
@given(spans_of(), trains(), st.floats(0, 1), STIFF)
def test_deflection_of_more_axles(spans, train, share, second_moments):
    deflections_agree(spans, train, share, second_moments)


@settings(max_examples=200)
@given(spans_of(), st.tuples(st.floats(0.1, 10), st.floats(0.1, 10)), STIFF)
def test_deflection_of_two_leaves_that_weigh_differently(spans, n_mm, second_moments):
    beam = beam_of(spans, second_moments, 6)
    inner = (beam.nodes_mm[1:] + beam.nodes_mm[:-1]) / 2 < spans.joint_mm
    found = beam.spread(np.where(inner, *n_mm))
    strips = [(0.0, spans.joint_mm, n_mm[0]), (spans.joint_mm, spans.length_mm, n_mm[1])]
    second = frame(spans, strips=strips, second_moments_mm4=second_moments)
    opinion = [second.sink(x) for x in beam.nodes_mm]
    most = 5 / 384 * max(n_mm) * spans.length_mm**4 / (E_MPA * min(second_moments))
    assert found == pytest.approx(opinion, rel=AGREEMENT, abs=AGREEMENT * most)


def envelope_holds(spans: Spans, train: tuple[Row, Row], shares: list[float], part: float) -> None:
    offsets, forces = np.array(train[0]), np.array(train[1])
    x = away(part * spans.length_mm, np.array([]), spans)
    found = envelope(spans, np.array([x]), offsets[None], forces[None, None])
    most, shear = float(found.moment_most[0, 0, 0]), float(found.shear_most[0, 0, 0])
    assert float(found.moment_least[0, 0, 0]) == pytest.approx(0, abs=1e-6)

    for share in shares:
        places, _ = axles_at(spans, train, share)
        second = frame(spans, list(zip(places.tolist(), forces.tolist(), strict=True)))
        assert second.moment(x) <= most * (1 + AGREEMENT) + AGREEMENT
        assert abs(second.shear(x)) <= shear * (1 + AGREEMENT) + AGREEMENT

    there = first_axles_mm(spans, np.array([x]), offsets[None], forces[None]) + offsets
    reached = frame(spans, list(zip(there.tolist(), forces.tolist(), strict=True)))
    assert reached.moment(x) == pytest.approx(most, rel=AGREEMENT)
    # The shear is most with some axle just past the section, on one side or the other.
    beside = [
        abs(
            frame(spans, list(zip((x + side - own + offsets).tolist(), forces.tolist(), strict=True))).shear(
                x
            )
        )
        for own in offsets
        for side in (-1e-6, 1e-6)
    ]
    assert max(beside) == pytest.approx(shear, rel=AGREEMENT)


@settings(max_examples=150)
@given(spans_of(), trains(), SHARES, st.floats(0.02, 0.98))
def test_the_envelope_is_never_exceeded_and_is_reached_where_it_says(spans, train, shares, part):
    envelope_holds(spans, train, shares, part)


@pytest.mark.soak
@settings(max_examples=1500)
@given(spans_of(), trains(), SHARES, st.floats(0.02, 0.98))
def test_more_envelopes_are_never_exceeded(spans, train, shares, part):
    envelope_holds(spans, train, shares, part)


def test_the_second_opinion_knows_a_published_continuous_beam() -> None:
    """NPTEL 105101085: two spans of 3 m, 120 kN mid first, 40 kN/m on the second; -56.25 kN m, middle
    reaction 157.5 kN.
    """
    spans = Spans(length_mm=6000, joint_mm=3000, propped=True)
    loads = {"axles": [(1500.0, 120e3)], "strips": [(3000.0, 6000.0, 40.0)]}
    continuous = frame(spans, **loads, opens=False)
    assert continuous.moment(3000) / 1e6 == pytest.approx(-56.25)
    assert continuous.reaction("joint") / 1e3 == pytest.approx(157.5)
    simple = frame(spans, **loads)
    assert simple.moment(3000) / 1e6 == pytest.approx(0, abs=1e-6)
    assert simple.reaction("joint") / 1e3 == pytest.approx(120)


def test_the_second_opinion_differs_when_the_model_does() -> None:
    """A comparison that cannot fail is none: a prop, a stiffer leaf, or an axle 1 % heavier is noticed."""
    spans = Spans(length_mm=3000, joint_mm=1400, propped=False)
    plain = frame(spans, [(1000.0, 500.0)])
    assert frame(spans, [(1000.0, 505.0)]).moment(1500) == pytest.approx(1.01 * plain.moment(1500))
    assert frame(spans, [(1000.0, 500.0)], second_moments_mm4=(1e6, 2e6)).sink(1500) < 0.9 * plain.sink(1500)
    propped = frame(Spans(length_mm=3000, joint_mm=1400, propped=True), [(1000.0, 500.0)])
    assert propped.moment(1399.999) == pytest.approx(0, abs=1.0)
    assert plain.moment(1399.999) > 1e5
