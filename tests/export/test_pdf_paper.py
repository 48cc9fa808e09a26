"""Letters, curves and areas on paper."""

import io
import math

import paper_text
import pypdf
import pytest
from hypothesis import given
from hypothesis import strategies as st
from paper_text import ink_box, parts_of
from PIL import Image

from rampdraft.drawing.ink import Label, Path, Picture, area
from rampdraft.drawing.sheet import Placed
from rampdraft.export.pdf.book import Plain
from rampdraft.export.pdf.paper import fitted_text, printable, shortened, width_mm, wrapped
from rampdraft.geometry.outline import disc, rectangle

SIZE = (100.0, 80.0)


def pdf(*draw):
    return parts_of(Plain(size_mm=SIZE, ops=list(draw)))


def rendered(data: bytes, dpi: int) -> Image.Image:
    return paper_text.rendered(data, 0, dpi)


def words(data: bytes) -> str:
    return pypdf.PdfReader(io.BytesIO(data)).pages[0].extract_text()


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        ("plain", "plain"),
        ("漢字", "??"),
        ("a\tb\nc", "a b c"),
        ("\x00\x07", "??"),
        ("\ud800", "?"),
        ("Ø 30 × 2 ≤ 5 °", "Ø 30 × 2 ≤ 5 °"),
        ("<b>&amp;", "<b>&amp;"),
    ],
)
def test_what_the_font_lacks_is_a_question_mark(text, shown):
    assert printable(text) == shown
    if shown.strip():
        assert words(pdf(lambda paper: paper.text((10, 40), text, 9))).strip() == shown


def test_no_black_square_is_ever_printed():
    """The character that the font lacks and the question mark give the same ink."""
    lacking, mark = (rendered(pdf(lambda paper, t=t: paper.text((10, 40), t, 40)), 60) for t in ("漢", "?"))
    assert lacking.tobytes() == mark.tobytes()


def test_the_font_is_embedded():
    page = pypdf.PdfReader(io.BytesIO(pdf(lambda paper: paper.text((10, 40), "Ramp", 9)))).pages[0]
    fonts = [font.get_object() for font in page["/Resources"]["/Font"].values()]
    used = [font for font in fonts if "DejaVu" in font["/BaseFont"]]
    assert used
    assert all("/FontFile2" in font["/FontDescriptor"] for font in used)


@given(st.text(max_size=60), st.floats(8, 60), st.floats(6, 20))
def test_wrapped_lines_fit_and_lose_no_letter(text, room, size):
    lines = wrapped(text, room, size)
    widest = max((width_mm(letter, size) for letter in printable(text)), default=0.0)
    assert all(width_mm(line, size) <= max(room, widest) + 1e-6 for line in lines)
    assert "".join("".join(lines).split()) == "".join(printable(text.replace("\n", " ")).split())


@given(st.text(max_size=60), st.floats(5, 60))
def test_a_shortened_text_fits_or_is_a_letter_and_an_ellipsis(text, room):
    short = shortened(text, room, 8)
    assert width_mm(short, 8) <= room + 1e-6 or len(short) <= 2


def test_a_text_that_fits_is_not_shortened():
    assert shortened("Barn stage", 60, 9) == "Barn stage"
    assert shortened("Barn stage " * 20, 60, 9).endswith("…")


@given(st.text(max_size=90), st.floats(15, 90), st.floats(7, 12))
def test_a_text_is_made_smaller_before_it_is_cut(text, room, size):
    short, smaller = fitted_text(text, room, size)
    assert 7 <= smaller <= size
    assert width_mm(short, smaller) <= room + 1e-6
    if short.endswith("…") and "…" not in text:
        assert smaller == 7


@pytest.mark.parametrize("scale", [1, 2])
def test_a_circle_is_round_and_true_to_size(scale):
    circle = Picture(marks=(area(disc(0, 0, 40), "thin", "inner"),), box=(-25, -25, 25, 25))
    data = pdf(lambda paper: paper.placed(Placed(picture=circle, scale=scale), 20, 10))
    x0, y0, x1, y1 = ink_box(rendered(data, 400), 400)
    assert (x1 - x0, y1 - y0) == pytest.approx((40 / scale + 0.18, 40 / scale + 0.18), abs=0.15)
    assert ((x0 + x1) / 2, (y0 + y1) / 2) == pytest.approx((20 + 25 / scale, 10 + 25 / scale), abs=0.1)


@pytest.mark.parametrize("bulge", [0.2, -0.2, 1.0, -1.0, 3.0])
def test_arcs_bulge_to_the_side_that_their_sign_says(bulge):
    arc = Path(vertices=((30, 40, bulge), (50, 40, 0.0)), closed=False, pen="thin")
    x0, y0, x1, y1 = ink_box(rendered(pdf(lambda paper: paper.marks((arc,))), 300), 300)
    # The sagitta is bulge x half the chord; a positive bulge turns counter-clockwise, so it hangs below this
    # chord.
    reach = abs(bulge) * 10
    assert (y0, y1) == pytest.approx((40 - reach, 40) if bulge > 0 else (40, 40 + reach), abs=0.3)
    half = max(10.0, 20 * (1 + bulge**2) / (4 * abs(bulge)) if abs(bulge) > 1 else 10.0)
    assert (x0, x1) == pytest.approx((40 - half, 40 + half), abs=0.3)


def test_what_lies_outside_the_box_of_a_picture_is_cut_off():
    wide = Picture(marks=(area(rectangle(-500, -500, 500, 500), "outline", "inner"),), box=(0, 0, 30, 20))
    data = pdf(lambda paper: paper.placed(Placed(picture=wide, scale=1), 10, 15))
    assert ink_box(rendered(data, 300), 300) == pytest.approx((10, 15, 40, 35), abs=0.1)


def test_a_clash_is_hatched():
    flat = area(rectangle(20, 20, 60, 60), "thin", "inner")
    clash = area(rectangle(20, 20, 60, 60), "clash", "clash")
    greys = []
    for mark in (flat, clash):
        inner = rendered(pdf(lambda paper, mark=mark: paper.marks((mark,))), 200).crop((180, 200, 440, 440))
        greys.append(len(set(inner.tobytes())))
    assert greys[0] == 1, "a plain area is one grey"
    assert greys[1] > 5, "a hatched one is not"


def test_letters_lean_on_their_anchor():
    boxes = {}
    for anchor in ("left", "centre", "right"):
        label = Label(text="mmmm", at=(50, 40), anchor=anchor, size_pt=12)
        boxes[anchor] = ink_box(rendered(pdf(lambda paper, label=label: paper.marks((label,))), 200), 200)
    assert boxes["left"][0] == pytest.approx(50, abs=0.6)
    assert boxes["right"][2] == pytest.approx(50, abs=0.6)
    assert (boxes["centre"][0] + boxes["centre"][2]) / 2 == pytest.approx(50, abs=0.4)


def test_a_turned_label_runs_up_the_sheet():
    label = Label(text="mmmm", at=(50, 20), size_pt=12, angle_deg=90)
    x0, y0, x1, y1 = ink_box(rendered(pdf(lambda paper: paper.marks((label,))), 200), 200)
    assert y1 - y0 > 3 * (x1 - x0)
    assert y0 == pytest.approx(20, abs=0.6)
    assert x1 <= 50.3, "its foot is at the right"


def test_curves_stay_on_their_circle():
    """Within 0.03 % of the radius, as the source of the handles says."""
    from rampdraft.export.pdf.paper import _curves

    for bulge in (1.0, -0.7, 0.1, 2.5):
        start, end = (0.0, 0.0), (10.0, 3.0)
        radius = math.dist(start, end) * (1 + bulge**2) / (4 * abs(bulge))
        offset = (1 - bulge**2) / (4 * bulge)
        centre = (5 - 3 * offset, 1.5 + 10 * offset)
        point = start
        for ax, ay, bx, by, cx, cy in _curves(start, end, bulge):
            for step in range(11):
                t = step / 10
                weights = ((1 - t) ** 3, 3 * t * (1 - t) ** 2, 3 * t * t * (1 - t), t**3)
                x = sum(w * p for w, p in zip(weights, (point[0], ax, bx, cx), strict=True))
                y = sum(w * p for w, p in zip(weights, (point[1], ay, by, cy), strict=True))
                assert math.dist((x, y), centre) == pytest.approx(radius, rel=3e-4)
            point = (cx, cy)
        assert point == pytest.approx(end)


def test_what_no_break_spaces_join_stays_on_one_line():
    title = "Joint, straight, 1\u00a0:\u00a02"
    joined = "1\u00a0:\u00a02"
    for room in range(20, 60):
        if width_mm(joined, 9) <= room:
            assert sum(joined in line for line in wrapped(title, room, 9)) == 1
