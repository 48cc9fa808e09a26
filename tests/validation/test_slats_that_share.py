"""Slats as beams over all their rails, against PyNiteFEA: they relieve rails and cross members, which are
judged without them, and are bent no more, and pull their fixings no more, than they are judged to be.

In the second opinion every slat is a beam, fixed on each rail, at its own place; the wheel stands on one.
"""

from dataclasses import replace
from itertools import pairwise, product
from pathlib import Path

import numpy as np
import pytest
from test_grillage_second_opinion import SAMPLES, Frame, by_lever_rule, sample

from rampdraft.files.samples import sample_paths
from rampdraft.geometry.members.leaves import slat_starts_mm
from rampdraft.mechanics.loading.grillage import Grillage, grillage
from rampdraft.mechanics.loading.slats import SharingSlats, shared, sharing_slats
from rampdraft.model.catalogue import material_named
from rampdraft.model.design import Design

F = 1500.0
LEAVES = ("inner_leaf", "outer_leaf")


def slat_places(design: Design, leaf: int) -> list[float]:
    own = getattr(design, LEAVES[leaf])
    start = design.inner_leaf.length_mm if leaf else 0.0
    return [start + at + own.slat_width_mm / 2 for at in slat_starts_mm(own)]


def with_slat_stations(design: Design, frame: Grillage) -> Grillage:
    found = []
    for leaf, x in enumerate((frame.inner_mm, frame.outer_mm)):
        more = [at for at in slat_places(design, leaf) if np.abs(x - at).min() > 1.5]
        found.append(np.array(sorted((*x.tolist(), *more))))
    return replace(frame, inner_mm=found[0], outer_mm=found[1])


class Decked(Frame):
    """The ramp with its slats, under cases that are solved together."""

    def __init__(self, design: Design, frame: Grillage, *, decked: bool) -> None:
        super().__init__(design, frame)
        self.slats: dict[tuple[int, int], list[str]] = {}
        self.material("slats", design.made_of.slats)
        for leaf, x in enumerate((frame.inner_mm, frame.outer_mm)):
            own = getattr(design, LEAVES[leaf])
            second = own.slat_width_mm * own.slat_thickness_mm**3 / 12
            self.model.add_section(f"slat-{leaf}", 1e4, second, second, 1.0)
            for number, at in enumerate(slat_places(design, leaf)):
                station = int(np.abs(x - at).argmin())
                bays = [
                    (self.names[leaf, rail, station], self.names[leaf, rail + 1, station])
                    for rail in range(frame.rails - 1)
                ]
                self.slats[leaf, number] = [f"slat {a}" for a, _ in bays]
                if decked:
                    for a, b in bays:
                        self.model.add_member(f"slat {a}", a, b, "slats", f"slat-{leaf}")

    def wheel(self, case: str, leaf: int, number: int, y: float, *, decked: bool) -> None:
        """Put a wheel on a slat, or as the lever rule hands it to the rails beside."""
        lanes, x = self.frame.lanes_mm[leaf], (self.frame.inner_mm, self.frame.outer_mm)[leaf]
        self.model.add_load_combo(case, {case: 1.0})
        if decked:
            bay = int(np.clip(np.searchsorted(lanes, y) - 1, 0, len(lanes) - 2))
            name = self.slats[leaf, number][bay]
            self.model.add_member_pt_load(name, "FY", -F, y - lanes[bay], case=case)
            return
        station = int(np.abs(x - slat_places(self.design, leaf)[number]).argmin())
        for rail, share in enumerate(by_lever_rule(lanes, y)):
            self.model.add_node_load(self.names[leaf, rail, station], "FY", -F * share, case=case)

    def most(self, kind: str, case: str) -> float:
        """Return the greatest moment of members of a kind."""
        return max(
            max(member.max_moment("Mz", case), -member.min_moment("Mz", case))
            for name, member in self.model.members.items()
            if name.startswith(kind)
        )

    def pull(self, case: str, leaf: int) -> float:
        """Return the greatest pull of a slat of a leaf on a rail: shear that comes to it from both sides."""
        found = 0.0
        for (of, _), bays in self.slats.items():
            if of != leaf:
                continue
            ends = [
                [-member.shear("Fy", at, case) for at in (0.0, member.L())]
                for member in (self.model.members[name] for name in bays)
            ]
            before, after = [0.0, *(end for _, end in ends)], [*(start for start, _ in ends), 0.0]
            pressed = np.array(after) - np.array(before)
            if pressed.sum() < -F / 2:  # the slat that the wheel is on: what presses down is positive
                pressed = -pressed
            elif pressed.sum() < F / 2:  # no wheel on it: whichever sign pulls more
                pressed = -np.abs(pressed)
            found = max(found, -float(pressed.min()))
        return found


def cases(design: Design, frame: Grillage) -> list[tuple[str, int, int, float]]:
    """Return wheels in the middle and near the joint of each leaf, over an inner rail and in each bay."""
    found = []
    for leaf in (0, 1):
        lanes, count = frame.lanes_mm[leaf], len(slat_places(design, leaf))
        numbers = {count // 2, 1 if leaf else count - 2}
        across = [(a + b) / 2 for a, b in pairwise(lanes)][: len(lanes) // 2] + list(lanes[1:2])
        found.extend((f"{leaf} {n} {y:g}", leaf, n, y) for n, y in product(sorted(numbers), across))
    return found


@SAMPLES
def test_slats_relieve_what_is_judged_without_them(path: Path) -> None:
    design = sample(path)
    plain = grillage(design)
    frame = with_slat_stations(design, plain)
    sharing = sharing_slats(design, plain)
    with_slats, without = (Decked(design, frame, decked=decked) for decked in (True, False))
    tried = cases(design, frame)
    for one, decked in ((with_slats, True), (without, False)):
        for case, leaf, number, y in tried:
            one.wheel(case, leaf, number, y, decked=decked)
        one.model.analyze_linear(check_stability=False, sparse=True)
    has_crosses = any(name.startswith("cross") for name in without.model.members)
    rails = [max(one.most("rail", case) for case, *_ in tried) for one in (with_slats, without)]
    assert rails[0] <= 1.002 * rails[1]
    moments, pulls, _ = zip(*(shared(one, ((1.0, 0.0, True),))[0] for one in sharing), strict=True)
    bay = [max(np.diff(lanes)) for lanes in frame.lanes_mm]
    for case, leaf, *_ in tried:
        judged = F * max(bay[leaf] / 4, moments[leaf] if plain.rails > 2 else 0.0)
        assert with_slats.most("slat", case) <= 1.002 * judged, case
        if has_crosses:  # judged too as if the slat over it were off
            assert with_slats.most("cross", case) <= max(F * max(bay) / 4, without.most("cross", case)), case
        if plain.rails > 2:
            assert max(with_slats.pull(case, of) for of in (0, 1)) <= 1.002 * F * max(pulls), case


def on_rails(lanes: tuple[float, ...], sinks: np.ndarray) -> SharingSlats:
    return SharingSlats(lanes_mm=lanes, width_mm=800.0, bend_nmm2=1e9, sinks_mm_n=sinks)


def test_a_slat_over_rails_that_do_not_sink_is_a_continuous_beam() -> None:
    """Two equal spans, a load in the middle of one: 13/64 P l under it, 6/64 P l over the middle bearing, the
    far one pulled by 6/64 P (three moments, any handbook); in the middle over it nothing bends.
    """
    slats = SharingSlats(
        lanes_mm=(-400.0, 0.0, 400.0), width_mm=800.0, bend_nmm2=1e9, sinks_mm_n=np.zeros((1, 3, 3))
    )
    ((moment, pull, over),) = shared(slats, ((0.001, 0.0, True),))
    assert moment == pytest.approx(13 / 64 * 400, rel=1e-4)
    assert over == pytest.approx(6 / 64 * 400, rel=1e-4)
    assert pull == pytest.approx(6 / 64, rel=1e-4)


def test_a_slat_over_a_rail_that_gives_way_spans_the_others() -> None:
    """P l / 4 of the whole width, by whatever the middle rail no longer bears."""
    sinks = np.diag((0.0, 1e6, 0.0))[None]
    slats = on_rails((-400.0, 0.0, 400.0), sinks)
    ((moment, pull, over),) = shared(slats, ((0.001, 0.0, True),))
    assert moment == pytest.approx(800 / 4, rel=1e-4)
    assert pull == pytest.approx(0.0, abs=1e-4)
    assert over == pytest.approx(800 / 4, rel=1e-4), "the wheel stands over that rail"


def test_two_wheels_and_a_wide_patch() -> None:
    """Simple span of 800: two wheels 300 apart, F (L - t / 2)^2 / 2 L; one over 200, F (2 L - c) / 8, as four
    points have it too.
    """
    slats = on_rails((-400.0, 400.0), np.zeros((1, 2, 2)))
    (one, two) = shared(slats, ((200.0, 0.0, True), (0.001, 300.0, True)))
    assert one[0] == pytest.approx((2 * 800 - 200) / 8, rel=1e-6)
    assert two[0] == pytest.approx(250.0, rel=1e-4), "one wheel in the middle, the other 100 from the rail"


def test_a_wheel_beyond_the_outer_rail_lifts_the_slat_off_the_next() -> None:
    slats = SharingSlats(
        lanes_mm=(-300.0, 300.0), width_mm=800.0, bend_nmm2=1e9, sinks_mm_n=np.zeros((1, 2, 2))
    )
    ((moment, pull, over),) = shared(slats, ((0.001, 0.0, True),))
    assert moment == pytest.approx(600 / 4, rel=1e-4)
    assert pull == pytest.approx(100 / 600, rel=1e-4)
    assert over == pytest.approx(100.0, rel=1e-4)


def test_slats_of_the_design_are_as_stiff_as_they_are() -> None:
    design = sample(next(path for path in sample_paths() if path.stem == "barn-stage"))
    found = sharing_slats(design, grillage(design))
    elastic = material_named(design, design.made_of.slats).elastic_mpa
    assert elastic
    leaf = design.outer_leaf
    assert found[1].bend_nmm2 == pytest.approx(elastic * leaf.slat_width_mm * leaf.slat_thickness_mm**3 / 12)
