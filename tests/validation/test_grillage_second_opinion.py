"""The grillage against PyNiteFEA, a stiffness-method frame program, on all samples and random ramps.

PyNite has a member for each stretch of a rail and each bay of a cross member, put together from the
design anew: its sections from `properties`, stiffness of stops and joint as DEVELOPERS.md tells. Wheels
on stations agree to a thousandth. At the worst place of every load of every sample, with its other axles
between stations and toe and props that only push, the moment agrees to half a per cent.
"""

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from any_design import buildable_designs
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st
from Pynite import FEModel3D
from tries import first, tries

from rampdraft.checks.rules.rule import all_loads
from rampdraft.checks.rules.sets import rule_sets_for
from rampdraft.files.design_file import load_design
from rampdraft.files.samples import sample_paths
from rampdraft.geometry.members.assembly import assemble
from rampdraft.geometry.sections import cut_from_below, properties, torsion_constant_mm4
from rampdraft.mechanics.joint import bearing_arm_mm, held_by_stop
from rampdraft.mechanics.loading.carrying import carry
from rampdraft.mechanics.loading.frame import stop_contacts
from rampdraft.mechanics.loading.grillage import Effects, Grillage, grillage
from rampdraft.mechanics.loading.loads import Rolling
from rampdraft.mechanics.loading.places import hats
from rampdraft.model.catalogue import material_named
from rampdraft.model.design import Design

AGREEMENT = 0.001
FIRMNESS = 1e-6
"""Of load times length: what the stiffest springs of the second opinion leave, where nothing else bends."""
IN_USE = 0.005
FIRM = 1e6


def moduli(design: Design, name: str) -> tuple[float, float]:
    material = material_named(design, name)
    elastic = material.elastic_mpa or 210e3
    return elastic, elastic / (16 if material.kind == "timber" else 2.6)


class Frame:
    """A ramp as PyNite has it. Global X along the ramp, Y up, Z across."""

    def __init__(self, design: Design, frame: Grillage, *, pushing: bool = False) -> None:
        self.design, self.frame, self.model = design, frame, FEModel3D()
        self.pushing = pushing
        """Whether toe and props only push."""
        self.names: dict[tuple[int, int, int], str] = {}
        for leaf, (x, lanes) in enumerate(zip((frame.inner_mm, frame.outer_mm), frame.lanes_mm, strict=True)):
            for rail, lane in enumerate(lanes):
                for number, at in enumerate(x.tolist()):
                    name = f"{leaf}-{rail}-{number}"
                    self.names[leaf, rail, number] = name
                    # The leaves apart by a hair along, so that the link between them has a length.
                    self.model.add_node(name, at + 1e-3 * leaf, 0.0, lane)
        self.rails()
        self.crosses(0, design.inner_leaf)
        self.crosses(1, design.outer_leaf)
        self.joint()
        self.supports()

    def material(self, key: str, name: str) -> None:
        elastic, shear = moduli(self.design, name)
        self.model.add_material(key, elastic, shear, 0.3, 0.0)

    def rails(self) -> None:
        design, frame = self.design, self.frame
        self.material("rails", design.made_of.rails)
        for leaf, (x, own) in enumerate(
            ((frame.inner_mm, design.inner_leaf), (frame.outer_mm, design.outer_leaf))
        ):
            for number in range(len(x) - 1):
                middle = (x[number] + x[number + 1]) / 2
                second, torsion = self.rail(leaf, own.rail_section, float(frame.outer_mm[-1] - middle))
                key = f"rail-{leaf}-{number}"
                self.model.add_section(key, 1e4, second, second, torsion)
                for rail in range(frame.rails):
                    a, b = self.names[leaf, rail, number], self.names[leaf, rail, number + 1]
                    self.model.add_member(f"rail {a}", a, b, "rails", key)

    def rail(self, leaf: int, section, from_tip: float) -> tuple[float, float]:
        toe = self.design.toe
        if leaf == 0 or toe.kind != "taper" or from_tip >= toe.length_mm:
            return properties(section).second_moment_mm4, torsion_constant_mm4(section)
        left = toe.thickness_mm + (section.depth_mm - toe.thickness_mm) * from_tip / toe.length_mm
        left = min(left, section.depth_mm)
        net = cut_from_below(section, left, closed=toe.closed)
        return net.second_moment_mm4, torsion_constant_mm4(section, depth_mm=left, closed=toe.closed)

    def crosses(self, leaf: int, own) -> None:
        design, frame = self.design, self.frame
        if (
            own.cross_fitting == "between"
            and material_named(design, design.made_of.cross_members).kind == "timber"
        ):
            return
        self.material(f"cross-{leaf}", design.made_of.cross_members)
        second = properties(own.cross_section).second_moment_mm4
        key = f"cross-{leaf}"
        self.model.add_section(key, 1e4, second, second, torsion_constant_mm4(own.cross_section))
        x = frame.outer_mm if leaf else frame.inner_mm
        for at in own.cross_positions_mm:
            number = int(np.abs(x - x[0] - at).argmin())
            for rail in range(frame.rails - 1):
                a, b = self.names[leaf, rail, number], self.names[leaf, rail + 1, number]
                self.model.add_member(f"cross {a}", a, b, key, key)

    def joint(self) -> None:
        """A pair is a stiff link across; about its own axis it turns freely, or as a stop bar lets it."""
        design, frame, stop = self.design, self.frame, self.design.stop
        elastic, _ = moduli(design, design.made_of.fittings)
        whole = properties(stop.section)
        held = np.zeros(frame.rails)
        if held_by_stop(design):
            if stop.kind == "lap":
                per_rad = 3 * elastic * whole.second_moment_mm4 / stop.lap_mm
            else:
                per_rad = (
                    elastic * whole.area_mm2 * max(bearing_arm_mm(design), 1.0) ** 2 / stop.fixed_length_mm
                )
            for _, part, shares in stop_contacts(design):
                assume(shares.max() == 1.0)
                held += part * per_rad * shares
        self.model.add_material("stiff", 210e6, 81e6, 0.3, 0.0)
        last = len(frame.inner_mm) - 1
        for rail, (y, other, per_rad) in enumerate(zip(*frame.lanes_mm, held.tolist(), strict=True)):
            assume(abs(other - y) > 20)
            a, b = self.names[0, rail, last], self.names[1, rail, 0]
            torsion = per_rad * abs(other - y) / 81e6
            second = 1e10 * abs(other - y) ** 3 / 12 / 210e6  # stiff, and no stiffer, or rounding tells
            self.model.add_section(f"link-{rail}", 1e5, second, second, max(torsion, 1e-9))
            self.model.add_member(f"link {rail}", a, b, "stiff", f"link-{rail}")

    def supports(self) -> None:
        frame, last = self.frame, len(self.frame.outer_mm) - 1
        for rail in range(frame.rails):
            self.model.def_support(self.names[0, rail, 0], True, True, True, True, True, False)
            self.model.def_support_spring(
                self.names[1, rail, last], "DY", FIRM, "-" if self.pushing else None
            )
            for leaf in (0, 1):  # nothing moves or turns in the plane of the ramp
                for number in range(len(frame.outer_mm if leaf else frame.inner_mm)):
                    if (leaf, number) != (0, 0):
                        self.model.def_support(
                            self.names[leaf, rail, number], True, False, True, False, True, False
                        )
        if self.design.prop.fitted:
            under_all = self.design.prop.under == "all"
            for rail in range(0, frame.rails, 1 if under_all else frame.rails - 1):
                self.model.def_support_spring(
                    self.names[0, rail, len(frame.inner_mm) - 1], "DY", FIRM, "-" if self.pushing else None
                )

    def put(self, leaf: int, rail: int, at: float, force: float) -> None:
        x = self.frame.outer_mm if leaf else self.frame.inner_mm
        number = int(np.clip(np.searchsorted(x, at, side="right") - 1, 0, len(x) - 2))
        name = f"rail {self.names[leaf, rail, number]}"
        self.model.add_member_pt_load(name, "FY", -force, at - float(x[number]))

    def moments(self) -> np.ndarray:
        """Return the sagging moment at the middle of each stretch of each rail, leaf by leaf, rail by
        rail.
        """
        if self.pushing:
            self.model.analyze(check_stability=False, sparse=False)
        else:
            self.model.analyze_linear(check_stability=False, sparse=False)
        found = []
        for leaf, x in enumerate((self.frame.inner_mm, self.frame.outer_mm)):
            for rail in range(self.frame.rails):
                for number in range(len(x) - 1):
                    member = self.model.members[f"rail {self.names[leaf, rail, number]}"]
                    found.append([-float(member.moment("Mz", one)) for one in (0.0, member.L())])
        return np.array(found)

    def reactions(self) -> tuple[np.ndarray, np.ndarray]:
        last = len(self.frame.outer_mm) - 1
        hinge = [
            self.model.nodes[self.names[0, rail, 0]].RxnFY["Combo 1"] for rail in range(self.frame.rails)
        ]
        toe = [
            -FIRM * self.model.nodes[self.names[1, rail, last]].DY["Combo 1"]
            for rail in range(self.frame.rails)
        ]
        return np.array(hinge), np.array(toe)


def loads_on(frame: Grillage, wheels: list[tuple[int, int, float, float]]) -> np.ndarray:
    """Return wheels (leaf, rail, share of the leaf's length, force) on the stations."""
    rows = []
    for leaf, x in enumerate((frame.inner_mm, frame.outer_mm)):
        row = np.zeros((len(x), frame.rails))
        for own, rail, share, force in wheels:
            if own == leaf:
                at = x[0] + share * (x[-1] - x[0])
                row[:, rail % frame.rails] += force * hats(x, np.array(at), np.array(True))
        rows.append(row.ravel())
    return np.concatenate(rows)


def on_station(
    frame: Grillage, leaf: int, rail: int, share: float, force: float
) -> tuple[int, int, float, float]:
    x = frame.outer_mm if leaf else frame.inner_mm
    at = x[np.abs(x - x[0] - share * (x[-1] - x[0])).argmin()]
    return leaf, rail, float((at - x[0]) / (x[-1] - x[0])), force


def agree(design: Design, wheels: list[tuple[int, int, float, float]]) -> None:
    frame = grillage(design)
    assume(not frame.loose)
    wheels = [on_station(frame, *wheel) for wheel in wheels]
    second = Frame(design, frame)
    for leaf, rail, share, force in wheels:
        x = frame.outer_mm if leaf else frame.inner_mm
        second.put(leaf, rail % frame.rails, float(x[0] + share * (x[-1] - x[0])), force)
    closed = frame.closed(loads_on(frame, wheels)[None])
    found = Effects(frame, closed)
    opinion = second.moments()
    first = np.concatenate([found.moments(body)[0].reshape(-1, 2) for body in ("inner", "outer")])
    weight, length = sum(force for *_, force in wheels), float(frame.outer_mm[-1])
    assert first == pytest.approx(opinion, abs=AGREEMENT * np.abs(opinion).max() + FIRMNESS * weight * length)
    hinge, toe = second.reactions()
    assert found.hinge_n[0] == pytest.approx(hinge, abs=AGREEMENT * weight)
    assert found.toe_n[0] == pytest.approx(toe, abs=AGREEMENT * weight)


def sample(path: Path) -> Design:
    design = load_design(path)
    if path.stem == "too-steep":  # nothing holds its joint; a prop does
        design = replace(design, prop=replace(design.prop, fitted=True))
    return design


SAMPLES = pytest.mark.parametrize("path", first(2, sample_paths()), ids=lambda path: path.stem)


@SAMPLES
def test_worst_places_of_the_samples(path: Path) -> None:
    """Ground that slopes across is another case, and has its own test."""
    design = sample(path)
    frame, loads = grillage(design), all_loads(design, rule_sets_for(design, path.parent), (0.15, 0.0))
    carried = carry(design, frame, assemble(design).leaves_kg, loads, 0.0)
    for place in carried.worst:
        load = loads[place.load]
        if not isinstance(load, Rolling):
            continue
        second = Frame(design, frame, pushing=True)
        for axle in load.ways[place.way]:
            at = place.first_axle_mm + axle.offset_mm
            leaf = int(at > frame.inner_mm[-1] + 5e-7)
            for side in (-1, 1):
                y = place.across_mm + side * axle.track_mm / 2
                for rail, share in enumerate(by_lever_rule(frame.lanes_mm[leaf], y)):
                    if share and -1e-6 <= at <= frame.outer_mm[-1] + 1e-6:
                        second.put(leaf, rail, at, share * axle.force_n / 2)
        x = frame.outer_mm if place.leaf == "outer" else frame.inner_mm
        number = int(np.abs(x - place.section_mm).argmin())
        ends = second.moments().reshape(-1, 2)
        start = 0 if place.leaf == "inner" else frame.rails * (len(frame.inner_mm) - 1)
        of_rail = ends[start + (place.rail - 1) * (len(x) - 1) :][: len(x) - 1]
        beside = [*of_rail[max(0, number - 1) : number, 1], *of_rail[number : number + 1, 0]]
        assert max(beside) == pytest.approx(place.moment_nmm, rel=IN_USE)


def by_lever_rule(lanes: tuple[float, ...], y: float) -> list[float]:
    """Return the lever rule, by moments about the neighbouring lane."""
    pair = next((number for number in range(len(lanes) - 1) if y <= lanes[number + 1]), len(lanes) - 2)
    a, b = lanes[pair], lanes[pair + 1]
    found = [0.0] * len(lanes)
    found[pair], found[pair + 1] = (b - y) / (b - a), (y - a) / (b - a)
    return found


@SAMPLES
def test_wheels_on_the_samples(path: Path) -> None:
    design = sample(path)
    for wheels in ([(0, 0, 0.55, 1000.0)], [(1, 1, 0.3, 1500.0), (0, 2, 0.9, 700.0)], [(1, 0, 0.77, 900.0)]):
        agree(design, wheels)


WHEELS = st.lists(
    st.tuples(st.integers(0, 1), st.integers(0, 5), st.floats(0.02, 0.98), st.floats(100, 3000)),
    min_size=1,
    max_size=4,
)


@settings(max_examples=tries(20), suppress_health_check=[HealthCheck.filter_too_much])
@given(buildable_designs(), WHEELS)
def test_random_ramps(design: Design, wheels: list[tuple[int, int, float, float]]) -> None:
    agree(design, wheels)
