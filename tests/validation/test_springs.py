"""Rigid bodies on springs and wheels, against textbooks and closed forms."""

import numpy as np
import pytest

from rampdraft.mechanics.carrier.supports import Laws, balance, outline, places_of

ENDLESS = np.inf


def springs(places_mm: list[tuple[float, float]], rates: list[float], push: float = 0.0) -> Laws:
    """Return springs without stops, whose wheels weigh nothing; `push` is what each pushes already."""
    x, y = np.array(places_mm, dtype=float).T
    n = len(rates)
    return Laws(
        places=places_of(x, y),
        rate=np.array(rates, dtype=float),
        push=np.full(n, push),
        bump=np.full(n, ENDLESS),
        extension=np.full(n, ENDLESS),
        least=np.zeros(n),
    )


def load(*weights: tuple[float, float, float]) -> np.ndarray:
    """Return (force N, x mm, y mm) of weights as force and moments, one row."""
    return np.array([sum(np.array([f, f * x / 1000, f * y / 1000]) for f, x, y in weights)])


def test_bar_on_two_springs_is_level_under_the_load_at_135_mm() -> None:
    """Gere, Mechanics of Materials, 7th edition, problem 2.2-10: 300 and 400 N/m, W 25 N, L 350 mm, P 18 N,
    answer 135 mm.

    The natural lengths of 250 and 200 mm and the 80 mm between the points of hanging are given from memory:
    the left spring is stretched 250 - 200 - 80 = -30 mm less, that is 30 mm more, than the right one when the
    bar is level. A spring each side of the bar's own line, of half the rate, keeps it from rolling over.
    """
    laws = springs([(0, -1), (0, 1), (350, -1), (350, 1)], [0.15, 0.15, 0.2, 0.2])
    lowered = np.array([[0.0, 0.0, 30.0, 30.0]])

    def slope(at_mm: float) -> float:
        return float(balance(laws, load((25, 175, 0), (18, at_mm, 0)), lowered).freedoms[0, 1])

    level_at = np.interp(0.0, [slope(100), slope(170)], [100, 170])
    assert level_at == pytest.approx(135, abs=0.5)
    assert abs(slope(level_at)) < 1e-6 < abs(slope(130))


def test_overhanging_load_leaves_300_n_behind() -> None:
    """Published: 4500 N and 2500 N leave 6700 N in front and 300 N behind, a 0.6 m, d 0.9 m (textbook on
    vehicle statics).

    Read as: 4500 N at a behind the front wheels, 2500 N at d before them, wheels a + d apart, which is what
    gives the answer.
    """
    laws = springs([(0, -500), (0, 500), (-1500, -500), (-1500, 500)], [50.0] * 4)
    push = balance(laws, load((4500, -600, 0), (2500, 900, 0))).push_n[0]
    assert push[:2].sum() == pytest.approx(6700)
    assert push[2:].sum() == pytest.approx(300)


def test_four_equal_springs_share_an_eccentric_load_like_a_rigid_footing() -> None:
    """Closed form: P / 4 (1 ± ex / (a / 2) ± ey / (b / 2)) for springs at the corners of a by b."""
    a, b, p, ex, ey = 1200.0, 800.0, 1000.0, 100.0, -50.0
    places = [(a / 2, b / 2), (a / 2, -b / 2), (-a / 2, b / 2), (-a / 2, -b / 2)]
    push = balance(springs(places, [30.0] * 4), load((p, ex, ey))).push_n[0]
    expected = [p / 4 * (1 + ex * x / (a / 2) ** 2 + ey * y / (b / 2) ** 2) for x, y in places]
    assert push == pytest.approx(expected)


@pytest.mark.parametrize("rate", [10.0, 40.0, 160.0])
def test_twist_takes_a_quarter_of_rate_times_drop_from_each_wheel(rate: float) -> None:
    """Closed form: four equal springs at the corners of a rectangle, the ground under one t lower: each
    changes by k t / 4.

    The pattern (1, -1, -1, 1) is at right angles to drop, nod and lean, so the part k t / 4 of it cannot be
    levelled out.
    """
    places = [(600.0, 400.0), (600.0, -400.0), (-600.0, 400.0), (-600.0, -400.0)]
    laws, whole, t = springs(places, [rate] * 4), load((4000, 0, 0)), 10.0
    push = balance(laws, whole, np.array([[t, 0.0, 0.0, 0.0]])).push_n[0]
    change = rate * t / 4
    assert push == pytest.approx([1000 - change, 1000 + change, 1000 + change, 1000 - change])


def test_far_too_stiff_springs_leave_it_on_three() -> None:
    """Closed form: with the lowered wheel in the air the rest is statics of three supports, whatever the
    springs.

    W = 4000 N, 10 mm behind the middle of wheels 1200 and 800 apart. Moments: 600 (F1 - F2 - F3) = -10 W, F2
    = F1 + F3.
    """
    places = [(600.0, 400.0), (600.0, -400.0), (-600.0, 400.0), (-600.0, -400.0)]
    push = balance(
        springs(places, [1000.0] * 4), load((4000, -10, 0)), np.array([[50.0, 0.0, 0.0, 0.0]])
    ).push_n[0]
    third = 10 * 4000 / 1200
    assert push == pytest.approx([0, 2000 - third, 2000, third])


@pytest.mark.parametrize(
    ("at_mm", "inside"), [(299.9, True), (300.1, False), (-299.9, True), (-300.1, False)]
)
def test_it_tips_where_the_resultant_leaves_the_outline(at_mm: float, inside: bool) -> None:
    """Statics: W x = P a about the outer support's line. W in the middle of supports 600 apart, nothing
    else.
    """
    area = outline(((300, 200), (300, -200), (-300, 200), (-300, -200), (0, 0), (0, 200)))
    assert area is not None
    assert len(area.ends) == 4
    assert bool((area.inside_mm(np.array((at_mm, 0.0))) > 0).all()) is inside
