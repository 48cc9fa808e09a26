"""Axles that roll over a beam, against published worked examples.

All rails together carry what a plain beam carries, however they share it: sums over the rails are held
against the published figures, of beams made smaller.
"""

from dataclasses import replace

import numpy as np
import pytest
from timber_ramp import timber_ramp

from rampdraft.geometry.sections import properties
from rampdraft.mechanics.loading.beam import Spans, moment_line
from rampdraft.mechanics.loading.grillage import Effects, Grillage, grillage
from rampdraft.mechanics.loading.places import hats
from rampdraft.model.design import Design, Prop, StopBars
from rampdraft.model.section import parse_section

STIFF = StopBars(
    kind="butt",
    count=2,
    section=parse_section("flat 100x100"),
    fixed_to="inner",
    fixed_length_mm=20,
    lap_mm=60,
    arm_mm=400,
    gap_mm=0.5,
)
"""Two bars so strong that the ramp is one beam."""
LEG = Prop(fitted=True, section=parse_section("box 30x30x2"), shortest_mm=100, longest_mm=300, foot_mm=100)
LANES = (-400.0, 400.0)
WHOLE = 2400.0


def beam(*crosses_mm: float, propped: bool = False) -> Design:
    """Return two rails as long as WHOLE, alike, with cross members at these places, which are stations
    then.
    """
    design, half = timber_ramp(), WHOLE / 2
    inner = tuple(at for at in crosses_mm if at < half)
    outer = tuple(at - half for at in crosses_mm if at > half)
    leaf = replace(design.inner_leaf, length_mm=half, rail_lanes_mm=LANES)
    return replace(
        design,
        inner_leaf=replace(leaf, cross_positions_mm=inner),
        outer_leaf=replace(leaf, cross_positions_mm=outer, rail_lanes_mm=(-360.0, 360.0)),
        stop=STIFF,
        prop=replace(LEG, fitted=propped),
    )


def effects(frame: Grillage, *loads: tuple[float, float]) -> Effects:
    """Return the effects of loads (place, N) in the middle of the ramp."""
    joint = frame.inner_mm[-1]
    rows = []
    for x, beyond in ((frame.inner_mm, False), (frame.outer_mm, True)):
        row = sum(force * hats(x, np.array(at), np.array((at > joint) == beyond)) for at, force in loads)
        rows.append(np.repeat(np.asarray(row) / 2, 2))
    return Effects(frame, frame.bearing(np.concatenate(rows)[None]))


def moment_at(frame: Grillage, found: Effects, at: float) -> float:
    """Return the moment of all rails together at a station."""
    body, x = ("inner", frame.inner_mm) if at <= frame.inner_mm[-1] else ("outer", frame.outer_mm)
    number = int(np.abs(x - at).argmin())
    assert x[number] == pytest.approx(at)
    return float(found.moments(body)[0, :, number - 1, 1].sum())


def test_two_axles_on_twelve_metres() -> None:
    """Gere, Mechanics of Materials, 7th edition, problem 4.5-36: 10 kN and 20 kN, 2.4 m apart, on a
    simple beam of 12 m.

    Published: greatest moment 78.4 kN m; here all lengths are a fifth. The resultant stands 0.8 m from
    the heavier axle: that axle is 0.4 m beyond the middle then, as is the section.
    """
    section = WHOLE * 6.4 / 12
    frame = grillage(beam(section))
    found = effects(frame, (section - WHOLE * 2.4 / 12, 10e3), (section, 20e3))
    assert 5 * moment_at(frame, found, section) / 1e6 == pytest.approx(78.4, rel=1e-6)


def test_the_greatest_shear_of_two_axles() -> None:
    """The same problem: 28 kN, with 20 kN at the far end and 10 kN 2.4 m inside: 20 + 10 * 9.6 / 12."""
    frame = grillage(beam(WHOLE * 9.6 / 12))
    found = effects(frame, (WHOLE * 9.6 / 12, 10e3), (WHOLE, 20e3))
    assert float(found.toe_n.sum()) / 1e3 == pytest.approx(28, rel=1e-6)


def test_seventy_kilonewtons_on_eight_metres() -> None:
    """A load of 70 kN at 3 m of a simple beam of 8 m, E 210 GPa, I 2.8e4 cm4; a published worked example.

    Published: 11.16 mm under the load, greatest 11.68 mm at 3.72 m. Here the beam is 2.4 m of two rails;
    the deflection goes as F L3 / E I.
    """
    places = [WHOLE * at / 8 for at in (3.0, 3.72)]
    design = beam(*places)
    frame = grillage(design)
    found = effects(frame, (places[0], 1000.0))
    sunk = found.sunk_mm[0]
    stiff = 2 * properties(design.inner_leaf.rail_section).second_moment_mm4
    scale = 70e3 / 1000 * (8000 / WHOLE) ** 3 * stiff / 2.8e8
    stations = [int(np.abs(frame.inner_mm - at).argmin()) for at in places]
    under, most = (float(sunk[number].mean()) * scale for number in stations)
    assert under == pytest.approx(11.16, rel=2e-3)
    assert most == pytest.approx(11.68, rel=2e-3)


class TestTwoSpansOverAProp:
    """Two spans of 3 m, 120 kN in the middle of the first, 40 kN/m on the second (the loads of NPTEL
    105101085), at a fifth of the lengths.

    That example is a beam continuous over its middle support: -56.25 kN m there and a reaction of 157.5 kN. A
    ramp's joint opens over the prop, so here both spans are simple; continuity would add M/L of each span: 2
    * 56.25 / 3 = 37.5 kN.
    """

    frame = grillage(beam(WHOLE / 4, WHOLE * 3 / 4, propped=True))
    spread = tuple((WHOLE / 2 + (k + 0.5) * 3.0, 120e3 / 400) for k in range(400))
    found = effects(frame, (WHOLE / 4, 120e3), *spread)

    def test_no_moment_over_the_prop(self) -> None:
        assert moment_at(self.frame, self.found, WHOLE / 2) == pytest.approx(0, abs=1.0)

    def test_the_prop_carries_what_two_simple_spans_bring(self) -> None:
        """By hand: 120 / 2 + 40 * 3 / 2 = 120 kN, and the published 157.5 kN less what continuity adds."""
        total = sum(force for _, force in self.spread)
        assert total == pytest.approx(40e3 * 3)
        prop = float(self.found.props_n.sum()) / 1e3
        assert prop == pytest.approx(120, rel=1e-3)
        assert prop == pytest.approx(157.5 - 2 * 56.25 / 3, rel=1e-3)

    def test_the_moments_in_the_spans(self) -> None:
        """By hand: P L / 4 = 90 kN m and w L^2 / 8 = 45 kN m, of spans of 3 m."""
        scale = 3000 / (WHOLE / 2) / 1e6
        assert moment_at(self.frame, self.found, WHOLE / 4) * scale == pytest.approx(90, rel=1e-3)
        assert moment_at(self.frame, self.found, WHOLE * 3 / 4) * scale == pytest.approx(45, rel=1e-2)


def test_the_plain_beam_of_a_handbook() -> None:
    """From memory: P L / 4."""
    spans = Spans(length_mm=2600, joint_mm=1300, propped=False)
    assert float(moment_line(spans, 1300.0, np.array(1300.0))) == pytest.approx(2600 / 4)
