"""The deck sinks under whoever rolls: how far at each place of the way, and what is told with it."""

from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest

from rampdraft.evaluation.evaluate import Evaluation, evaluate
from rampdraft.export.json_rolling import rolling_report
from rampdraft.files.design_file import load_design
from rampdraft.files.samples import sample_paths
from rampdraft.mechanics.carrier.sinking import sunk_along
from rampdraft.mechanics.loading.loads import mass_centre_mm
from rampdraft.mechanics.rolled import AlongSite
from rampdraft.mechanics.rolling import sinking as module
from rampdraft.mechanics.rolling.results import Roll
from rampdraft.mechanics.rolling.roll import roll
from rampdraft.mechanics.rolling.sinking import DROP_STEP_MM, MOST_STEPS, Sunk, roll_sinking
from rampdraft.mechanics.rolling.surfaces import Surfaces
from rampdraft.mechanics.standing.standing import stand_at
from rampdraft.model.design import Support
from rampdraft.model.fields.paths import with_value
from rampdraft.model.rolling_shape import of_class
from rampdraft.units import G_M_S2

RATES, BACKS = np.array((80.0, 60.0)), np.array((1200.0, 3600.0))
"""Both wheels together, and the nose."""
SPRINGS = (
    Support(name="left wheel", kind="spring", back_mm=1200, across_mm=700, rate_n_mm=40, bump_mm=300),
    Support(name="right wheel", kind="spring", back_mm=1200, across_mm=-700, rate_n_mm=40, bump_mm=300),
    Support(name="nose", kind="spring", back_mm=3600, across_mm=0, rate_n_mm=60, bump_mm=300),
)


@pytest.fixture(scope="module")
def soft() -> Evaluation:
    """A trailer whose deck edge sinks by some 80 mm under 300 kg."""
    path = next(one for one in sample_paths() if one.stem == "library-trailer")
    design = load_design(path)
    body = replace(design.carrier_body, cargo_kg=0.0, body_kg=2000.0, body_back_mm=2000.0, ballast_kg=0.0)
    chair = replace(of_class("Chair", "powered wheelchair"), mass_kg=300.0, attendant_kg=0.0)
    design = replace(design, supports=SPRINGS, carrier_body=body, sites=design.sites[:1])
    return evaluate(with_value(design, "use.users", (chair,)), path.parent)


def edge_sinks(*weights: tuple[float, float]) -> tuple[float, float]:
    """Return how far the edge sinks, mm, and by how much the deck slopes down towards it, rad, under forces,
    N, so many mm back: a rigid bar on two springs, [sum k, sum k b; sum k b, sum k b2] of (sinking at the
    edge, more of it a mm back).
    """
    stiff = np.array([[RATES.sum(), RATES @ BACKS], [RATES @ BACKS, RATES @ BACKS**2]])
    force = np.array([sum(n for n, _ in weights), sum(n * back for n, back in weights)])
    sinks, more = np.linalg.solve(stiff, force).tolist()
    return sinks, -more


def sinking(evaluation: Evaluation, facing: str) -> Roll:
    (found,) = [
        one
        for one in evaluation.rolling
        if isinstance(one, Roll) and one.state == "sinking" and one.facing == facing
    ]
    return found


def by_hand(evaluation: Evaluation, front_mm: float, *, forwards: bool) -> tuple[float, float]:
    """Return how far the edge sinks and the deck nods with the front axle at a place: level force on each
    axle, moved to the lower one by W h grade / b as far as both are on the slope; the lever rule between
    hinge and toe.
    """
    design, empty = evaluation.design, evaluation.empty[0]
    (user,) = design.use.users
    weight, base = G_M_S2 * user.mass_kg, user.wheelbase_mm
    hinge, toe = design.deck_hinge.out_mm, empty.contact[0]
    length = design.inner_leaf.length_mm + design.outer_leaf.length_mm
    front = user.front_share_percent / 100
    upper = (front_mm if forwards else front_mm - base) - hinge
    upper *= length / (toe - hinge) if upper > 0 else 1.0  # from here on along the ramp, from its hinge
    lower = upper + base
    on_slope = min(max(lower, 0.0), base) / base if upper < 0 else 1.0
    moved = on_slope * empty.whole.ratio * mass_centre_mm(user) / base
    shares = (front, 1 - front) if forwards else (1 - front, front)
    weights = [
        (weight * share * (min(max(1 - at / length, 0.0), 1.0) if at > 0 else 1.0), -min(at, 0.0) - hinge)
        for at, share in ((upper, shares[0] - moved), (lower, shares[1] + moved))
    ]
    return edge_sinks(*weights)


@pytest.mark.parametrize("facing", ["deck", "away"])
def test_the_edge_sinks_as_the_weight_comes_onto_the_deck(soft: Evaluation, facing) -> None:
    forwards, (empty,) = facing == "deck", soft.empty
    behind = 0.0 if forwards else soft.design.use.users[0].wheelbase_mm
    front = np.array((-100.0, 40.0, 600.0, 1200.0, 1700.0)) + behind
    found = sunk_along(soft.design, soft.at_rest, 1, empty, front, forwards=forwards)
    assert found is not None
    expected, nods = zip(*[by_hand(soft, x, forwards=forwards) for x in front.tolist()], strict=True)
    assert found[0] == pytest.approx(expected, abs=1e-6)
    assert found[1] == pytest.approx(nods, abs=1e-9)
    assert max(expected) > 80 > 3 * expected[-1] > 0
    assert max(nods) > 0.02


@pytest.mark.parametrize("facing", ["deck", "away"])
def test_each_place_is_told_of_the_ramp_as_it_lies_then(soft: Evaluation, facing) -> None:
    """Half way the deck is half sunk: pitch and push there are neither those of the empty deck nor of the
    loaded one, but of the ramp stood on a deck that has sunk as far as the sum by hand says.
    """
    found, design = sinking(soft, facing), soft.design
    assert np.diff(found.front_mm) == pytest.approx(2.0)
    assert len(found.drop_mm) == len(found.pitch_rad) == len(found.forwards_n) == len(found.front_mm)
    forwards = facing == "deck"
    behind = 0.0 if forwards else design.use.users[0].wheelbase_mm
    step = max(DROP_STEP_MM, float(np.ptp(found.drop_mm)) / (MOST_STEPS - 1))
    for wanted in (300.0, 800.0, 1300.0):
        at = int(np.abs(found.front_mm - wanted - behind).argmin())
        drop, _ = by_hand(soft, float(found.front_mm[at]), forwards=forwards)
        assert found.drop_mm[at] == pytest.approx(drop, abs=step / 2 + 2.0)
        pose = stand_at(design, soft.straight, design.sites[0], 1, drop)
        along = AlongSite(design, 1, pose, Surfaces(design, soft.assembly, pose), found.facing)
        pitch = along.at(float(found.front_mm[at])).pitch_rad
        assert found.pitch_rad[at] == pytest.approx(pitch, abs=0.003)
        for state in ("empty", "loaded"):
            other = soft.site_pose(1, state)
            bound = AlongSite(design, 1, other, Surfaces(design, soft.assembly, other), found.facing)
            assert abs(bound.at(float(found.front_mm[at])).pitch_rad - pitch) > 0.006


def test_what_is_worst_is_told_of_its_stretch(soft: Evaluation) -> None:
    for facing in ("deck", "away"):
        found = sinking(soft, facing)
        assert 5 < len(found.stretches) <= 40
        here = found.about(found.lowest.front_mm)
        pose = here.pose
        own = roll(soft.design, 1, pose, Surfaces(soft.design, soft.assembly, pose), found.facing)
        at = int(np.abs(own.front_mm - found.lowest.front_mm).argmin())
        assert found.lowest.value <= own.clearance_mm[at] + 0.05
        assert found.clearance.value <= found.clearance_mm.min() + 1e-9
        assert max(abs(found.forwards_n)) <= max(abs(way.push.value) for way in found.ways) + 1e-6 or (
            max(abs(found.forwards_n)) <= max(way.brake.value for way in found.ways) + 1e-6
        )


@pytest.mark.parametrize("facing", ["deck", "away"])
def test_what_the_deck_sinks_is_not_climbed(soft: Evaluation, facing) -> None:
    """Work over weight is the height climbed: more than what is between both ends, by what the springs hold,
    which is half of weight times what the deck sinks below the mass centre.
    """
    found, (user,) = sinking(soft, facing), soft.design.use.users
    lift = (found.forwards_n - found.backwards_n) / 2 * (1 if facing == "away" else -1)
    work = float(np.sum((lift[1:] + lift[:-1]) / 2 * np.diff(found.middle_mm)))
    climbed = found.climbed_mm[0] - found.climbed_mm[-1]
    assert -work / (G_M_S2 * user.mass_kg) == pytest.approx(climbed, abs=2)
    sunk = Sunk(soft.design, soft.assembly, soft.straight, soft.at_rest, soft.props_set)
    ends = [
        roll(soft.design, 1, *sunk.at(1, pose.drop_mm, pose.nod_rad), found.facing).climbed_mm[at]
        for at, pose in ((0, found.stretches[0].pose), (-1, found.stretches[-1].pose))
    ]
    x = float(found.front_mm[0])
    drop, nod = by_hand(soft, x, forwards=facing == "deck")
    behind = 300.0 * (1 if facing == "deck" else -1)
    assert climbed == pytest.approx(ends[0] - ends[1] + (drop + nod * (x + behind)) / 2, abs=4)


@pytest.mark.parametrize(("facing", "sign"), [("deck", 1.0), ("away", -1.0)])
def test_on_the_deck_a_user_leans_as_the_deck_nods(soft: Evaluation, facing, sign: float) -> None:
    found = sinking(soft, facing)
    for front in (-930.0, -850.0) if facing == "deck" else (-490.0, -430.0):
        at = int(np.abs(found.front_mm - front).argmin())
        _, nod = by_hand(soft, float(found.front_mm[at]), forwards=facing == "deck")
        assert nod > 0.02
        assert found.pitch_rad[at] == pytest.approx(sign * nod, abs=0.003)
        (wheel, *_) = found.about(float(found.front_mm[at])).wheels
        (x0, z0), (x1, z1) = wheel.surface.points_mm[1:3].tolist()
        assert (z0 - z1) / (x1 - x0) == pytest.approx(nod, abs=0.003)


@pytest.mark.parametrize("facing", ["deck", "away"])
def test_stretches_that_lie_alike_are_one_way(soft: Evaluation, facing, monkeypatch) -> None:
    """Cut where nothing changes, all is told as of the whole way: what a wheel lacks in grip too, which is
    carried from one stretch to the next.
    """

    def alike(at, *_):
        for first, last in pairwise([int(at[0]), *at[7:-5:23].tolist(), int(at[-1])]):
            yield module._Level(first=first, last=last, drop_mm=0.0, nod_rad=0.0)

    monkeypatch.setattr(module, "_levels", alike)
    slippery = soft.following(with_value(soft.design, "use.wet_grip", 8.0))
    sunk = Sunk(slippery.design, slippery.assembly, slippery.straight, slippery.at_rest, slippery.props_set)
    cut = roll_sinking(sunk, 1, slippery.empty[0], facing)
    whole = roll(slippery.design, 1, *sunk.at(1, 0.0), facing)
    assert cut is not None
    assert len(cut.stretches) > 5
    count = min(len(cut.front_mm), len(whole.front_mm))
    for name in (
        "front_mm", "pitch_rad", "clearance_mm", "forwards_n", "tip_back_rad", "climbed_mm", "middle_mm"
    ):  # fmt: skip
        one, other = (getattr(each, name)[:: 1 if facing == "deck" else -1][:count] for each in (cut, whole))
        assert one == pytest.approx(other, abs=1e-6, rel=1e-6), name
    lacks = 0.0
    for one, other in zip(cut.ways, whole.ways, strict=True):
        for name in ("push", "brake", "bump", "slowed", "grip", "run_up", "slide"):
            values = [getattr(way, name).value for way in (one, other)]
            assert values[0] == pytest.approx(values[1], rel=1e-3, abs=1e-6), name
        lacks = max(lacks, other.run_up.value, other.slide.value)
    assert lacks > 0.5
    assert cut.lowest.value == pytest.approx(whole.lowest.value, abs=0.02)


def test_part_of_the_way_is_told_as_in_the_whole(soft: Evaluation) -> None:
    """A way out is sought near the worst place alone: the stretches there are those of the whole way."""
    sunk = Sunk(soft.design, soft.assembly, soft.straight, soft.at_rest, soft.props_set)
    for facing in ("deck", "away"):
        whole = sinking(soft, facing)
        front = whole.lowest.front_mm
        near = roll_sinking(sunk, 1, soft.empty[0], facing, (front - 400, front + 400))
        assert near is not None
        assert len(near.front_mm) < len(whole.front_mm) / 3
        assert near.lowest.value == pytest.approx(whole.lowest.value, abs=0.02)


def test_the_report_tells_how_far_it_has_sunk_at_each_place(soft: Evaluation) -> None:
    rows = rolling_report(soft)["rolling"]
    assert [row["deck"] for row in rows] == ["empty"] * 4 + ["sinking"] * 4 + ["loaded"] * 4
    row = rows[4]
    assert len(row["deck_drop_mm"]) == len(row["front_mm"])
    assert len({wheel["deck_drop_mm"] for wheel in row["wheels"]}) > 5
    assert max(row["deck_nod_deg"]) == max(wheel["deck_nod_deg"] for wheel in row["wheels"]) > 1.0
    assert set(row["deck_drop_mm"]) <= {wheel["deck_drop_mm"] for wheel in row["wheels"]}
    assert set(rows[0]["deck_drop_mm"]) == {0.0}


def test_a_carrier_whose_drop_is_typed_is_rolled_over_empty_and_loaded() -> None:
    path = next(one for one in sample_paths() if one.stem == "reed-ferry")
    found = evaluate(load_design(path), path.parent)
    assert found.design.supports == ()
    assert {one.state for one in found.rolling if isinstance(one, Roll)} == {"empty", "loaded"}
