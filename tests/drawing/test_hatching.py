"""Cut faces: within their outlines and out of their hollows, neighbours told apart (ISO 128-50)."""

import itertools

import pytest
from shapely.geometry import LineString, Polygon

from rampdraft.drawing.hatching import hatch, looks
from rampdraft.geometry.outline import rectangle

OUTSIDE, HOLLOW = rectangle(0.0, 0.0, 60.0, 40.0), rectangle(4.0, 4.0, 56.0, 36.0)


@pytest.mark.parametrize("look", [(1, 1.0), (-1, 1.0), (1, 0.6), (-1, 1.6)])
def test_all_of_a_face_is_hatched_and_nothing_of_its_hollow(look: tuple[int, float]) -> None:
    face = Polygon(OUTSIDE.points(0.01), [HOLLOW.points(0.01)])
    lines = [LineString([(x, y) for x, y, _ in one.vertices]) for one in hatch((OUTSIDE, HOLLOW), look, 1.0)]
    assert all(line.difference(face.buffer(1e-6)).length < 1e-9 for line in lines)
    pitch = 1.8 * look[1]
    assert sum(line.length for line in lines) == pytest.approx(face.area / pitch, rel=0.05)


def test_what_touches_is_not_hatched_alike_and_what_is_apart_may_be() -> None:
    row = {str(k): ((10.0 * k, 0.0, 10.0 * k + 10.0, 5.0),) for k in range(5)}
    found = looks(row)
    assert all(found[str(a)] != found[str(b)] for a, b in itertools.pairwise(range(5)))
    assert found["0"] == found["2"]
    assert {way for way, _ in found.values()} == {1, -1}


def test_four_in_a_corner_are_all_told_apart() -> None:
    corner = {
        f"{a}{b}": ((10.0 * a, 10.0 * b, 10.0 * a + 10.0, 10.0 * b + 10.0),) for a in (0, 1) for b in (0, 1)
    }
    assert len(set(looks(corner).values())) == 4
