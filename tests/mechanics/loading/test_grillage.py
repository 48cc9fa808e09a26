"""The grillage: what holds it, what lets go, and what is found to hang on nothing."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from timber_ramp import timber_ramp
from tries import tries
from written_starter import all_given

from rampdraft.evaluation.evaluate import evaluate
from rampdraft.files.design_file import load_design
from rampdraft.files.samples import sample_paths
from rampdraft.mechanics.loading.contacts import _by_least_energy, openings
from rampdraft.mechanics.loading.frame import stations_mm, stop_contacts
from rampdraft.mechanics.loading.grillage import Effects, Grillage, grillage
from rampdraft.model.design import Design

STAGE = next(path for path in sample_paths() if path.stem == "barn-stage")


def effects(frame: Grillage, node: int, force: float = 1000.0) -> Effects:
    loads = np.zeros((1, frame.effects.shape[1]))
    loads[0, node] = force
    return Effects(frame, frame.bearing(loads))


@pytest.mark.parametrize("path", sample_paths(), ids=lambda path: path.stem)
def test_supports_carry_each_load_with_its_moment(path) -> None:
    """Statics: forces, and moments about the deck hinge."""
    design = load_design(path)
    frame = grillage(replace(design, prop=replace(design.prop, fitted=True)))
    x = np.repeat(np.concatenate((frame.inner_mm, frame.outer_mm)), frame.rails)
    for node in range(0, len(x), 3):
        found = effects(frame, node)
        hinge, prop, toe = found.hinge_n[0], found.props_n[0], found.toe_n[0]
        assert hinge.sum() + prop.sum() + toe.sum() == pytest.approx(1000)
        along = prop.sum() * frame.inner_mm[-1] + toe.sum() * frame.outer_mm[-1]
        assert along == pytest.approx(1000 * x[node], abs=1.0)
        assert prop.min() >= -1e-6
        assert toe.min() >= -1e-6


def test_a_corner_of_the_toe_lets_go() -> None:
    """A load over an outer rail lifts the far corner, where closed contacts would hold it down."""
    frame = grillage(load_design(STAGE))
    closed = Effects(frame, frame.closed(1000.0 * np.eye(frame.effects.shape[1])))
    node = int(closed.toe_n.min(axis=1).argmin())
    assert closed.toe_n[node].min() < -10
    found = effects(frame, node)
    assert found.toe_n[0].min() == pytest.approx(0, abs=1e-6)


def test_a_stage_without_cross_members_is_a_mechanism() -> None:
    """Its middle rails stand on no prop: without cross members nothing holds them at the joint."""
    design = all_given(load_design(STAGE))
    bare = replace(
        design,
        inner_leaf=replace(design.inner_leaf, cross_positions_mm=()),
        outer_leaf=replace(design.outer_leaf, cross_positions_mm=()),
    )
    assert evaluate(design, STAGE.parent).carried.loose == ()
    found = evaluate(bare, STAGE.parent)
    assert found.carried.loose == (("inner", 2), ("outer", 2))
    (check,) = (one for one in found.checks if one.id == "own/no-mechanism")
    assert check.status.name == "EXCEEDS"
    assert "rail 2 of the inner leaf" in check.why
    assert not any(one.id.startswith("own/strength/inner-rails") and one.value for one in found.checks)


def test_few_cross_members_far_from_the_joint_are_overloaded_by_sharing() -> None:
    """What the wheel itself bends them (46 %) is not all: rails without a prop hang on them."""
    design = all_given(load_design(STAGE))
    few = replace(
        design,
        inner_leaf=replace(design.inner_leaf, cross_positions_mm=(220.0, 740.0)),
        outer_leaf=replace(design.outer_leaf, cross_positions_mm=(1240.0, 1760.0)),
    )
    found = {one.id: one.value for one in evaluate(few, STAGE.parent).checks}
    whole = {one.id: one.value for one in evaluate(design, STAGE.parent).checks}
    worst = max(found[f"own/strength/{leaf}-sharing"] for leaf in ("inner", "outer"))
    assert worst > 1.2
    assert worst > 1.5 * max(whole[f"own/strength/{leaf}-sharing"] for leaf in ("inner", "outer"))


def test_timber_between_rails_shares_nothing() -> None:
    design = timber_ramp()
    apart = replace(design, made_of=replace(design.made_of, cross_members="timber C24"))
    leaf = replace(apart.inner_leaf, cross_fitting="between")
    frame = grillage(
        replace(apart, inner_leaf=leaf, outer_leaf=replace(apart.outer_leaf, cross_fitting="between"))
    )
    assert all(frame.place(f"{body} crosses")[1][0] == 0 for body in ("inner", "outer"))
    found = effects(frame, 3 * frame.rails)  # on the first rail of the inner leaf
    moments = found.moments("inner")[0].max(axis=(1, 2))
    assert moments[0] > 20 * moments[2]


MATRIX = st.lists(st.floats(-1, 1), min_size=25, max_size=25)


@settings(max_examples=tries(80))
@given(MATRIX, st.lists(st.floats(-10, 10), min_size=15, max_size=15))
def test_openings_let_nothing_pull_and_nothing_open_press(values: list[float], pulls: list[float]) -> None:
    """All that a complementarity problem asks; with a positive matrix one answer alone fulfils it."""
    root = np.array(values).reshape(5, 5)
    changes = root @ root.T + 0.05 * np.eye(5)
    forces = np.array(pulls).reshape(3, 5)
    one_by_one = np.array([_by_least_energy(force, changes, 1e-12) for force in forces])
    for found in (openings(forces, changes, np.full((3, 1), 1e-12)), one_by_one):
        left = forces + found @ changes
        assert found.min() >= 0
        assert left.min() > -1e-6
        assert (left * found).sum(axis=1) == pytest.approx(0, abs=1e-5)


@pytest.mark.parametrize("seed", range(8))
def test_openings_end_where_rounding_makes_changes_negative(seed: int) -> None:
    """Many stops beside each other, which nothing but rounding tells apart: this went on for minutes."""
    random = np.random.default_rng(seed)
    root = random.normal(size=(10, 6))
    noise = random.normal(size=(10, 10)) * 1e-7
    changes = root @ root.T + noise + noise.T
    forces = root @ random.normal(size=6) + 1e-7 * random.normal(size=10)
    found = openings(forces[None], changes, np.full((1, 1), 1e-10))[0]
    left = forces + found @ changes
    assert found.min() >= 0
    assert left.min() > -1e-4
    assert float(left @ found) == pytest.approx(0, abs=1e-3)


@pytest.mark.parametrize("seed", range(4))
def test_openings_do_not_hang_on_the_last_digit(seed: int) -> None:
    random = np.random.default_rng(seed)
    root = random.normal(size=(6, 6))
    changes = root @ root.T + 0.1 * np.eye(6)
    forces = random.normal(size=(50, 6))
    forces[:, 2] = 0.0
    plain = openings(forces, changes, np.full((50, 1), 1e-9))
    disturbed = openings(
        forces * (1 + 1e-14 * random.uniform(-1, 1, forces.shape)), changes, np.full((50, 1), 1e-9)
    )
    assert disturbed == pytest.approx(plain, abs=1e-9)


def test_ground_that_slopes_across_puts_more_on_one_corner() -> None:
    path = next(path for path in sample_paths() if path.stem == "library-trailer")
    design = load_design(path)
    level = replace(design, sites=tuple(replace(site, cross_slope_percent=0.0) for site in design.sites))
    sloping = replace(design, sites=tuple(replace(site, cross_slope_percent=2.0) for site in design.sites))
    even, tilted = (evaluate(one, path.parent).carried for one in (level, sloping))
    assert tilted.toe_rails_n.max() > 1.1 * even.toe_rails_n.max()
    assert (tilted.outer.moment_nmm >= even.outer.moment_nmm - 1e-6).all()


def wider_outer(design: Design) -> Design:
    return replace(design, outer_leaf=replace(design.outer_leaf, width_mm=design.outer_leaf.width_mm + 60))


def test_wheels_at_the_edge_of_a_wider_leaf_load_its_outer_rails_more() -> None:
    design = timber_ramp()
    wide = wider_outer(design)
    one, other = (evaluate(each).carried.outer.moment_nmm[:, (0, -1)].max() for each in (design, wide))
    assert other > 1.02 * one


def test_props_that_stand_short_let_the_joint_down_by_so_much_and_load_each_other() -> None:
    design = load_design(STAGE)
    short = replace(design, prop=replace(design.prop, slack_mm=12.0))
    one, other = (evaluate(each, STAGE.parent).carried for each in (design, short))
    assert one.sag is not None
    assert other.sag is not None
    assert other.sag.play_mm.max() - one.sag.play_mm.max() == pytest.approx(12)
    assert other.crosses[1].moment_nmm.max() > 1.1 * one.crosses[1].moment_nmm.max()


def test_a_leg_that_is_set_to_length_by_no_pin_has_the_length_it_is_cut_to() -> None:
    design = load_design(STAGE)
    bare = replace(design, prop=replace(design.prop, pin_diameter_mm=0.0))
    found = {check.id: check for check in evaluate(bare, STAGE.parent).checks}
    assert found["own/prop/site-1-empty"].fails
    fixed = replace(bare, prop=replace(bare.prop, shortest_mm=bare.prop.longest_mm))
    for one in (bare, fixed):
        assert "own/strength/prop-pin" not in {check.id for check in evaluate(one, STAGE.parent).checks}


@pytest.mark.parametrize(
    ("wide_mm", "parts"),
    [
        (20.0, {0: 128 / 492, 1: 364 / 492}),  # between pairs in the middle of 364 mm left and 128 mm right
        (210.0, {0: 128 / 492, 1: 364 / 492}),
        (212.0, {1: 1.0}),  # it just touches the pair
        (214.0, {1: 1.0}),
        (684.0, {0: 0.5, 1: 0.5}),
        (690.0, {0: 0.5, 1: 0.5}),
        (900.0, {0: 1 / 3, 1: 1 / 3, 2: 1 / 3}),
    ],
)
def test_a_stop_bar_bears_where_it_reaches_or_is_shared_by_the_pairs_beside_it(wide_mm, parts) -> None:
    design = timber_ramp()
    bar = replace(design.stop, kind="lap", count=1, section=replace(design.stop.section, width_mm=wide_mm))
    one = replace(
        design,
        stop=bar,
        inner_leaf=replace(design.inner_leaf, rail_lanes_mm=(-386.0, 150.0, 390.0)),
        outer_leaf=replace(design.outer_leaf, rail_lanes_mm=(-342.0, 106.0, 346.0)),
    )
    taken = np.zeros(3)
    for number, part, shares in stop_contacts(one):
        assert number == 0
        taken += part * shares
    assert taken == pytest.approx([parts.get(pair, 0.0) for pair in range(3)])


@pytest.mark.parametrize("name", ["library-trailer", "reed-ferry"])
def test_a_load_on_the_other_side_has_the_mirrored_effects(name) -> None:
    """Of ramps whose sides are alike: what is told of one half holds for the other."""
    frame = grillage(load_design(next(path for path in sample_paths() if path.stem == name)))
    count, rails = frame.effects.shape[1], frame.rails
    mirrored = np.arange(count).reshape(-1, rails)[:, ::-1].ravel()
    loads = 1000.0 * np.eye(count)
    found = frame.bearing(loads)
    other = frame.bearing(loads[mirrored])
    scale = np.abs(found).max()
    assert other == pytest.approx(found[:, frame.mirrored], abs=1e-6 * scale)
    assert np.abs(other - found).max() > 0.1 * scale


@pytest.mark.parametrize("kind", ["plain", "taper"])
def test_stations_are_at_ends_and_cross_members_and_close_together_on_a_taper(kind) -> None:
    """Rails 40 deep on an outer leaf of 1300; M / W is most 100 from the tip, where 10 have become 20."""
    design = timber_ramp()
    toe = replace(design.toe, kind=kind, length_mm=300.0, thickness_mm=10.0)
    inner, outer = stations_mm(replace(design, toe=toe))
    assert (inner[0], inner[-1], outer[0], outer[-1]) == (0.0, 1350.0, 1350.0, 2650.0)
    assert set(design.inner_leaf.cross_positions_mm) <= set(inner.tolist())
    assert {1350.0 + at for at in design.outer_leaf.cross_positions_mm} <= set(outer.tolist())
    on_taper = [at for at in outer.tolist() if at > 2349.9]
    if kind == "taper":
        assert on_taper == pytest.approx([2350, 2425, 2480, 2500, 2550, 2575, 2650])
    else:
        assert len(on_taper) < 5
    assert np.diff(inner).max() <= 2650 / 12 + 1e-9
    assert np.diff(outer).max() <= 2650 / 12 + 1e-9
