"""The workshop pack as a PDF: what it says, on what paper, true to scale, and the same each time."""

import io
import subprocess
import sys
from dataclasses import replace
from functools import cache
from pathlib import Path

import pypdf
import pypdfium2
import pytest
from PIL import Image
from ramps import standing_in
from timber_ramp import timber_ramp

from rampdraft.checks.notes import CAUTIONS
from rampdraft.checks.result import Demand, Measured, Unjudged, compose
from rampdraft.drawing.charts import clearance_curve
from rampdraft.drawing.sheet import BLOCK_WIDTH_MM, LANDSCAPE_MM, check_line, frame_box
from rampdraft.evaluation.evaluate import Evaluation, evaluate
from rampdraft.export.pdf import tables
from rampdraft.export.pdf.document import CHECK_LINE_X_MM, SHORT_CAUTION, workshop_pdf
from rampdraft.export.pdf.flow import BOTTOM_MM
from rampdraft.files.design_file import load_design
from rampdraft.files.samples import sample_paths
from rampdraft.mechanics.handling.words import hands_words, people_words
from rampdraft.model.design import NO_ASSIST, Handle, Obstacle
from rampdraft.model.fields.paths import with_value
from rampdraft.model.section import parse_section
from rampdraft.prose import stated
from rampdraft.shop.parts import full_number

DATE = "2026-03-01"
DRAWINGS = ("General arrangement", "Fold", "Sites", "Part drawings")


@cache
def starter() -> Evaluation:
    return evaluate(timber_ramp())


@cache
def starter_pdf() -> bytes:
    return workshop_pdf(starter(), date=DATE)


@pytest.fixture(autouse=True)
def without_ways(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> None:
    """The search for ways out takes longer than all the sheets, and has tests of its own: here only the
    samples' sheets have them.
    """
    if "path" not in request.fixturenames:
        monkeypatch.setattr(tables, "ways_out", lambda _: {})


@cache
def sample_pdf(path: Path) -> bytes:
    return workshop_pdf(evaluate(load_design(path), path.parent), date=DATE)


def pages(data: bytes) -> list[pypdf.PageObject]:
    return list(pypdf.PdfReader(io.BytesIO(data)).pages)


def flat(text: str) -> str:
    """Return a text without its line breaks, so that wrapped words can be looked for."""
    return " ".join(text.split())


@cache
def page_texts() -> tuple[str, ...]:
    return tuple(flat(page.extract_text()) for page in pages(starter_pdf()))


def rendered(data: bytes, number: int, dpi: int) -> Image.Image:
    return pypdfium2.PdfDocument(data)[number].render(scale=dpi / 72).to_pil().convert("L")


def test_every_page_is_a4_landscape():
    for page in pages(starter_pdf()):
        size = float(page.mediabox.width) * 25.4 / 72, float(page.mediabox.height) * 25.4 / 72
        assert size == pytest.approx((297, 210), abs=0.01)
        assert page.get("/Rotate", 0) == 0


def test_every_page_has_its_title_block_and_the_caution():
    count = len(page_texts())
    for number, text in enumerate(page_texts(), start=1):
        assert flat(SHORT_CAUTION) in text
        assert f"{number} / {count}" in text
        assert DATE in text
        assert "New ramp" in text
        assert "R1" in text


def test_the_cautions_stand_in_full_on_the_cover_and_at_the_end():
    first = next(number for number, text in enumerate(page_texts()) if "Document Cautions Drawing" in text)
    for text in (page_texts()[0], page_texts()[first]):
        for caution in CAUTIONS:
            assert caution in text


def test_all_parts_are_listed_and_drawn():
    evaluation = starter()
    listed = " ".join(text for text in page_texts() if "Document Part list" in text)
    drawn = " ".join(text for text in page_texts() if "Part drawings" in text)
    for part in evaluation.parts:
        number = full_number(part, "R1")
        assert f"{number} {part.name} {part.quantity} {part.piece.section.text}" in listed
        assert f"{number} {part.name}: {part.quantity} off" in drawn
    mass = sum(part.mass_kg * part.quantity for part in evaluation.parts)
    assert f"{mass:.1f} kg" in listed


def test_all_sites_have_their_gradients():
    text = " ".join(text for text in page_texts() if "Going mm" in text)
    for site in starter().sites:
        assert f"{site.site_number} {site.site} {site.state}" in text
        for leaf in (site.inner, site.outer, site.whole):
            assert (
                f"{leaf.rise_mm:.1f} {leaf.going_mm:.1f} 1 : {1 / leaf.ratio:.1f} {100 * leaf.ratio:.1f} %"
                in text
            )


def test_rolling_over_it_stands_between_the_gradients_and_the_checks():
    first = {
        kind: next(number for number, text in enumerate(page_texts()) if f"Document {kind} Drawing" in text)
        for kind in ("Gradients", "Roll-over", "Roll-over: worst poses", "Checks")
    }
    assert list(first.values()) == sorted(first.values())
    for user in starter().design.use.users:
        assert user.name in page_texts()[first["Roll-over"]]


def test_all_checks_stand_with_value_limit_source_and_working():
    text = " ".join(text for text in page_texts() if "Checks" in text)
    assert starter().checks
    for check in starter().all_checks:
        assert flat(check.title) in text
        assert flat(check.value_text) in text
        assert flat(check.source.title) in text
        for line in check.working:
            assert flat(line) in text


def test_checks_keep_their_order_worst_first():
    text = " ".join(text for text in page_texts() if "Checks" in text)
    results = [word for word in text.split() if word in "✗△✓?"]
    shapes = {"passes": "✓", "close": "△", "advice": "△", "fails": "✗", "not judged": "?"}
    assert results == [shapes[check.result] for check in starter().all_checks]


def test_a_warning_is_told_as_one_and_the_reason_is_given():
    demand = Demand.own("x", "Width", "at most", "mm", 2.0, "2 mm")
    beyond = Measured(key="", subject="", value=3.0, working=stated("3 = 3"))
    warned = compose(replace(demand, warning="Advice."), beyond)
    unjudged = compose(demand, Unjudged(key="", subject="", why="nobody measured it"))
    data = workshop_pdf(standing_in(starter(), all_checks=(warned, unjudged)), date=DATE)
    text = flat(" ".join(page.extract_text() for page in pages(data)))
    assert "△ advice" in text
    assert "? not judged" in text
    assert "nobody measured it" in text


def test_a_ramp_without_rule_sets_says_so():
    data = workshop_pdf(standing_in(starter(), all_checks=()), date=DATE)
    assert "No rule set was asked for." in flat(" ".join(page.extract_text() for page in pages(data)))


def test_the_fold_is_told_stage_by_stage():
    text = next(text for text in page_texts() if " Fold " in text)
    for stage in starter().fold.path.stages:
        assert stage.say in text
    assert "Tightest place" in text


def test_the_fold_tells_each_stages_force_and_clearance():
    text = next(text for text in page_texts() if " Fold " in text)
    fold = starter().fold
    curve = clearance_curve(fold.clearance)
    for stage, asked in zip(fold.path.stages, starter().hands, strict=True):
        least = min(value for share, value in curve if stage.start <= share <= stage.end)
        told = f"{hands_words(asked)}, {people_words(asked)}; clearance {least:.1f}"
        assert told.rstrip("0").rstrip(".") in text


def handled() -> Evaluation:
    handles = (
        Handle(name="side grip", leaf="inner", at_mm=900, above_mm=30),
        Handle(name="toe loop", leaf="outer", at_mm=1250, above_mm=-20),
    )
    lamp = Obstacle(
        name="lamp", outline_mm=((5, -120), (60, -120), (60, -80), (5, -80)), left_mm=450, right_mm=520
    )
    return evaluate(
        replace(
            timber_ramp(),
            handles=handles,
            obstacles=(lamp,),
            assist=replace(NO_ASSIST, kind="gas", leaf_at_mm=600),
        )
    )


def test_hands_are_named_where_they_hold():
    evaluation = handled()
    texts = [flat(page.extract_text()) for page in pages(workshop_pdf(evaluation, date=DATE))]
    fold = next(text for text in texts if " Fold " in text)
    for asked in evaluation.hands:
        assert hands_words(asked) in fold
        assert all(fold.count(one.handle) > fold.count(f"at the {one.handle}") for one in asked.places)


def test_map_charts_and_room_have_a_sheet():
    text = next(text for text in page_texts() if "Clearance map" in text)
    room = starter().fold.envelope
    assert f"in front {room.in_front_mm:.0f}" in text
    assert f"above deck {room.above_deck_mm:.0f}" in text
    for words in (
        "clearance, mm",
        "hand force, N",
        "deployed",
        "stowed",
        f"{starter().fold.hand.peak.peak_n:.0f} N",
    ):
        assert words in text


def test_the_cover_tells_the_peak_of_the_hand_force_and_the_room():
    worst, room = max(starter().hands, key=lambda stage: stage.share), starter().fold.envelope
    told = f"Folding by hand {hands_words(worst)}, {people_words(worst)}, at the worst place, "
    assert f"{told}{100 * worst.at:.0f} % of the way" in page_texts()[0]
    assert f"{room.in_front_mm:.0f} mm in front of the deck edge" in page_texts()[0]


def test_the_cutting_plan_names_what_is_cut_and_what_is_not():
    text = " ".join(text for text in page_texts() if "Cut list and cutting plan" in text)
    plan = starter().least_plan
    assert plan.words in text
    for bar in plan.bars:
        assert bar.section in text
        assert all(cut.part in text for cut in bar.cuts)
    assert all(f"{one.quantity} × {one.part}: {flat(one.words)}" in text for one in plan.unplaced)


def test_equal_input_gives_equal_bytes():
    assert workshop_pdf(evaluate(timber_ramp()), date=DATE) == starter_pdf()


def test_bytes_do_not_depend_on_the_process():
    program = (
        "import hashlib; from rampdraft.evaluation.evaluate import evaluate; "
        "from rampdraft.export.pdf.document import workshop_pdf; "
        "from rampdraft.model.starter import starter_design; "
        "print(hashlib.sha256(workshop_pdf(evaluate(starter_design()),"
        f" date='{DATE}')).hexdigest())"
    )
    root = Path(__file__).parents[2]
    sums = {
        subprocess.run(
            [sys.executable, "-c", program],
            cwd=root,
            env={"PYTHONHASHSEED": seed},
            capture_output=True,
            text=True,
            check=True,
        ).stdout
        for seed in ("1", "2")
    }
    assert len(sums) == 1


def test_another_date_is_all_that_another_date_changes():
    other = workshop_pdf(starter(), date="1999-12-31")
    assert [flat(page.extract_text()).replace("1999-12-31", DATE) for page in pages(other)] == list(
        page_texts()
    )


def test_the_check_line_measures_100_mm_on_a_rendered_page():
    dpi = 600
    number = next(number for number, text in enumerate(page_texts()) if "Part drawings" in text)
    image = rendered(starter_pdf(), number, dpi)
    column = round(CHECK_LINE_X_MM / 25.4 * dpi)
    dark = [y for y in range(image.height) if image.getpixel((column, y)) < 128]
    runs = [
        y
        for y in dark
        if LANDSCAPE_MM[1] - BOTTOM_MM - 101 < y * 25.4 / dpi < LANDSCAPE_MM[1] - BOTTOM_MM + 1
    ]
    assert runs == list(range(runs[0], runs[-1] + 1)), "one unbroken line"
    assert (runs[-1] - runs[0] + 1) * 25.4 / dpi == pytest.approx(100, abs=0.3)


def test_the_check_line_stands_on_each_drawing_and_only_there():
    assert any(mark.text == "measure: 100 mm" for mark in check_line(0, 0) if hasattr(mark, "text"))
    for text in page_texts()[1:]:
        assert ("measure: 100 mm" in text) == any(f"Document {kind} Drawing" in text for kind in DRAWINGS)


@pytest.mark.parametrize("path", sample_paths(), ids=lambda path: path.stem)
def test_nothing_is_printed_outside_the_frame(path):
    data = sample_pdf(path)
    dpi = 50
    for number in range(len(pages(data))):
        image = rendered(data, number, dpi)
        left, top, right, bottom = image.point(lambda grey: 255 if grey < 250 else 0).getbbox()
        x0, y0, x1, y1 = frame_box(LANDSCAPE_MM)
        got = (left * 25.4 / dpi, 210 - bottom * 25.4 / dpi, right * 25.4 / dpi, 210 - top * 25.4 / dpi)
        assert got == pytest.approx((x0, y0, x1, y1), abs=0.8)


@pytest.mark.parametrize("path", sample_paths(), ids=lambda path: path.stem)
def test_no_letter_is_smaller_than_7_point(path):
    data = sample_pdf(path)
    sizes = set()

    def visit(text, cm, tm, _font, size):
        if text.strip():
            sizes.add(
                round(
                    size * abs(cm[0] * tm[0] + cm[2] * tm[1]) + size * abs(cm[1] * tm[0] + cm[3] * tm[1]), 1
                )
            )

    for page in pages(data):
        page.extract_text(visitor_text=visit)
    assert sizes
    assert min(sizes) >= 7


ODD = (
    "خشبة المسرح",
    "מדרון",
    "🛠 ramp 漢字",
    "<b>&amp;</b> <para>",
    "x" * 500,
    "many words " * 45,
    "\x00\x1b[31m",
    "\ud800",
    "%PDF-1.4 )) ((",
    "",
)


@pytest.mark.parametrize("odd", ODD, ids=range(len(ODD)))
def test_odd_text_never_breaks_the_pack(odd):
    evaluation = starter()
    design = evaluation.design
    design = replace(
        design,
        about=replace(design.about, name=odd, drawing_number=odd, author=odd, note=odd),
        sites=tuple(replace(site, name=odd) for site in design.sites),
    )
    parts = tuple(replace(part, name=odd) for part in evaluation.parts)
    sites = tuple(replace(site, site=odd) for site in evaluation.sites)
    check = compose(
        Demand.own("x", odd, "at most", "mm", 2.0, odd),
        Measured(key="", subject=odd, value=2.0, working=stated(odd), text=odd, why=odd),
    )
    named = standing_in(
        Evaluation(design, evaluation.rule_sets), parts=parts, sites=sites, all_checks=(check,)
    )
    data = workshop_pdf(named, date=odd)
    found = pages(data)
    assert len(found) >= 8
    assert all(flat(SHORT_CAUTION) in flat(page.extract_text()) for page in found)


def test_long_names_leave_the_corner_beside_the_title_block_free():
    design = timber_ramp()
    long = "Many long words in a rather long name, and some more words"
    design = replace(
        design,
        about=replace(design.about, name=long, author=long, note=long * 20),
        sites=tuple(replace(site, name=f"{number} {long}"[:60]) for number, site in enumerate(design.sites)),
    )
    x0, _, x1, _ = frame_box(LANDSCAPE_MM)
    for page in pages(workshop_pdf(evaluate(design), date=DATE)):
        spots = []

        def visit(text, cm, tm, _font, _size, spots=spots):
            if text.strip():
                spots.append(((tm[4] * cm[0] + cm[4]) * 25.4 / 72, (tm[5] * cm[3] + cm[5]) * 25.4 / 72))

        page.extract_text(visitor_text=visit)
        assert spots
        assert not [(x, y) for x, y in spots if x0 < x < x1 - BLOCK_WIDTH_MM and y < BOTTOM_MM - 0.5]


def test_markup_is_printed_as_it_is_written():
    design = with_value(timber_ramp(), "about.name", "<b>Ramp</b> & more")
    assert "<b>Ramp</b> & more" in flat(pages(workshop_pdf(evaluate(design), date=DATE))[0].extract_text())


def test_the_document_is_titled():
    metadata = pypdf.PdfReader(io.BytesIO(starter_pdf())).metadata
    assert metadata is not None
    assert metadata.title == "New ramp"


@pytest.mark.parametrize("sites", [1, 9])
def test_any_number_of_sites_has_room(sites):
    design = timber_ramp()
    design = replace(
        design, sites=tuple(replace(design.sites[0], name=f"Place {n}") for n in range(1, sites + 1))
    )
    found = [flat(page.extract_text()) for page in pages(workshop_pdf(evaluate(design), date=DATE))]
    drawn = " ".join(text for text in found if " Sites " in text)
    assert all(
        f"{n} Place {n}, deck {state}" in drawn for n in range(1, sites + 1) for state in ("empty", "loaded")
    )


EXTREMES = (
    {"inner_leaf.slat_width_mm": 1300.0, "inner_leaf.slat_pitch_mm": 1300.0},
    {"inner_leaf.cross_positions_mm": (), "outer_leaf.cross_positions_mm": ()},
    {"inner_leaf.upstand_height_mm": 0.0, "outer_leaf.upstand_height_mm": 0.0},
    {"workshop.slat_screw_mm": 0.0},
    {"toe.kind": "taper"},
    {"toe.kind": "plain"},
    {"stop.kind": "none"},
    {"stop.kind": "lap", "stop.section": parse_section("flat 20x50")},
    {"bridge.fitted": False},
    {"prop.fitted": True},
    {"inner_leaf.cross_fitting": "under", "outer_leaf.cross_fitting": "under"},
    {"inner_leaf.cross_fitting": "half_lap", "inner_leaf.half_lap_mm": 20.0},
    {"carrier.deck_height_mm": 200.0, "carrier.end_depth_mm": 60.0, "toe.kind": "plain"},
    {"carrier.deck_height_mm": 2000.0},
    {"carrier.deck_length_mm": 100.0},
    {"inner_leaf.length_mm": 3000.0},
    {"fold.closing": "faces", "joint.height_mm": 80.0, "outer_leaf.length_mm": 1150.0, "toe.kind": "plain"},
)


@pytest.mark.parametrize("changes", EXTREMES, ids=[", ".join(changes) for changes in EXTREMES])
def test_ramps_of_all_kinds_have_a_pack(changes):
    design = timber_ramp()
    for path, value in changes.items():
        design = with_value(design, path, value)
    evaluation = evaluate(design)
    found = pages(workshop_pdf(evaluation, date=DATE))
    text = flat(" ".join(page.extract_text() for page in found))
    assert all(full_number(part, "R1") in text for part in evaluation.parts)
