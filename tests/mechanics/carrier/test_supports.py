"""Which loads supports balance, decided by geometry alone: any processor's arithmetic finds the same."""

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy.optimize import linprog

from rampdraft.errors import DesignError
from rampdraft.mechanics.carrier import supports
from rampdraft.mechanics.carrier.supports import RIGID_N_MM, Laws, balance, places_of

INF = np.inf
TRIANGLE = [(0.0, 0.0), (1000.0, 0.0), (0.0, 800.0)]
BEYOND = np.array([[1000.0, 5000.0, 0.0]])
"""1000 N, 5 m out: nothing balances it on the triangle."""

Row = tuple[float, float, float, float, float, float, float]


def laws_of(rows: list[Row]) -> Laws:
    """Return laws from rows (x mm, y mm, rate, push, bump, extension, least)."""
    x, y, rate, push, bump, extension, least = np.array(rows, dtype=float).T
    return Laws(places=places_of(x, y), rate=rate, push=push, bump=bump, extension=extension, least=least)


def springs(places: list[tuple[float, float]], rate: float = 50.0, stop_mm: float = 20.0) -> Laws:
    return laws_of([(x, y, rate, 0.0, stop_mm, stop_mm, 0.0) for x, y in places])


def load(force_n: float, x_mm: float, y_mm: float) -> np.ndarray:
    return np.array([[force_n, force_n * x_mm / 1000, force_n * y_mm / 1000]])


def stands(laws: Laws, loads: np.ndarray) -> bool:
    try:
        balance(laws, loads)
    except DesignError:
        return False
    return True


COORDINATE = st.integers(-20, 20).map(lambda number: 100.0 * number)
FORCES = st.sampled_from((0.0, -50.0, -300.0))
SPRING = st.tuples(
    COORDINATE,
    COORDINATE,
    st.floats(1, 500),
    st.floats(-2000, 2000),
    st.floats(1, 80) | st.just(INF),
    st.floats(1, 80) | st.just(INF),
    FORCES,
)
GAP = st.floats(-30, 0).map(lambda gap: RIGID_N_MM * gap)
RIGID = (st.just(RIGID_N_MM), GAP, st.just(INF), st.just(INF), st.just(0.0))
UP = (st.just(RIGID_N_MM), st.just(-INF), st.just(INF), st.just(INF), st.just(0.0))
"""A jack that is up never pushes."""
PUSHING = SPRING | st.tuples(COORDINATE, COORDINATE, *RIGID)
ROW = PUSHING | st.tuples(COORDINATE, COORDINATE, *UP)
LOAD = st.tuples(st.floats(-500, -10) | st.floats(10, 20000), st.integers(-25, 25), st.integers(-25, 25)).map(
    lambda drawn: load(drawn[0], 100.0 * drawn[1], 100.0 * drawn[2])
)


def room_for(rows: list[Row], loads: np.ndarray) -> float:
    """Return by how much, in N, the supports could all push more than they need for one load; negative where
    nothing balances it. Linear programming, whatever the geometry: an independent judge.

    Each support pushes as much as it likes but no less than its least; one without a stop upward pushes no
    less than 0, and one that is up pushes 0.
    """
    places = np.array([(1.0, row[0] / 1000, row[1] / 1000) for row in rows])
    least = np.array([row[6] if np.isfinite(row[5]) else 0.0 for row in rows])
    up = np.array([np.isinf(row[3]) for row in rows])
    # push = least + spare + more, more >= 0, the same spare for all that push: maximise it.
    spread = np.where(up, 0.0, 1.0)
    columns = np.column_stack((places.T @ spread, places.T * spread))
    found = linprog(
        np.array([-1.0, *np.zeros(len(rows))]),
        A_eq=columns,
        b_eq=loads[0] - least @ places,
        bounds=[(-1e6, 1e6), *[(0, None)] * len(rows)],
    )
    # No solution at all: the load is beyond the plane that supports in one line can reach.
    return -float(found.fun) if found.status == 0 else -INF


def in_one_line(rows: list[Row]) -> bool:
    places = np.array([(1.0, row[0] / 1000, row[1] / 1000) for row in rows if np.isfinite(row[3])])
    return len(places) < 3 or np.linalg.matrix_rank(places, tol=1e-6) < 3


@given(st.lists(ROW, min_size=1, max_size=6), LOAD)
def test_a_load_is_balanced_where_linear_programming_finds_pushes_with_room_to_spare(rows, loads) -> None:
    if in_one_line(rows):
        assert not stands(laws_of(rows), loads)
        return
    room = room_for(rows, loads)
    assume(abs(room) > 1e-3)
    assert stands(laws_of(rows), loads) is (room > 0)


def disturbed(monkeypatch: pytest.MonkeyPatch, seed: int, size: float) -> None:
    """Let every step of the iteration come out a little different, as other processors let it."""
    random, solved, pushes = np.random.default_rng(seed), supports._solved, supports.pushes

    def noisy(found: np.ndarray, most: float) -> np.ndarray:
        return found * (1 + most * random.uniform(-1, 1, found.shape))

    monkeypatch.setattr(supports, "_solved", lambda *given: noisy(solved(*given), size))
    monkeypatch.setattr(
        supports, "pushes", lambda *given: (noisy(pushes(*given)[0], min(size, 1e-14)), pushes(*given)[1])
    )


SIZES = (0.0, 1e-15, 1e-14, 1e-13, 1e-12, 1e-9, 1e-3)


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("seed", range(8))
def test_no_rounding_makes_a_balance_of_a_load_that_has_none(monkeypatch, seed: int, size: float) -> None:
    disturbed(monkeypatch, seed, size)
    order = np.random.default_rng(seed).permutation(3)
    for stretch in (1.0, 3.7, 1e-2):
        places = [(TRIANGLE[one][0] * stretch, TRIANGLE[one][1] * stretch) for one in order]
        for force in (1.0, 0.37, 1e4):
            out = force * BEYOND * (1.0, stretch, stretch)
            with pytest.raises(DesignError, match="no balance of forces"):
                balance(springs(places), out)


PARTS = st.lists(st.floats(0.05, 1), min_size=6, max_size=6)


@given(
    st.lists(PUSHING, min_size=3, max_size=6),
    PARTS,
    st.floats(10, 20000),
    st.integers(0, 99),
    st.sampled_from(SIZES[1:5]),
    st.data(),
)
def test_disturbed_steps_and_another_order_find_the_same_balance(
    rows, parts, weight, seed, size, data
) -> None:
    rows = [(*TRIANGLE[number], *row[2:]) if number < 3 else row for number, row in enumerate(rows)]
    made_up = [
        weight * part + (row[6] if np.isfinite(row[5]) else 0.0)
        for row, part in zip(rows, parts, strict=False)
    ]
    loads = np.array(made_up)[None] @ laws_of(rows).places
    order = data.draw(st.permutations(range(len(rows))))
    plain = balance(laws_of(rows), loads)
    with pytest.MonkeyPatch.context() as monkeypatch:
        disturbed(monkeypatch, seed, size)
        found = balance(laws_of([rows[one] for one in order]), loads)
    scale = float(abs(loads).sum() + abs(plain.push_n).sum() + abs(plain.freedoms).sum())
    assert found.push_n[0] == pytest.approx(plain.push_n[0, list(order)], abs=1e-7 * scale)
    assert found.freedoms[0] == pytest.approx(plain.freedoms[0], rel=1e-6, abs=1e-6 * scale)


@given(st.lists(st.tuples(COORDINATE, COORDINATE), min_size=3, max_size=6), LOAD, st.floats(0.01, 100))
def test_other_units_of_force_find_the_same_balance(places, loads, factor) -> None:
    laws = springs(places, stop_mm=INF)
    more = springs(places, rate=50.0 * factor, stop_mm=INF)
    assert stands(laws, loads) is stands(more, factor * loads)
    if stands(laws, loads):
        one, other = balance(laws, loads), balance(more, factor * loads)
        scale = float(abs(one.freedoms).sum())
        assert other.freedoms[0] == pytest.approx(one.freedoms[0], rel=1e-6, abs=1e-8 * scale)


@pytest.mark.parametrize("force", [1.0, 1.0 / 3.0, 9.80665 * 137.1, 1e5])
@pytest.mark.parametrize("share", [0.0, 0.1, 1.0 / 3.0, 0.7, 1.0])
@pytest.mark.parametrize("line", [(0, 1), (1, 2), (2, 0)])
def test_on_the_outline_itself_nothing_says_how_far_the_deck_turns(line, share: float, force: float) -> None:
    (x0, y0), (x1, y1) = (TRIANGLE[corner] for corner in line)
    at = np.array((x0 + share * (x1 - x0), y0 + share * (y1 - y0)))
    middle = np.array((1000.0 / 3, 800.0 / 3))
    assert not stands(springs(TRIANGLE), load(force, *at))
    assert not stands(springs(TRIANGLE), load(force, *(at + 1e-3 * (at - middle))))
    # A thousandth inwards from a corner it is inside all lines, along a line it may still be on it.
    assert stands(springs(TRIANGLE), load(force, *(at - 1e-3 * (at - middle))))


@pytest.mark.parametrize(
    "places",
    [
        [(100.0, 200.0)],
        [(100.0, 200.0), (300.0, 200.0)],
        [(0.0, 0.0), (100.0, 0.0), (500.0, 0.0)],
        [(0.0, 0.0), (0.1, 0.3), (0.2, 0.6), (0.7, 2.1)],
    ],
)
def test_supports_at_one_place_or_in_one_line_hold_no_deck(places: list[tuple[float, float]]) -> None:
    middle = np.mean(places, axis=0)
    assert not stands(springs(places), load(1000.0, *middle))


def test_no_weight_at_all_or_one_that_lifts_has_no_balance() -> None:
    assert not stands(springs(TRIANGLE), np.zeros((1, 3)))
    assert not stands(springs(TRIANGLE), load(-100.0, 300.0, 200.0))


def test_a_wheel_that_hangs_holds_the_deck_down_as_far_as_its_weight() -> None:
    """Statics: 300 N hanging at (0, 800) let 100 N stand out to y = -240 mm beyond the line from 0 to 1000 mm
    and x between: (300 x 800) / 100 = 2400 mm beyond, with the resultant of both on that line.
    """
    rows = [(x, y, 50.0, 0.0, 20.0, 20.0, -300.0 if y else 0.0) for x, y in TRIANGLE]
    assert stands(laws_of(rows), load(100.0, 400.0, -2399.0))
    assert not stands(laws_of(rows), load(100.0, 400.0, -2401.0))
    endless = [(*row[:5], INF, row[6]) for row in rows]
    assert not stands(laws_of(endless), load(100.0, 400.0, -1.0)), "without a stop upward it never hangs"


def test_of_many_loads_one_without_balance_is_not_passed_over() -> None:
    good = load(1000.0, 300.0, 200.0)
    many = np.concatenate([good] * 50 + [BEYOND] + [good] * 50)
    assert stands(springs(TRIANGLE), np.concatenate([good] * 101))
    assert not stands(springs(TRIANGLE), many)


def test_no_distance_of_the_deck_makes_a_residual_small(monkeypatch) -> None:
    """Even were existence never asked: what is far from balance is none, however large the freedoms."""
    monkeypatch.setattr(Laws, "hold", lambda _, loads: np.ones(len(loads), dtype=bool))
    away = np.array((1e17, -1e17, 1e17))
    monkeypatch.setattr(supports, "_solved", lambda _, right, __: np.tile(away, (len(right), 1)))
    monkeypatch.setattr(supports, "_length", lambda *given: np.ones(len(given[1])))
    with pytest.raises(DesignError, match="steps find"):
        balance(springs(TRIANGLE), BEYOND)


def test_whole_numbers_of_mm_are_lengths_like_others():
    """The ground lowered under one support by a whole number: the others are then pressed by no whole one."""
    laws = laws_of([(x, y, 50.0, 500.0, 5.0, 0.5, 0.0) for x, y in [*TRIANGLE, (1000.0, 800.0)]])
    loads, lowered = load(2000.0, 450.0, 420.0), np.array([[7, 0, 0, 0]])
    found, same = balance(laws, loads, lowered), balance(laws, loads, lowered.astype(float))
    assert np.array_equal(found.push_n, same.push_n)


FAR_APART = [
    (
        [
            (1700.0, 1200.0, 296.0, -1300.0, 65.0, 38.0, 0.0),
            (1900.0, 1900.0, 4.0, -400.0, 44.0, 68.0, 0.0),
            (1800.0, -1200.0, RIGID_N_MM, -9 * RIGID_N_MM, INF, INF, 0.0),
            (300.0, 1700.0, 154.0, 300.0, 25.0, INF, -300.0),
            (-600.0, -500.0, RIGID_N_MM, 0.0, INF, INF, 0.0),
            (-1900.0, 200.0, 270.0, 1200.0, 23.0, 37.0, -50.0),
        ],
        (3200.0, 4480.0, 960.0),
    ),
    (
        [
            (-1800.0, -1900.0, RIGID_N_MM, -29 * RIGID_N_MM, INF, INF, 0.0),
            (-400.0, -1900.0, 2.0, 1600.0, 35.0, 79.0, 0.0),
            (300.0, 2000.0, 132.0, 700.0, INF, 45.0, -50.0),
        ],
        (13400.0, -22780.0, -24120.0),
    ),
    (
        [
            (-1600.0, 0.0, RIGID_N_MM, -25 * RIGID_N_MM, INF, INF, 0.0),
            (700.0, -100.0, RIGID_N_MM, -13 * RIGID_N_MM, INF, INF, 0.0),
            (1500.0, 1400.0, 286.0, -1100.0, INF, 44.0, 0.0),
            (-1700.0, -1800.0, RIGID_N_MM, -16 * RIGID_N_MM, INF, INF, 0.0),
            (900.0, -2000.0, 3.0, -1200.0, INF, 73.0, 0.0),
        ],
        (16300.0, -1630.0, -30970.0),
    ),
    (
        [
            (-1100.0, -1600.0, RIGID_N_MM, -25 * RIGID_N_MM, INF, INF, 0.0),
            (1000.0, 200.0, 7.0, 100.0, 75.0, INF, -300.0),
            (-300.0, 1600.0, 22.0, -1900.0, INF, 46.0, -50.0),
            (1000.0, 1300.0, RIGID_N_MM, -16 * RIGID_N_MM, INF, INF, 0.0),
            (-600.0, -100.0, 375.0, 800.0, INF, INF, -300.0),
        ],
        (4500.0, -900.0, 4050.0),
    ),
]
"""Jacks with gaps beside soft springs and stops, found by trying: plain steps do not balance them."""


@pytest.mark.parametrize(("rows", "weights"), FAR_APART)
def test_jacks_with_gaps_beside_soft_springs_are_balanced(rows: list[Row], weights) -> None:
    """Their pushes are by their laws and hold the load, whatever the order of the supports."""
    laws, loads = laws_of(rows), np.array([weights])
    found = balance(laws, loads)
    by_law, _ = supports.pushes(laws, found.freedoms @ laws.places.T)
    assert found.push_n == pytest.approx(by_law, rel=1e-6, abs=1e-3)
    assert found.push_n @ laws.places == pytest.approx(loads, abs=1e-6 * weights[0])
    other = balance(laws_of(rows[::-1]), loads)
    assert other.push_n[:, ::-1] == pytest.approx(found.push_n, abs=1e-6 * weights[0])
