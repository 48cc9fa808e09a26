"""Templates: printed at true size, rendered and measured."""

import math
from itertools import pairwise

import numpy as np
import pypdfium2
import pytest
from paper_text import texts

from rampdraft.drawing.ink import Label
from rampdraft.drawing.templates import Template, templates
from rampdraft.evaluation.evaluate import Evaluation, evaluate
from rampdraft.export.pdf.templates import (
    BOTTOM_MM,
    LAP_MM,
    LEFT_MM,
    RULER_AT_MM,
    RULER_MM,
    TALL_MM,
    WIDE_MM,
    templates_pdf,
    tiles,
)
from rampdraft.files.design_file import load_design
from rampdraft.files.samples import sample_paths

SCALE = 4
"""Pixels a point, a whole number."""
PX_PER_MM = SCALE * 72 / 25.4
SAMPLES = {path.stem: path for path in sample_paths()}


@pytest.fixture(scope="module")
def trailer() -> Evaluation:
    path = SAMPLES["library-trailer"]
    return evaluate(load_design(path), path.parent)


@pytest.fixture(scope="module")
def printed(trailer: Evaluation) -> bytes:
    return templates_pdf(trailer, date="2020-01-01", revision="r1")


@pytest.fixture(scope="module")
def found(trailer: Evaluation) -> tuple[Template, ...]:
    return templates(trailer)


@pytest.fixture(scope="module")
def first_sheet(printed: bytes) -> np.ndarray:
    """Return where the first sheet is dark, [y from below, x], PX_PER_MM pixels a mm."""
    page = pypdfium2.PdfDocument(printed)[0]
    picture = page.render(scale=SCALE, grayscale=True).to_numpy().squeeze()
    return picture[::-1] < 128


def spans(row: np.ndarray) -> list[tuple[float, float]]:
    """Return the dark runs of a row of pixels, in mm."""
    edges = np.flatnonzero(np.diff(np.concatenate(([False], row, [False])).astype(int)))
    return [(a / PX_PER_MM, b / PX_PER_MM) for a, b in edges.reshape(-1, 2)]


def test_both_rulers_are_a_hundred_millimetres_on_paper(first_sheet: np.ndarray) -> None:
    x, y = RULER_AT_MM
    level = max(spans(first_sheet[round(y * PX_PER_MM)]), key=lambda span: span[1] - span[0])
    upright = max(spans(first_sheet[:, round(y * PX_PER_MM)]), key=lambda span: span[1] - span[0])
    for start, end in (level, upright):
        assert start == pytest.approx(x, abs=0.3)
        assert end - start == pytest.approx(RULER_MM, abs=0.3)


def test_a_wrap_is_as_wide_as_the_bar_is_round_and_its_cope_as_the_saw(first_sheet: np.ndarray) -> None:
    """Box 60x40x2.5, corner radius 5 (EN 10219-2:2006, annex B): 200 - 40 + 10 pi = 191.4 round. The cope of
    Ø30, 20 below the top, cuts 30 mm of each side at the end face.
    """
    rows = [spans(row) for row in first_sheet[round(BOTTOM_MM * PX_PER_MM) :, round(18 * PX_PER_MM) :]]
    # The end face: the longest level lines of the first wrap, broken by two copes.
    broken = [row for row in rows if len(row) == 3 and all(b - a > 20 for a, b in row)]
    assert broken
    row = broken[-1]
    assert row[-1][1] - row[0][0] == pytest.approx(200 - 40 + 10 * math.pi, abs=0.4)
    assert [after[0] - before[1] for before, after in pairwise(row)] == pytest.approx([30.0, 30.0], abs=0.4)


def test_tiles_cover_a_template_and_lap(found: tuple[Template, ...]) -> None:
    for one in found:
        cut = tiles(one)
        assert [(tile.number, tile.of) for tile in cut] == [(k + 1, len(cut)) for k in range(len(cut))]
        boxes = [tile.picture.box for tile in cut]
        assert all(x1 - x0 <= WIDE_MM + 1e-6 and y1 - y0 <= TALL_MM for x0, y0, x1, y1 in boxes)
        size = sorted((one.picture.box[2] - one.picture.box[0], one.picture.box[3] - one.picture.box[1]))
        whole = (min(b[0] for b in boxes), min(b[1] for b in boxes), max(b[2] for b in boxes))
        assert sorted((whole[2] - whole[0], max(b[3] for b in boxes) - whole[1])) == pytest.approx(size)
        for (_, _, right, _), (left, _, _, _) in pairwise(sorted(boxes)):
            assert right - left == pytest.approx(LAP_MM) or left == pytest.approx(boxes[0][0])


def test_each_register_mark_is_on_both_sheets_that_meet_there(found: tuple[Template, ...]) -> None:
    seen = 0
    for one in found:
        cut = tiles(one)
        marks = [mark.at for mark in cut[0].picture.marks if isinstance(mark, Label) and mark.pen == "accent"]
        assert bool(marks) is (len(cut) > 1)
        for x, y in marks:
            on = [t for t in cut if t.picture.box[0] <= x <= t.picture.box[2] and t.picture.box[1] <= y]
            assert len([tile for tile in on if y <= tile.picture.box[3]]) >= 2
            seen += 1
    assert seen > 10


def test_every_template_is_told_on_its_sheets_with_the_cautions(
    printed: bytes, found: tuple[Template, ...]
) -> None:
    pages = texts(printed)
    whole = " ".join(pages)
    assert all(one.title in whole for one in found)
    for number, page in enumerate(pages, start=1):
        assert f"sheet {number} of {len(pages)}" in page
        assert "aid to a competent person" in page
        assert "revision r1" in page


def test_the_jig_tells_the_knuckles_from_the_first_ones_outer_face(
    trailer: Evaluation, found: tuple[Template, ...]
) -> None:
    knuckles = [one for one in trailer.assembly.members if one.role == "knuckle" and one.tag.hinge == "joint"]
    edges = sorted({edge for one in knuckles for edge in (one.y0_mm, one.y1_mm)})
    (jig,) = [one for one in found if one.title.startswith("Jig for the joint")]
    said = {mark.text for mark in jig.picture.marks if isinstance(mark, Label)}
    assert {f"{edge - edges[0]:g}" for edge in edges[1:]} <= said
    assert "63 mm below the top of the rails" in jig.use


def test_the_stop_setting_tells_each_bar_from_the_hinge(found: tuple[Template, ...]) -> None:
    """Bars of 60 mm, cut whole, 0.3 mm of feeler between: each ends 0.15 and 60.15 mm from the hinge, and
    they lie 0 to 20 below the rails' top, whose hinge lies 63 below it: 63 and 43 above the hinge.
    """
    (setting,) = [one for one in found if one.title.startswith("Setting of the stop bars")]
    said = {mark.text for mark in setting.picture.marks if isinstance(mark, Label)}
    assert said == {"60.15", "63", "43"}
    assert "feeler of 0.3 mm" in setting.use


@pytest.mark.parametrize("name", SAMPLES)
def test_every_sample_prints_the_same_templates_twice(name: str) -> None:
    path = SAMPLES[name]
    evaluation = evaluate(load_design(path), path.parent)
    first = templates_pdf(evaluation, date="2020-01-01")
    assert first == templates_pdf(evaluation, date="2020-01-01")
    for page in pypdfium2.PdfDocument(first):
        assert page.get_size() == pytest.approx((297 * 72 / 25.4, 210 * 72 / 25.4), abs=0.01)
    assert LEFT_MM + WIDE_MM <= 297 - 10
