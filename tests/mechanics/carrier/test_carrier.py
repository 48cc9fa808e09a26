"""The carrier on its supports: equilibrium, stops, tipping, twist, and what cures it."""

from dataclasses import replace
from functools import cache
from itertools import product

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from timber_ramp import timber_ramp

from rampdraft.errors import DesignError
from rampdraft.explore.carrier_cures import cures, placed, with_ballast, with_rates
from rampdraft.geometry.members.assembly import assemble
from rampdraft.mechanics.carrier.results import CannotStand, Standing
from rampdraft.mechanics.carrier.standing import (
    carrier_standing,
    climbers,
    loaded_drop_mm,
    tipping_line,
    twist_share,
    weights_of,
)
from rampdraft.mechanics.carrier.supports import RIGID_N_MM, Laws, balance, outline, places_of
from rampdraft.mechanics.loading.loads import axles_of
from rampdraft.model.design import Design, Support
from rampdraft.units import G_M_S2

CORNERS = (
    ("near left", 250.0, 300.0),
    ("near right", 250.0, -300.0),
    ("far left", 1350.0, 300.0),
    ("far right", 1350.0, -300.0),
)

LEVEL = (0.0,)
"""Grades: axles share as on the level."""


@cache
def assembly():
    return assemble(timber_ramp())


def wheels(rate: float = 60.0, **more: float) -> tuple[Support, ...]:
    values = {"bump_mm": 80.0, "extension_mm": 60.0, "unsprung_kg": 10.0} | more
    return tuple(
        Support(name=name, kind="spring", back_mm=back, across_mm=across, rate_n_mm=rate, **values)  # pyright: ignore
        for name, back, across in CORNERS
    )


def trolley(supports: tuple[Support, ...] | None = None, **body: float) -> Design:
    start = timber_ramp()
    values = {"body_kg": 300.0, "body_back_mm": 900.0, "twist_mm": 10.0} | body
    return replace(
        start,
        carrier=replace(start.carrier, deck_length_mm=1600.0),
        supports=wheels() if supports is None else supports,
        carrier_body=replace(start.carrier_body, **values),  # pyright: ignore
    )


def stood(design: Design) -> Standing:
    found = carrier_standing(design, assembly(), LEVEL)
    assert isinstance(found, Standing)
    return found


def laws_of(rows: list[tuple[float, float, float, float, float, float, float]]) -> Laws:
    """Return laws from rows (x mm, y mm, rate, push, bump, extension, least)."""
    x, y, rate, push, bump, extension, least = np.array(rows, dtype=float).T
    return Laws(places=places_of(x, y), rate=rate, push=push, bump=bump, extension=extension, least=least)


def plain_push(row: tuple[float, ...], sunk: float) -> float:
    """The law of one support in plain words, with nothing of the program's arrays in it."""
    _, _, rate, push, bump, extension, least = row
    force = max(0.0, push + rate * sunk)
    if sunk > bump:
        force += RIGID_N_MM * (sunk - bump)
    if sunk < -extension:
        force -= RIGID_N_MM * (-extension - sunk)
    return max(force, least)


PLACE = st.floats(-2000, 2000)
ROW = st.tuples(
    PLACE,
    PLACE,
    st.floats(1, 500),
    st.floats(-2000, 2000),
    st.floats(1, 80),
    st.floats(1, 80),
    st.floats(-300, 0),
)
RIGID_ROW = st.tuples(PLACE, PLACE, st.just(RIGID_N_MM), st.floats(-30, 0).map(lambda gap: RIGID_N_MM * gap),
                      st.just(np.inf), st.just(np.inf), st.just(0.0))  # fmt: skip


def corners_spread(rows: list[tuple[float, ...]], parts: list[float]) -> tuple[float, float] | None:
    """Return a place well inside the outline: a mean of the supports' places with no weight small; None for
    thin outlines.
    """
    area = outline(tuple((row[0], row[1]) for row in rows))
    if area is None:
        return None
    x, y = (
        sum(part * row[axis] for part, row in zip(parts, rows, strict=True)) / sum(parts) for axis in (0, 1)
    )
    return (x, y) if area.inside_mm(np.array((x, y))).min() > 50 else None


@given(st.lists(ROW | RIGID_ROW, min_size=3, max_size=7), st.data(), st.floats(10, 30000))
def test_forces_balance_and_obey_the_law_of_each_support(rows, data, weight) -> None:
    parts = data.draw(st.lists(st.floats(0.1, 1), min_size=len(rows), max_size=len(rows)))
    place = corners_spread(rows, parts)
    assume(place is not None)
    assert place is not None
    lowered = np.array([data.draw(st.lists(st.floats(0, 50), min_size=len(rows), max_size=len(rows)))])
    # The hanging weights are added at their supports, so the resultant that remains is inside.
    hung = [(row[6], row[0], row[1]) for row in rows]
    loads = np.array(
        [sum(np.array([f, f * x / 1000, f * y / 1000]) for f, x, y in [(weight, *place), *hung])]
    )
    found = balance(laws_of(rows), loads, lowered)
    q = found.freedoms[0]
    assert np.isfinite(q).all()
    pushes = [plain_push(row, q[0] + q[1] * row[0] / 1000 + q[2] * row[1] / 1000 - low)
              for row, low in zip(rows, lowered[0], strict=True)]  # fmt: skip
    scale = weight + sum(map(abs, pushes)) + sum(map(abs, q))
    assert found.push_n[0] == pytest.approx(pushes, abs=1e-9 * scale)
    assert sum(pushes) == pytest.approx(loads[0, 0], abs=1e-9 * scale)
    for axis in (0, 1):
        moment = sum(push * row[axis] / 1000 for push, row in zip(pushes, rows, strict=True))
        assert moment == pytest.approx(loads[0, 1 + axis], abs=1e-8 * scale)


def by_all_pieces(rows: list[tuple[float, ...]], loads: np.ndarray) -> np.ndarray | None:
    """Return the pushes by trying every choice of off, spring or bump stop at every support: brute force."""
    places = np.array([(1.0, row[0] / 1000, row[1] / 1000) for row in rows])
    for choice in product(range(3), repeat=len(rows)):
        rate = np.array(
            [(0.0, row[2], row[2] + RIGID_N_MM)[piece] for row, piece in zip(rows, choice, strict=True)]
        )
        base = np.array(
            [
                (0.0, row[3], row[3] - RIGID_N_MM * row[4])[piece]
                for row, piece in zip(rows, choice, strict=True)
            ]
        )
        matrix = (places * rate[:, None]).T @ places
        if np.linalg.matrix_rank(matrix) < 3:
            continue
        sunk = places @ np.linalg.solve(matrix, loads - base @ places)
        spring = np.array([row[3] + row[2] * d for row, d in zip(rows, sunk, strict=True)])
        over = sunk - np.array([row[4] for row in rows])
        held = [(s <= 1e-6, s >= -1e-6 and o <= 1e-9, o >= -1e-9 and s >= -1e-6)[piece]
                for s, o, piece in zip(spring, over, choice, strict=True)]  # fmt: skip
        if all(held):
            return base + rate * sunk
    return None


SPRING = st.tuples(
    PLACE, PLACE, st.floats(5, 300), st.floats(0, 2000), st.floats(5, 60), st.just(np.inf), st.just(0.0)
)


@given(st.lists(SPRING, min_size=3, max_size=4), st.data(), st.floats(100, 20000))
def test_it_agrees_with_trying_every_choice_of_pieces(rows, data, weight) -> None:
    parts = data.draw(st.lists(st.floats(0.1, 1), min_size=len(rows), max_size=len(rows)))
    place = corners_spread(rows, parts)
    assume(place is not None)
    assert place is not None
    load = np.array([weight, weight * place[0] / 1000, weight * place[1] / 1000])
    plain = by_all_pieces(rows, load)
    assume(plain is not None)
    assert balance(laws_of(rows), load[None]).push_n[0] == pytest.approx(plain, rel=1e-6, abs=1e-5 * weight)


def test_a_load_that_nothing_balances_is_an_error_not_a_figure() -> None:
    rows = [
        (0.0, 0.0, 50.0, 0.0, 20.0, 20.0, 0.0),
        (1000.0, 0.0, 50.0, 0.0, 20.0, 20.0, 0.0),
        (0.0, 800.0, 50.0, 0.0, 20.0, 20.0, 0.0),
    ]
    with pytest.raises(DesignError, match="no balance of forces"):
        balance(laws_of(rows), np.array([[1000.0, 5000.0, 0.0]]))


def test_no_supports_are_nothing_to_judge() -> None:
    design = replace(timber_ramp(), supports=())
    assert carrier_standing(design, assembly(), LEVEL) is None
    assert loaded_drop_mm(design, None) == design.carrier.deck_drop_mm


@pytest.mark.parametrize(
    ("supports", "words"),
    [
        (wheels()[:2], "2 supports hold no deck up"),
        (tuple(replace(one, across_mm=0.0) for one in wheels()), "in one line"),
        (
            (*wheels()[:2], Support(name="jack", kind="jack", back_mm=1350, across_mm=0)),
            "before jacks are put down",
        ),
        (
            (*wheels()[:2], Support(name="bearer", kind="bearer", back_mm=1350, across_mm=0, gap_mm=1)),
            "before jacks are put down",
        ),
        (tuple(replace(one, back_mm=one.back_mm + 1500) for one in wheels()), "lies outside the supports"),
    ],
)
def test_what_cannot_stand_says_so(supports, words) -> None:
    found = carrier_standing(trolley(supports), assembly(), LEVEL)
    assert isinstance(found, CannotStand)
    assert words in found.why
    assert found.way_out
    assert loaded_drop_mm(trolley(supports), None) == trolley().carrier.deck_drop_mm


def test_empty_wheels_carry_all_weights() -> None:
    standing = stood(trolley())
    whole = sum(weight.force_n for weight in standing.weights)
    assert standing.empty_wheels_n.sum() == pytest.approx(whole)
    assert standing.empty_wheels_n - standing.empty_push_n == pytest.approx(10 * G_M_S2)
    back = sum(weight.force_n * weight.x_mm for weight in standing.weights)
    assert standing.empty_wheels_n @ [-support.back_mm for support in standing.supports] == pytest.approx(
        back
    )


def test_climb_begins_with_nothing_and_ends_with_the_whole_user() -> None:
    design = trolley()
    for climb in stood(design).climbs:
        user = climbers(design)[climb.user_number - 1]
        first, last = (weights_of(design, climb, at) for at in (0, -1))
        whole = G_M_S2 * (user.mass_kg + user.attendant_kg)
        begun = whole if climb.on_deck else 0.0
        assert sum(weight.force_n for weight in first) == pytest.approx(begun, abs=1e-6)
        assert sum(weight.force_n for weight in last) == pytest.approx(whole)
        assert last[0].x_mm == pytest.approx(-design.carrier.deck_length_mm)


def test_wheels_carry_the_user_wherever_the_carrier_stands() -> None:
    design = trolley()
    standing = stood(design)
    for climb in standing.climbs:
        for at in range(len(climb.first_axle_mm)):
            added = sum(weight.force_n for weight in weights_of(design, climb, at))
            assert climb.stances.wheels_n[at].sum() == pytest.approx(
                standing.empty_wheels_n.sum() + added, rel=1e-9
            )


def test_left_and_right_mirror() -> None:
    standing = stood(trolley())
    by_place = {(climb.user_number, round(climb.across_mm, 6)): climb for climb in standing.climbs}
    for (user, across), climb in by_place.items():
        other = by_place[user, -across]
        assert climb.stances.lean_rad == pytest.approx(-other.stances.lean_rad, abs=2e-5), (
            "the ramp's knuckles are not quite symmetric"
        )
        if across > 0:
            assert climb.stances.lean_rad.max() > 0, "a user on the left presses the left side down"
        assert climb.stances.edge_drop_mm == pytest.approx(other.stances.edge_drop_mm, abs=1e-2)


def test_deck_edge_sinks_and_nods_while_the_user_is_at_it() -> None:
    climb = stood(trolley()).climbs[0]
    at = int(climb.stances.edge_drop_mm.argmax())
    assert climb.stances.edge_drop_mm[at] > 5
    assert climb.stances.nod_rad[at] > 0, "positive with the deck edge down"
    assert climb.stances.nod_rad[-1] < climb.stances.nod_rad[at]


def test_jacks_with_a_gap_hold_the_deck_edge_there() -> None:
    jacks = tuple(
        Support(name=f"{side} jack", kind="jack", back_mm=0, across_mm=y, gap_mm=2.0)
        for side, y in (("left", 300), ("right", -300))
    )
    design = trolley((*wheels(), *jacks))
    standing = stood(design)
    assert standing.empty_push_n[4:].tolist() == [0, 0], "jacks carry nothing before anybody comes"
    drop = max(float(climb.stances.edge_drop_mm.max()) for climb in standing.climbs)
    assert 2.0 < drop < 2.1
    assert drop < max(float(climb.stances.edge_drop_mm.max()) for climb in stood(trolley()).climbs)


def test_bump_stop_ends_the_drop() -> None:
    free, stopped = (stood(trolley(wheels(rate=20.0, bump_mm=bump))) for bump in (500.0, 15.0))
    assert free.loaded_drop_mm is not None
    assert stopped.loaded_drop_mm is not None
    assert free.loaded_drop_mm > 2 * stopped.loaded_drop_mm


def test_a_hanging_wheel_is_off_the_ground_and_holds_its_weight_up() -> None:
    design = trolley(wheels(rate=300.0, extension_mm=1.0), twist_mm=60.0, body_kg=100.0)
    worst = stood(design).worst_twist
    assert worst is not None
    assert worst.share == pytest.approx(0, abs=1e-9)
    assert worst.lifted
    whole = sum(weight.force_n for weight in stood(design).weights)
    assert worst.wheels_n.sum() == pytest.approx(whole)
    assert (worst.wheels_n >= -1e-6).all()


def test_loaded_drop_stops_at_the_ground() -> None:
    soft = trolley(wheels(rate=1.0, bump_mm=500.0, extension_mm=500.0))
    carrier = soft.carrier
    assert loaded_drop_mm(soft, stood(soft).loaded_drop_mm) == carrier.deck_height_mm - carrier.end_depth_mm


def overhung(back_mm: float) -> Design:
    """A trolley whose near wheels stand far back, so that a user on the edge may tip it; wheels that weigh
    nothing.
    """
    near = tuple(
        replace(one, back_mm=back_mm) if one.name.startswith("near") else one
        for one in wheels(unsprung_kg=0.0)
    )
    return trolley(near, body_kg=400.0, body_back_mm=1000.0)


def test_it_tips_exactly_where_the_moments_say() -> None:
    """The moments are taken one by one about the line that is named; what the program solved for stops just
    there.
    """
    tipped = []
    for back in np.linspace(250, 900, 14):
        design = overhung(float(back))
        standing = stood(design)
        for climb in standing.climbs:
            at = int(climb.overturning.argmax())
            line = tipping_line(standing, weights_of(design, climb, at), cargo=climb.cargo)
            assert line.overturning_nmm / line.righting_nmm == pytest.approx(float(climb.overturning[at]))
            assert climb.tips is (line.overturning_nmm > line.righting_nmm)
            assert climb.stands.tolist() == (climb.overturning < 1).tolist()
            tipped.append(climb.tips)
    assert any(tipped)
    assert not all(tipped)


def test_figures_of_a_tipping_carrier_are_not_given() -> None:
    standing = stood(overhung(900.0))
    climb = standing.worst_climb
    assert climb.tips
    assert climb.stance(climb.worst) is None
    assert len(climb.stances.share) == climb.stands.sum() < len(climb.first_axle_mm)
    for position in np.flatnonzero(climb.stands):
        stance = climb.stance(int(position))
        assert stance is not None
        added = sum(weight.force_n for weight in weights_of(overhung(900.0), climb, int(position)))
        assert sum(stance.wheels_n) == pytest.approx(standing.empty_wheels_n.sum() + added)
    assert standing.loaded_drop_mm is None
    assert loaded_drop_mm(overhung(900.0), standing.loaded_drop_mm) == overhung(900.0).carrier.deck_drop_mm


def test_cargo_adds_its_climbs() -> None:
    without, loaded = stood(trolley()), stood(trolley(cargo_kg=200.0, cargo_back_mm=800.0))
    assert len(loaded.climbs) == 2 * len(without.climbs)
    assert {climb.cargo for climb in loaded.climbs} == {False, True}
    assert loaded.loaded_drop_mm is not None
    assert without.loaded_drop_mm is not None
    assert loaded.loaded_drop_mm > without.loaded_drop_mm


def test_rated_load_climbs_where_no_user_is_named() -> None:
    design = trolley()
    climbs = stood(replace(design, use=replace(design.use, users=()))).climbs
    assert {climb.user for climb in climbs} == {"rated load"}


def test_softer_springs_and_ballast_cure_the_twist_and_say_what_they_cost() -> None:
    design = trolley(wheels(rate=500.0, unsprung_kg=2.0), body_kg=150.0)
    found = cures(design, assembly(), LEVEL)
    assert found is not None
    assert not found.missing
    as_is, half, *_, rate, ballast = found.rows
    assert as_is.twist_share < found.limit <= rate.twist_share
    assert rate.twist_share == pytest.approx(found.limit, abs=1e-6)
    assert ballast.twist_share == pytest.approx(found.limit, abs=1e-6)
    assert rate.rate_factor < 1 < ballast.ballast_kg
    assert None not in (as_is.edge_drop_mm, half.edge_drop_mm)
    assert half.edge_drop_mm > as_is.edge_drop_mm  # pyright: ignore
    stiffer = stood(with_rates(design, 1.01 * rate.rate_factor)).worst_twist
    softer = stood(with_rates(design, 0.99 * rate.rate_factor)).worst_twist
    assert stiffer is not None
    assert softer is not None
    assert stiffer.share < found.limit < softer.share


def test_cures_of_what_passes_are_no_stiffer_springs() -> None:
    found = cures(trolley(wheels(rate=20.0)), assembly(), LEVEL)
    assert found is not None
    assert found.rows[0].twist_share > found.limit
    assert max(row.rate_factor for row in found.rows) == 1


def test_ballast_is_placed_beyond_the_wheels_that_a_user_on_the_edge_turns_the_carrier_about() -> None:
    """Statics of a lever: weight on the edge lifts the far wheels, and ballast beyond the near ones holds
    them down; over the edge it helps to tip.
    """
    light = trolley(wheels(rate=500.0, unsprung_kg=2.0), body_kg=150.0, body_back_mm=700.0)
    near = min(support.back_mm for support in light.supports)
    best = placed(with_ballast(light, 75.0), (assembly(), LEVEL))
    assert best.carrier_body.ballast_back_mm > near

    def left(back_mm: float) -> float:
        body = replace(best.carrier_body, ballast_back_mm=back_mm)
        standing = stood(replace(best, carrier_body=body))
        assert standing.worst_twist is not None
        if any(climb.tips for climb in standing.climbs):
            return -1.0
        climb = min(float(climb.stances.share.min()) for climb in standing.climbs)
        return min(standing.worst_twist.share, climb)

    chosen = left(best.carrier_body.ballast_back_mm)
    assert chosen > left(near)
    assert chosen >= max(map(left, (0.0, 400.0, 800.0, 1200.0, 1600.0))) - 1e-3
    found = cures(light, assembly(), LEVEL)
    assert found is not None
    there = next(row for row in found.rows if row.words.startswith("ballast where it does most"))
    assert there.words.endswith(f"{best.carrier_body.ballast_back_mm:.0f} mm back")


@pytest.mark.parametrize("design", [trolley(twist_mm=0.0), trolley(()), trolley(wheels()[:2])])
def test_cures_are_none_where_nothing_is_to_be_cured(design) -> None:
    assert cures(design, assembly(), LEVEL) is None


def test_the_share_left_under_the_twist_of_the_ground() -> None:
    assert twist_share(trolley(wheels()[:2]), assembly()) == 0.0
    assert twist_share(trolley(twist_mm=0.0), assembly()) == 1.0
    worst = stood(trolley()).worst_twist
    assert worst is not None
    assert 0 < worst.share < 1
    assert twist_share(trolley(), assembly()) == pytest.approx(worst.share, rel=1e-12)


def test_each_axle_is_looked_at_just_on_the_deck_hinge_and_on_the_deck_edge() -> None:
    design = trolley()
    for climb in stood(design).climbs:
        user = next(one for one in climbers(design) if one.name == climb.user)
        places = set(climb.first_axle_mm.tolist())
        end = -design.deck_hinge.out_mm - design.carrier.deck_length_mm
        for axle in axles_of(user):
            wanted = {edge - axle.offset_mm for edge in (0.0, -design.deck_hinge.out_mm)}
            if not climb.on_deck:
                assert {at for at in wanted if at > end} <= places
