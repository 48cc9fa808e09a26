"""How near the turning bridge plate comes to obstacles, against shapely at a thousand angles."""

import math
from dataclasses import replace

import numpy as np
import pytest
from shapely.geometry import Polygon

from rampdraft.evaluation.evaluate import Evaluation, evaluate
from rampdraft.geometry.bridge import bearers, bridge_reach_mm
from rampdraft.model.design import Design, Obstacle
from rampdraft.model.fields.paths import with_value
from rampdraft.model.starter import starter_design

BOX = ((-60.0, 60.0), (-20.0, 60.0), (-20.0, 110.0), (-60.0, 110.0))


def with_lamp(outline: tuple[tuple[float, float], ...] = BOX, left: float = -50.0) -> Design:
    lamp = Obstacle(name="Lamp", outline_mm=outline, left_mm=left, right_mm=left + 100)
    return replace(starter_design(), obstacles=(lamp,))


def plainly(found: Evaluation, outline: tuple[tuple[float, float], ...]) -> float:
    """Return the least distance of the plate to an obstacle as it is laid down at a thousand angles."""
    design, laid = found.design, bearers(found.design, found.assembly)
    assert laid is not None
    length, thick = bridge_reach_mm(design), design.bridge.thickness_mm
    turned = [pose.inner_rad for pose in found.path.poses]
    lamp, least = Polygon(outline), math.inf
    angles = [laid.lie(at).angle_rad for at in np.linspace(min(turned), max(turned), 1000)]
    if design.bridge.turned_back:
        angles = np.linspace(angles[0], math.pi, 1000).tolist()
    for angle in angles:
        turn = complex(math.cos(angle), math.sin(angle))
        corners = [turn * at for at in (0j, length + 0j, length + 1j * thick, 1j * thick)]
        least = min(least, lamp.distance(Polygon([(at.real, at.imag) for at in corners])))
    return least


def shifted(x: float, z: float) -> tuple[tuple[float, float], ...]:
    return tuple((a + x, b + z) for a, b in BOX)


@pytest.mark.parametrize("place", [(0.0, 0.0), (-30.0, 20.0), (60.0, 60.0), (-10.0, -20.0), (200.0, 0.0)])
@pytest.mark.parametrize("turned_back", [False, True])
def test_the_least_distance_is_what_shapely_finds(place: tuple[float, float], turned_back: bool) -> None:
    outline = shifted(*place)
    design = with_value(with_lamp(outline), "bridge.turned_back", turned_back)
    found = evaluate(design)
    assert found.bridge_room is not None
    least = plainly(found, outline)
    assert found.bridge_room.certified_mm <= found.bridge_room.nearest_mm
    if least > 0:
        assert found.bridge_room.nearest_mm == pytest.approx(least, abs=0.3)
        assert found.bridge_room.certified_mm >= least - 0.3
    else:
        assert found.bridge_room.nearest_mm <= 0


def test_a_plate_that_strikes_a_lamp_as_it_is_turned_back_fails() -> None:
    """Wrong before: obstacles were held against the leaves alone."""
    design = with_value(with_lamp(), "bridge.turned_back", True)
    checks = {check.id: check for check in evaluate(design).checks}
    check = checks["own/bridge-room/obstacle-1"]
    assert check.fails
    assert check.why.startswith("It strikes Lamp")
    assert check.demand.title == "Bridge plate clear of obstacles as it turns"


def test_only_what_is_beside_it_is_told() -> None:
    assert evaluate(starter_design()).bridge_room is None
    assert evaluate(with_lamp(left=600.0)).bridge_room is None
    assert evaluate(with_value(with_lamp(), "bridge.fitted", False)).bridge_room is None
    assert evaluate(with_lamp(left=429.0)).bridge_room is not None


@pytest.mark.parametrize(("less", "fails"), [(0.1, False), (-0.1, True)])
def test_it_is_held_to_the_clearance_demanded(less: float, fails: bool) -> None:
    design = with_value(with_lamp(shifted(60.0, 60.0)), "bridge.turned_back", True)
    room = evaluate(design).bridge_room
    assert room is not None
    asked = with_value(design, "fold.clearance_mm", room.certified_mm - less)
    check = next(one for one in evaluate(asked).checks if one.id.startswith("own/bridge-room"))
    assert check.fails is fails
