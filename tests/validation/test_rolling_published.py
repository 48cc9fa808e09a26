"""Rolling against what was published: steps, pushing, breakover, tipping and gaps."""

import math

import numpy as np
import pytest

from rampdraft.mechanics.rolling.bumps import climb_share, kinks, sink_mm, speed_left
from rampdraft.mechanics.rolling.resting import Body, Support, rest
from rampdraft.mechanics.rolling.wheel_path import WheelPath, wheel_path
from rampdraft.mechanics.rolling.worst import HARD, SOFT
from rampdraft.units import G_M_S2, MM_PER_INCH


def step_path(radius: float, height: float) -> WheelPath:
    return wheel_path(np.array([(-900, 0), (0, 0), (0, height), (900, height)], dtype=float), radius)


def test_a_wheel_drawn_over_an_obstacle() -> None:
    """Halliday, Resnick, Walker, Fundamentals of Physics, ch. 12: r 6.00 cm, h 3.00 cm, 0.800 kg: 13.6 N."""
    (share,) = kinks(step_path(60.0, 30.0)).to_right
    assert share * 0.800 * 9.81 == pytest.approx(13.6, abs=0.05)
    assert climb_share(60.0, 30.0) == pytest.approx(float(share))


@pytest.mark.parametrize(("inches", "share"), [(1 / 4, 0.374), (1 / 2, 0.559)])
def test_a_wheel_of_200_mm_at_a_quarter_and_half_an_inch(inches: float, share: float) -> None:
    """A 200 mm wheel, worked out by moments about the corner, 1/4 in 0.374, 1/2 in 0.559 of its load."""
    found = kinks(step_path(100.0, inches * MM_PER_INCH))
    assert found.to_right[0] == pytest.approx(share, abs=6e-4)
    assert climb_share(100.0, inches * MM_PER_INCH) == pytest.approx(share, abs=6e-4)


def test_a_step_as_high_as_the_radius_stops_the_wheel() -> None:
    assert climb_share(50.0, 50.0) == math.inf
    assert climb_share(50.0, 49.9) < math.inf
    found = kinks(step_path(50.0, 80.0))
    assert found.to_right[0] == math.inf
    assert not (found.to_left > 0).any()  # down the same face it only falls


def test_how_deep_a_wheel_sinks_into_a_gap() -> None:
    """r - sqrt(r^2 - (b / 2)^2), by Pythagoras: 100 and 120 leave 100 - 80."""
    assert sink_mm(100.0, 120.0) == pytest.approx(20.0)
    outline = np.array([(-900, 0), (0, 0), (0, -300), (120, -300), (120, 0), (900, 0)], dtype=float)
    assert kinks(wheel_path(outline, 100.0)).drop_mm.max() == pytest.approx(20.0)
    assert wheel_path(outline, 100.0).height_mm(np.array([60.0]))[0] == pytest.approx(80.0)


def test_the_speed_that_a_kink_leaves() -> None:
    """One mass turned by an angle keeps its speed along the new way, v cos, of which cos is level (plastic
    impact on a smooth plane). Two equal masses on a rod: 1 / (1 + tan^2 / 2).
    """
    turn = np.array([math.radians(30)])
    assert speed_left(turn, 1.0)[0] == pytest.approx(math.cos(turn[0]) ** 2)
    assert speed_left(turn, 0.5)[0] == pytest.approx(1 / (1 + 1 / 6))
    assert speed_left(turn, 0.0)[0] == 1.0
    # Energy never grows: lump m1 goes on at u / cos, the other at u.
    for share in (0.1, 0.4, 0.9):
        u = speed_left(turn, share)[0]
        assert share * (u / math.cos(turn[0])) ** 2 + (1 - share) * u**2 < 1


def user(slope: float, *, wheelbase: float = 450.0, height: float = 650.0, back: float = 270.0) -> Body:
    """Return a body of two equal wheels on an even slope that climbs towards -x."""
    outline = np.array([(-5000.0, 5000.0 * slope), (5000.0, -5000.0 * slope)])
    path = wheel_path(outline, 100.0)
    return Body(
        supports=tuple(
            Support(axle=axle, behind_mm=behind, radius_mm=100.0, across_mm=0.0, path=path)
            for axle, behind in ((0, 0.0), (1, wheelbase))
        ),
        centre_behind_mm=back,
        centre_height_mm=height,
    )


@pytest.mark.parametrize(("percent", "force"), [(3, 35.5), (4, 44.5), (5, 53.5), (7, 71.6)])
def test_the_push_up_a_ramp(percent: float, force: float) -> None:
    """US Access Board, exterior surfaces (ASTM F1951 method): work per metre on ramps, which 906 sin + 8.29 N
    fits: a weight of 906 N and a rolling resistance of 8.29 N.
    """
    climbing = -float(rest(user(percent / 100), np.array([0.0])).climbing[0])
    assert 906 * climbing + 8.29 == pytest.approx(force, rel=0.005)


def test_rolling_resistance_and_pushing_uphill() -> None:
    """HSE, pushing and pulling: 200 kg on the level needs 4 kg, at least 2 per cent; up to 10 on soft ground.
    HSE INDG143 (secondary): 400 kg up 1 : 12 needs over 30 kgf.
    """
    assert pytest.approx(4) == HARD * 200
    assert pytest.approx(0.10) == SOFT
    climbing = -float(rest(user(1 / 12), np.array([0.0])).climbing[0])
    assert 400 * climbing > 30
    assert 400 * G_M_S2 * (climbing + HARD) == pytest.approx(400 * G_M_S2 * (1 / 12 + 0.02), rel=1e-6)


def test_breakover() -> None:
    """A crest of 2 atan(2 c / L) leaves nothing midway: c 15, L 120 gives 28.07 degrees."""
    assert math.degrees(2 * math.atan(2 * 15 / 120)) == pytest.approx(28.07, abs=0.005)
    half = math.atan(2 * 15 / 120)
    outline = np.array([(-900, -900 * math.tan(half)), (0, 0), (900, -900 * math.tan(half))])
    # Wheels of hardly any size run on the outline itself, as the closed form has it.
    path = wheel_path(outline, 1e-6)
    body = Body(
        supports=tuple(
            Support(axle=axle, behind_mm=behind, radius_mm=1e-6, across_mm=0.0, path=path)
            for axle, behind in ((0, 0.0), (1, 120.0))
        ),
        centre_behind_mm=60.0,
        centre_height_mm=50.0,
    )
    found = rest(body, np.linspace(-70.0, -50.0, 2001))
    x, z = found.point(body, 60.0, 15.0)
    assert float(np.interp(0.0, x, z)) == pytest.approx(0.0, abs=1e-3)


def test_tipping_angle_is_that_of_the_mass_centre() -> None:
    """atan(x / h) of a rigid body on its wheels: 28.6 degrees of conventional occupied chairs (Loane and
    Kirby 1985) is a mass centre 0.545 of its height ahead of the rear axle.
    """
    height = 650.0
    ahead = height * math.tan(math.radians(28.6))
    grade = math.tan(math.radians(28.6))
    body = user(grade, wheelbase=500.0, height=height, back=500.0 - ahead)
    shares = rest(body, np.array([0.0])).shares[0]
    assert shares[0] == pytest.approx(0.0, abs=1e-6)  # the front wheels carry nothing: it is about to tip
    assert shares[1] == pytest.approx(1.0)
