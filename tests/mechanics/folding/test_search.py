"""The search on maps that are drawn by hand: a wall with one way through."""

import math
from dataclasses import replace
from itertools import pairwise

import networkx as nx
import numpy as np
import pytest
from buildable_folds import standing

from rampdraft.geometry.linkage import Pose
from rampdraft.mechanics.folding.clearance_map import ClearanceMap, clearance_map
from rampdraft.mechanics.folding.search import (
    _arms,
    _cheapest_way,
    _price,
    _straightened,
    keeps,
    widest_mm,
)
from rampdraft.mechanics.handling.lifting import weighed_linkage
from rampdraft.model.design import NO_ASSIST, Handle

STEP = 0.1
AXIS = STEP * np.arange(21)
START, END = Pose(AXIS[2], AXIS[3]), Pose(AXIS[18], AXIS[17])


def walled(*, gap_mm: float, at: int = 12, wall_mm: float = 1.0) -> ClearanceMap:
    """Return a map with 10 mm everywhere but on a wall across it, three poses thick, which has one gap."""
    clearance = np.full((21, 21), 10.0)
    clearance[9:12, :] = wall_mm
    clearance[9:12, at] = gap_mm
    return ClearanceMap(inner_rad=AXIS, fold_rad=AXIS, clearance_mm=clearance)


@pytest.mark.parametrize("gap_mm", [-3.0, 1.5, 4.0, 12.0])
def test_the_widest_way_is_as_wide_as_its_tightest_place(gap_mm: float):
    widest = min(10.0, max(1.0, gap_mm))
    for at in (0, 12, 20):
        surface = walled(gap_mm=gap_mm, at=at)
        assert widest_mm(surface, START, END) == widest_mm(surface, END, START) == widest
        assert keeps(surface, START, END, widest)
        assert not keeps(surface, START, END, widest + 0.01)


def test_a_map_that_is_alike_everywhere():
    surface = walled(gap_mm=10.0, wall_mm=10.0)
    assert widest_mm(surface, START, END) == 10.0
    assert not keeps(surface, START, END, 10.01)


@pytest.mark.parametrize(("steps", "joined"), [(3, True), (4, False)])
def test_a_pose_beside_the_map_s_free_ones_is_joined_to_them(steps: int, joined: bool):
    """The deployed pose stands on the ground, where the map may have a clash; a free one is near."""
    surface = walled(gap_mm=10.0)
    clearance = np.array(surface.clearance_mm)
    i, j = np.meshgrid(np.arange(21), np.arange(21), indexing="ij")
    clearance[np.hypot(i - 2, j - 3) < steps - 1e-9] = -5.0
    clash = ClearanceMap(inner_rad=AXIS, fold_rad=AXIS, clearance_mm=clearance)
    assert keeps(clash, START, END, 10.0) is joined
    assert math.isclose(widest_mm(clash, START, END), 10.0 if joined else -5.0)


def price_of(kind: str) -> np.ndarray:
    """Return what a radian costs in each pose: the same, or a ridge that is dear to cross but at one end."""
    i, j = np.meshgrid(np.arange(21), np.arange(21), indexing="ij")
    return (
        np.full((21, 21), 30.0) if kind == "even" else 20.0 + 400.0 * np.exp(-((i - 5) ** 2) / 4) * (j < 15)
    )


def least_cost(surface: ClearanceMap, price: np.ndarray, start: Pose, end: Pose) -> float:
    """Return the cost of the cheapest way by networkx: edges cost their length times the mean price of both
    poses, and the ends are joined to what is within three and a half steps.
    """
    graph, free = nx.Graph(), np.argwhere(surface.clearance_mm >= 1.5)
    for i, j in free:
        graph.add_node((i, j))
    for i, j in free:
        for di, dj in ((0, 1), (1, 0), (1, 1), (1, -1), (1, 2), (2, 1), (1, -2), (2, -1)):
            other = (i + di, j + dj)
            if other in graph:
                mean = (price[i, j] + price[other]) / 2
                graph.add_edge((i, j), other, weight=mean * math.hypot(di, dj) * STEP)
    for name, pose in (("start", start), ("end", end)):
        for i, j in free:
            away = math.hypot(AXIS[i] - pose.inner_rad, AXIS[j] - pose.fold_rad)
            if away <= 3.5 * STEP:
                graph.add_edge(name, (i, j), weight=max(away, STEP / 100) * price[i, j])
    return float(nx.dijkstra_path_length(graph, "start", "end"))


def cost_of(way: np.ndarray, price: np.ndarray) -> float:
    """Return the cost of a way over poses of the map, its ends beside it."""
    places = np.rint(way[1:-1] / STEP).astype(int)
    worth = price[places[:, 0], places[:, 1]]
    steps = np.hypot(*np.diff(way[1:-1], axis=0).T)
    ends = [max(math.hypot(*(way[k] - way[k - s])), STEP / 100) for k, s in ((1, 1), (-2, -1))]
    return float(((worth[1:] + worth[:-1]) / 2 * steps).sum() + ends[0] * worth[0] + ends[1] * worth[-1])


@pytest.mark.parametrize("kind", ["even", "ridge"])
@pytest.mark.parametrize("at", [0, 12])
def test_the_way_over_the_map_is_the_cheapest_there_is(kind: str, at: int):
    surface, price = walled(gap_mm=3.0, at=at), price_of(kind)
    start, end = Pose(AXIS[2] + 0.03, AXIS[3] - 0.02), Pose(AXIS[18] - 0.04, AXIS[17])
    way = _cheapest_way(surface, price, 1.5, start, end)
    assert way is not None
    assert way[0].tolist() == [start.inner_rad, start.fold_rad]
    assert way[-1].tolist() == [end.inner_rad, end.fold_rad]
    assert math.hypot(*(way[1] - way[0])) <= 3.5 * STEP
    assert cost_of(way, price) == pytest.approx(least_cost(surface, price, start, end))
    assert _cheapest_way(surface, price, 3.1, start, end) is None


@pytest.mark.parametrize("at", [0, 12, 18])
def test_a_way_made_straight_has_few_corners_and_keeps_what_it_must(at: int):
    surface, price = walled(gap_mm=3.0, at=at), price_of("even")
    way = _cheapest_way(surface, price, 1.5, START, END)
    assert way is not None
    straight = _straightened(surface, price, way, 1.5)
    assert straight[0].tolist() == way[0].tolist()
    assert straight[-1].tolist() == way[-1].tolist()
    assert 3 <= len(straight) <= 6 < len(way)
    for a, b in pairwise(straight):
        for share in np.linspace(0, 1, 25):
            i, j = np.rint((a + share * (b - a)) / STEP).astype(int)
            assert not 9 <= i <= 11 or abs(j - at) <= 1  # through the gap
    longer = sum(math.hypot(*(b - a)) for a, b in pairwise(straight))
    assert longer <= sum(math.hypot(*(b - a)) for a, b in pairwise(way)) + 1e-9


def test_a_prop_makes_poses_cheap_in_which_the_inner_leaf_lies_on_it():
    design, assembly, site, deployed = standing("orchard-trolley")
    assert design.prop.fitted
    surface = clearance_map(design, assembly, site, deployed.inner_rad, points=61)
    bare = replace(design, prop=replace(design.prop, fitted=False))
    with_prop, without = (_price(one, assembly, site, surface, deployed) for one in (design, bare))
    cheaper = (with_prop < without - 1e-9).any(axis=1)
    step = surface.inner_rad[1] - surface.inner_rad[0]
    near = np.abs(surface.inner_rad - deployed.inner_rad) < 1.5 * step
    assert cheaper.any()
    assert not (cheaper & ~near).any()
    assert (with_prop <= without + 1e-9).all()


def test_the_price_is_effort_that_grows_with_its_cube():
    """20 N for any movement, e, and 150 (e / 150)^3: of ramps once and twice as heavy, e and 2 e."""
    design, assembly, site, deployed = standing("barn-stage")
    design = replace(design, assist=NO_ASSIST)
    surface = clearance_map(design, assembly, site, deployed.inner_rad, points=31)
    twice = replace(
        assembly,
        inner=replace(assembly.inner, mass_kg=2 * assembly.inner.mass_kg),
        outer=replace(assembly.outer, mass_kg=2 * assembly.outer.mass_kg),
    )
    one, two = (_price(design, each, site, surface, deployed) - 20.0 for each in (assembly, twice))
    cubed = (two - 2 * one) / 6
    effort = one - cubed
    assert effort.max() > 300
    assert cubed == pytest.approx(150 * (effort / 150) ** 3)


def test_hands_take_the_longest_arm_of_their_own_leaf():
    design, assembly, _, _ = standing("starter")
    weighed, still = weighed_linkage(design, assembly), np.zeros(1)
    joint_mm = math.hypot(design.inner_leaf.length_mm, -design.deck_hinge.height_mm)
    arm, _ = _arms(weighed, design, still, still)
    assert arm == pytest.approx(joint_mm)
    handles = tuple(
        Handle(name=name, leaf=leaf, at_mm=at, above_mm=0.0)
        for name, leaf, at in (("a", "inner", 400.0), ("b", "inner", 700.0), ("c", "outer", 1100.0))
    )
    arm, (with_inner, with_fold) = _arms(weighed, replace(design, handles=handles), still, still)
    assert arm == pytest.approx(math.hypot(700.0, -design.deck_hinge.height_mm))
    assert abs(with_fold[0]) == pytest.approx(math.hypot(1100.0, -design.joint.height_mm))
    assert abs(with_inner[0]) > abs(with_fold[0])
