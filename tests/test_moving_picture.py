"""The picture that moves by itself: its leaves go where the linkage has them."""

import math
import xml.etree.ElementTree as ET

import pytest
from moving_picture import K, fold_frames, moving_svg, on_paper

from rampdraft.evaluation.evaluate import Evaluation, evaluate
from rampdraft.geometry.linkage import linkage, placings
from rampdraft.model.starter import starter_design


@pytest.fixture(scope="module")
def evaluation() -> Evaluation:
    return evaluate(starter_design())


def turned(point: tuple[float, float], told: str) -> tuple[float, float]:
    """Return a point turned as SVG 1.1, 7.6, says of `rotate(angle cx cy)`: clockwise, y running down."""
    angle, x0, y0 = map(float, told.split())
    cos, sin = math.cos(math.radians(angle)), math.sin(math.radians(angle))
    x, y = point[0] - x0, point[1] - y0
    return x0 + cos * x - sin * y, y0 + sin * x + cos * y


def test_the_toe_goes_where_the_linkage_has_it(evaluation: Evaluation) -> None:
    design, down = evaluation.design, evaluation.sites[0].pose
    tip = design.outer_leaf.length_mm, 0.0
    bars, path = linkage(design), evaluation.fold.path
    frames = fold_frames(evaluation, on_paper(*bars.hinge), on_paper(*bars.joint(down.inner_rad)))
    lying = on_paper(*placings(design, down)["outer"].point(*tip))
    shares = [1.0, *reversed(path.at), *path.at, 1.0]
    for share, (_, inner), (_, outer) in zip(shares, *frames, strict=True):
        there = placings(design, path.pose(share))["outer"].point(*tip)
        # Angles are written to 0.01 degrees: 0.5 mm over both leaves.
        assert turned(turned(lying, outer), inner) == pytest.approx(on_paper(*there), abs=1.0 * K)


def test_every_movement_is_told_from_the_beginning_to_the_end(evaluation: Evaluation) -> None:
    """SVG 1.1, 19.2.9: as many times as values, the first 0, the last 1, none less than the one before."""
    moves = [one for one in ET.fromstring(moving_svg(evaluation)).iter() if "animate" in one.tag]
    assert len(moves) == 5
    for one in moves:
        times = [float(time) for time in one.attrib["keyTimes"].split(";")]
        assert times == sorted(times)
        assert (times[0], times[-1]) == (0.0, 1.0)
        assert len(times) == len(one.attrib["values"].split(";"))
