"""Details are enlarged where the sheet is empty, true to what they show."""

from itertools import combinations

import pytest
import shapely

from rampdraft.drawing.ink import Ink, Label, Path, Picture
from rampdraft.drawing.insets import FLATNESS, Place, with_insets
from rampdraft.drawing.side import side_places, standing_view
from rampdraft.evaluation.evaluate import Evaluation, evaluate
from rampdraft.files.design_file import load_design
from rampdraft.files.samples import sample_paths

PAPER = (170.0, 125.0)
"""Of a sheet, mm: a small window."""


@pytest.fixture(scope="module", params=sample_paths(), ids=lambda path: path.stem)
def evaluation(request: pytest.FixtureRequest) -> Evaluation:
    return evaluate(load_design(request.param), request.param.parent)


def fitted(evaluation: Evaluation) -> tuple[Picture, tuple[float, float, float, float], float]:
    """Return the side view with a sheet about it and its scale."""
    site, per_mm = evaluation.sites[0], 20.0
    picture = standing_view(evaluation, site, per_mm, flap=False)
    for _ in range(3):
        per_mm = (picture.box[2] - picture.box[0]) / PAPER[0]
        picture = standing_view(evaluation, site, per_mm, flap=False)
    x0, y0, x1, y1 = picture.box
    middle = (x0 + x1) / 2, (y0 + y1) / 2
    wide, tall = (side * per_mm / 2 for side in PAPER)
    return picture, (middle[0] - wide, middle[1] - tall, middle[0] + wide, middle[1] + tall), per_mm


def frames(added: tuple[Ink, ...]) -> list[shapely.Polygon]:
    """Return the frames of details: thin, and with paper in them."""
    return [
        shapely.Polygon([(x, y) for x, y, _ in mark.vertices])
        for mark in added
        if isinstance(mark, Path) and mark.fill == "paper" and mark.pen == "thin"
    ]


def inked(mark: Ink, per_mm: float) -> shapely.Point | shapely.Polygon | shapely.LineString:
    if isinstance(mark, Label):
        return shapely.Point(mark.at)
    points = [(x, y) for x, y, _ in mark.vertices]
    if mark.closed and len(points) == 2:
        return shapely.Point(points[0]).buffer(per_mm / 10)
    return shapely.Polygon(points) if mark.closed and mark.fill != "none" else shapely.LineString(points)


def test_no_detail_covers_anything(evaluation: Evaluation):
    picture, sheet, per_mm = fitted(evaluation)
    whole = with_insets(picture, side_places(evaluation, evaluation.sites[0]), sheet, per_mm)
    found = frames(whole.marks[len(picture.marks) :])
    assert len(found) == 3
    for frame in found:
        assert shapely.box(*sheet).covers(frame)
        assert not [mark for mark in picture.marks if inked(mark, per_mm).intersects(frame)]
    for one, other in combinations(found, 2):
        assert not one.intersects(other)


def test_a_detail_is_its_place_enlarged():
    """A square of 20 mm about the place, in a detail that shows 60 mm across."""
    square = Path(
        vertices=((90.0, -10.0, 0.0), (110.0, -10.0, 0.0), (110.0, 10.0, 0.0), (90.0, 10.0, 0.0)),
        closed=True, pen="outline", fill="inner", owner="inner rail 1",
    )  # fmt: skip
    picture = Picture(marks=(square,), box=(0.0, -100.0, 400.0, 100.0))
    place = Place(name="joint", at=(100.0, 0.0), wide_mm=60.0)
    whole = with_insets(picture, (place,), (0.0, -150.0, 600.0, 150.0), 4.0)
    added = whole.marks[1:]
    (frame,) = frames(added)
    (larger,) = [mark for mark in added if isinstance(mark, Path) and mark.owner == "inner rail 1"]
    x0, y0, x1, y1 = frame.bounds
    assert (y1 - y0) / (x1 - x0) == pytest.approx(FLATNESS)
    times = (x1 - x0) / 60.0
    shown = shapely.Polygon([(x, y) for x, y, _ in larger.vertices])
    assert shown.area == pytest.approx(400.0 * times**2)
    assert shown.centroid.distance(frame.centroid) == pytest.approx(0.0, abs=1e-6)
    assert next(mark.text for mark in added if isinstance(mark, Label)) == "A"


def test_a_full_sheet_stays_as_it_is():
    full = Path(
        vertices=((0.0, 0.0, 0.0), (400.0, 0.0, 0.0), (400.0, 300.0, 0.0), (0.0, 300.0, 0.0)),
        closed=True, pen="outline", fill="inner",
    )  # fmt: skip
    picture = Picture(marks=(full,), box=(0.0, 0.0, 400.0, 300.0))
    place = Place(name="joint", at=(100.0, 100.0), wide_mm=60.0)
    assert with_insets(picture, (place,), picture.box, 2.0) == picture
