"""Axles that roll over a beam, against published worked examples."""

import numpy as np
import pytest

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
    spread_moment,
    spread_shear,
    toe_line,
)


def one_span(length_mm: float) -> Spans:
    return Spans(length_mm=length_mm, joint_mm=length_mm / 2, propped=False)


class TestTwoAxlesOnTwelveMetres:
    """Gere, Mechanics of Materials, 7th edition, problem 4.5-36: 10 kN and 20 kN, 2.4 m apart, on a simple
    beam of 12 m.

    Published: greatest shear 28 kN, greatest moment 78.4 kN m.
    """

    spans = one_span(12_000)
    offsets = np.array([[0.0, 2400.0]])
    forces = np.array([[10e3, 20e3]])

    def test_greatest_shear_at_a_support(self):
        found = envelope(self.spans, np.array([0.0, 12_000.0]), self.offsets, self.forces[:, None])
        # With 20 kN at the far end and 10 kN 2.4 m inside: 20 + 10 * 9.6 / 12.
        assert found.shear_most.max() / 1e3 == pytest.approx(28, rel=1e-9)

    def test_greatest_moment_under_the_heavier_axle(self):
        sections = greatest_moment_places(self.spans, self.offsets, self.forces)
        found = envelope(self.spans, sections, self.offsets, self.forces[:, None])
        assert found.moment_most.max() / 1e6 == pytest.approx(78.4, rel=1e-9)
        best = int(found.moment_most[0, 0].argmax())
        # The resultant stands 0.8 m from the heavier axle: the axle is 0.4 m beyond the middle, as is the
        # section.
        assert sections[best] == pytest.approx(6400)
        first = float(first_axles_mm(self.spans, sections[[best]], self.offsets[:1], self.forces[:1])[0])
        assert first + 2400 == pytest.approx(6400)

    def test_no_moment_so_great_anywhere_else(self):
        x = np.linspace(0, 12_000, 121)
        found = envelope(self.spans, x, self.offsets, self.forces[:, None]).moment_most[0, 0]
        assert found.max() <= 78.4e6 * (1 + 1e-12)


class TestSeventyKilonewtonsOnEightMetres:
    """A load of 70 kN at 3 m of a simple beam of 8 m, E 210 GPa, I 2.8e4 cm4; a published worked example.

    Published: 11.16 mm under the load, greatest 11.68 mm at 3.72 m, between load and middle. The figures are
    in the project's list of check values.
    """

    spans = one_span(8000)

    def sunk_mm(self, *places_mm: float):
        nodes = nodes_mm(self.spans, np.array(places_mm), 8)
        beam = deflection(self.spans, nodes, np.full(len(nodes) - 1, 210e3 * 2.8e8))
        sunk = 70e3 * beam.under(np.array([3000.0]))[0]
        return [float(sunk[np.argmin(np.abs(beam.nodes_mm - at))]) for at in places_mm]

    def test_under_the_load(self):
        assert self.sunk_mm(3000)[0] == pytest.approx(11.16, abs=0.005)

    def test_the_greatest_and_where(self):
        greatest, nearer, farther = self.sunk_mm(3720, 3720 - 60, 3720 + 60)
        assert greatest == pytest.approx(11.68, abs=0.005)
        assert greatest > max(nearer, farther)
        fine = np.linspace(3100, 4600, 301)
        assert fine[np.argmax(self.sunk_mm(*fine))] == pytest.approx(3720, abs=5)


class TestTwoSpansOverAProp:
    """Two spans of 3 m, 120 kN in the middle of the first, 40 kN/m on the second (the loads of NPTEL
    105101085).

    That example is a beam continuous over its middle support: -56.25 kN m there and a reaction of 157.5 kN. A
    ramp's joint opens over the prop, so here both spans are simple; continuity would add M/L of each span: 2
    * 56.25 / 3 = 37.5 kN.
    """

    spans = Spans(length_mm=6000, joint_mm=3000, propped=True)
    at = np.array([1500.0])

    def test_no_moment_over_the_prop(self):
        joint = np.array([3000.0, 3000.0 + 1e-6])
        moment = 120e3 * moment_line(self.spans, joint, self.at) + 40.0 * spread_moment(
            self.spans, joint, 3000.0, 6000.0
        )
        assert moment == pytest.approx(
            [0, 0], abs=200
        )  # 1e-6 mm beside the prop there is 0.06 N mm; 56.25 kN m would fail

    def test_the_prop_carries_what_two_simple_spans_bring(self):
        """By hand: 120 / 2 + 40 * 3 / 2 = 120 kN, and the published 157.5 kN less what continuity adds."""
        middles = np.arange(3005.0, 6000, 10)
        prop = 120e3 * float(prop_line(self.spans, self.at)[0]) + 40.0 * 10 * float(
            prop_line(self.spans, middles).sum()
        )
        assert prop / 1e3 == pytest.approx(120)
        assert prop / 1e3 == pytest.approx(157.5 - 2 * 56.25 / 3)

    def test_the_moments_in_the_spans(self):
        """By hand: P L / 4 = 90 kN m and w L^2 / 8 = 45 kN m."""
        assert 120e3 * float(moment_line(self.spans, self.at, self.at)[0]) / 1e6 == pytest.approx(90)
        assert 40 * float(
            spread_moment(self.spans, np.array([4500.0]), 3000.0, 6000.0)[0]
        ) / 1e6 == pytest.approx(45)

    def test_the_shears_beside_the_prop(self):
        """By hand: P / 2 = 60 kN and w L / 2 = 60 kN, of opposite sign."""
        assert 40 * float(
            spread_shear(self.spans, np.array([3000.001]), 3000.0, 6000.0)[0]
        ) / 1e3 == pytest.approx(60, rel=1e-5)
        assert float(hinge_line(self.spans, self.at)[0]) == pytest.approx(0.5)
        assert float(toe_line(self.spans, self.at)[0]) == 0.0


class TestHandbookCases:
    """Simple beams of any handbook, from memory: P L / 4, w L^2 / 8, P L^3 / 48 E I, 5 w L^4 / 384 E I."""

    spans = one_span(2600)
    nodes = nodes_mm(one_span(2600), np.array([]), 10)
    beam = deflection(one_span(2600), nodes, np.full(len(nodes) - 1, 4e9))
    middle = int(np.argmin(np.abs(nodes - 1300)))

    def test_moments(self):
        assert float(moment_line(self.spans, np.array(1300.0), np.array(1300.0))) == pytest.approx(2600 / 4)
        assert float(spread_moment(self.spans, np.array(1300.0), 0.0, 2600.0)) == pytest.approx(2600**2 / 8)

    def test_deflections(self):
        assert self.beam.under(np.array([1300.0]))[0, self.middle] == pytest.approx(2600**3 / (48 * 4e9))
        even = self.beam.spread(np.ones(len(self.nodes) - 1))
        assert even[self.middle] == pytest.approx(5 * 2600**4 / (384 * 4e9))

    @pytest.mark.parametrize("at", [200.0, 777.7, 1300.0, 2500.0])
    def test_middle_deflection_of_a_load_anywhere(self, at):
        """P b (3 L^2 - 4 b^2) / 48 E I in the middle, b the shorter distance to a support."""
        short = min(at, 2600 - at)
        expected = short * (3 * 2600**2 - 4 * short**2) / (48 * 4e9)
        assert self.beam.under(np.array([at]))[0, self.middle] == pytest.approx(expected)
