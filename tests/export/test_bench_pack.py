"""The bench pack: drawings true to scale on A4 or A3, lists of all parts, few sheets, and the same each
time.
"""

import subprocess
import sys
from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest
from paper_text import flat, ink_box, letter_sizes, pages, places, rendered, texts
from ramps import standing_in
from timber_ramp import timber_ramp
from tries import first

from rampdraft.checks.notes import CAUTIONS
from rampdraft.drawing.sheet import BLOCK_WIDTH_MM, LANDSCAPE_MM, PAPER_MM, frame_box
from rampdraft.evaluation.evaluate import Evaluation, evaluate
from rampdraft.export.pdf.bench import bench_pack_pdf
from rampdraft.export.pdf.room import room_on
from rampdraft.files.design_file import load_design
from rampdraft.files.samples import sample_paths
from rampdraft.mechanics.handling.words import hands_words, people_words
from rampdraft.model.design import NO_ASSIST, Handle, Obstacle, Price
from rampdraft.model.fields.paths import with_value
from rampdraft.model.section import parse_section
from rampdraft.shop.parts import full_number

DATE = "2026-03-01"
SAMPLES = sample_paths()


@cache
def starter() -> Evaluation:
    return evaluate(timber_ramp())


@cache
def starter_pdf() -> bytes:
    return bench_pack_pdf(starter(), date=DATE)


@cache
def sample_pdf(path: Path, paper: str = "A4") -> bytes:
    design = with_value(load_design(path), "about.paper", paper)
    return bench_pack_pdf(evaluate(design, path.parent), date=DATE)


def across(data: bytes) -> list[int]:
    """Return the numbers of the drawing sheets, from 0."""
    return [
        number
        for number, page in enumerate(pages(data))
        if float(page.mediabox.width) > float(page.mediabox.height)
    ]


def drawn(data: bytes) -> str:
    found = texts(data)
    return " ".join(found[number] for number in across(data))


def listed(data: bytes) -> str:
    found = texts(data)
    return " ".join(text for number, text in enumerate(found) if number not in across(data))


def test_the_library_trailer_has_fourteen_sheets_at_most() -> None:
    path = next(path for path in SAMPLES if path.stem == "library-trailer")
    assert len(pages(sample_pdf(path))) <= 14
    assert len(pages(sample_pdf(path, "A3"))) < len(pages(sample_pdf(path)))


@pytest.mark.parametrize("paper", ["A4", "A3"])
def test_drawing_sheets_are_of_the_paper_asked_for(paper: str) -> None:
    data = sample_pdf(SAMPLES[0], paper)
    found = across(data)
    assert len(found) >= 3
    for number in found:
        box = pages(data)[number].mediabox
        size = float(box.width) * 25.4 / 72, float(box.height) * 25.4 / 72
        assert size == pytest.approx(PAPER_MM[paper], abs=0.01)


@pytest.mark.parametrize("path", first(2, SAMPLES), ids=lambda path: path.stem)
def test_nothing_is_printed_outside_the_frame_and_no_letter_is_small(path: Path) -> None:
    data, dpi = sample_pdf(path), 50
    for number in across(data):
        assert ink_box(rendered(data, number, dpi), dpi) == pytest.approx(frame_box(LANDSCAPE_MM), abs=0.8)
    assert min(size for page in pages(data) for size in letter_sizes(page)) >= 7


def test_all_parts_are_listed_and_drawn() -> None:
    evaluation = starter()
    for part in evaluation.parts:
        number = full_number(part, "R1")
        assert f"{number} {part.words} {part.quantity} {part.piece.section.text}" in listed(starter_pdf())
        assert f"{number} {part.words}: {part.quantity} off" in drawn(starter_pdf())
    mass = sum(part.mass_kg * part.quantity for part in evaluation.parts)
    assert f"{mass:.1f} kg" in listed(starter_pdf())


def test_the_cutting_plan_names_what_is_cut_and_what_is_not() -> None:
    text, plan = listed(starter_pdf()), starter().least_plan
    assert plan.words in text
    for bar in plan.bars:
        assert bar.section in text
        assert all(cut.part in text for cut in bar.cuts)
    assert all(f"{one.quantity} × {one.part}: {flat(one.words)}" in text for one in plan.unplaced)


def test_what_the_lists_cannot_hold_is_told_and_what_it_costs() -> None:
    (path,) = (path for path in SAMPLES if path.stem == "barn-stage")
    (remark,) = evaluate(load_design(path), path.parent).remarks
    text = listed(sample_pdf(path))
    assert f"To be settled before it is built {remark.words} ({remark.members[0]})." in text
    priced = with_value(load_design(path), "prices", (Price(item="F1", each=0.25),))
    (words,) = evaluate(priced, path.parent).costs.told
    assert words in listed(bench_pack_pdf(evaluate(priced, path.parent), date=DATE))
    (trailer,) = (path for path in SAMPLES if path.stem == "library-trailer")
    nothing = with_value(load_design(trailer), "carrier.end_setback_mm", 0.0)
    nothing = with_value(nothing, "deck_hinge.knuckle_length_mm", 49.0)
    assert not evaluate(nothing, trailer.parent).remarks
    assert "To be settled" not in listed(bench_pack_pdf(evaluate(nothing, trailer.parent), date=DATE))


def test_the_cautions_stand_in_full() -> None:
    assert all(caution in listed(starter_pdf()) for caution in CAUTIONS)


def test_the_fold_is_told_stage_by_stage_with_force_and_place() -> None:
    text = drawn(starter_pdf())
    for stage, asked in zip(starter().fold.path.stages, starter().hands, strict=True):
        assert stage.say in text
        assert f"{hands_words(asked)}, {people_words(asked)}; clearance " in text


def test_hands_are_named_where_they_hold() -> None:
    handles = (
        Handle(name="side grip", leaf="inner", at_mm=900, above_mm=30),
        Handle(name="toe loop", leaf="outer", at_mm=1250, above_mm=-20),
    )
    lamp = Obstacle(
        name="lamp", outline_mm=((5, -120), (60, -120), (60, -80), (5, -80)), left_mm=450, right_mm=520
    )
    helped = replace(NO_ASSIST, kind="gas", leaf_at_mm=600)
    evaluation = evaluate(replace(timber_ramp(), handles=handles, obstacles=(lamp,), assist=helped))
    text = drawn(bench_pack_pdf(evaluation, date=DATE))
    for asked in evaluation.hands:
        assert hands_words(asked) in text
        assert all(text.count(one.handle) > text.count(f"at the {one.handle}") for one in asked.places)


def test_the_check_line_measures_100_mm_on_a_rendered_page() -> None:
    dpi, data, room = 600, starter_pdf(), room_on("A4")
    x, low = room.check_line_at
    image = rendered(data, across(data)[-1], dpi)
    column = round(x / 25.4 * dpi)
    dark = [y for y in range(image.height) if image.getpixel((column, y)) < 128]
    runs = [y for y in dark if LANDSCAPE_MM[1] - low - 101 < y * 25.4 / dpi < LANDSCAPE_MM[1] - low + 1]
    assert runs == list(range(runs[0], runs[-1] + 1)), "one unbroken line"
    assert (runs[-1] - runs[0] + 1) * 25.4 / dpi == pytest.approx(100, abs=0.3)
    assert all("measure: 100 mm" in texts(data)[number] for number in across(data))


def test_the_table_of_revisions_has_room_beside_the_title_block() -> None:
    design = timber_ramp()
    long = "Many long words in a rather long name, and some more words"
    about = replace(design.about, name=long, author=long, note=long * 20)
    data = bench_pack_pdf(evaluate(replace(design, about=about)), date=DATE, revision="abcdef12")
    x0, _, x1, _ = frame_box(LANDSCAPE_MM)
    for number in across(data):
        spots = [
            (text, x)
            for text, x, y in places(pages(data)[number])
            if x0 < x < x1 - BLOCK_WIDTH_MM and y < room_on("A4").bottom - 0.5
        ]
        said = " ".join(text for text, _ in spots)
        assert all(words in said for words in ("Revision", "Change", "abcdef12", DATE))
        assert long[:20] not in said


def test_equal_input_gives_equal_bytes() -> None:
    assert bench_pack_pdf(evaluate(timber_ramp()), date=DATE) == starter_pdf()


def test_bytes_do_not_depend_on_the_process() -> None:
    program = (
        "import hashlib; from rampdraft.evaluation.evaluate import evaluate; "
        "from rampdraft.export.pdf.bench import bench_pack_pdf; "
        "from rampdraft.export.pdf.check_sheet import check_sheet_pdf; "
        "from rampdraft.model.starter import starter_design; "
        f"found = evaluate(starter_design()); both = [f(found, date='{DATE}') for f in"
        " (bench_pack_pdf, check_sheet_pdf)]; print(hashlib.sha256(b''.join(both)).hexdigest())"
    )
    root = Path(__file__).parents[2]
    sums = {
        subprocess.run(
            [sys.executable, "-c", program],
            cwd=root,
            env={"PYTHONHASHSEED": seed, "PYTHONPATH": str(root)},
            capture_output=True,
            text=True,
            check=True,
        ).stdout
        for seed in ("1", "2")
    }
    assert len(sums) == 1


@pytest.mark.parametrize(
    "odd", first(2, ["خشبة <b>&amp;</b>\x1b[31m", "many words " * 45, "x" * 500, "\x00", "<b>&amp;</b>", ""])
)
def test_odd_text_never_breaks_it(odd: str) -> None:
    evaluation = starter()
    design = evaluation.design
    about = replace(design.about, name=odd, drawing_number=odd, author=odd, note=odd)
    parts = tuple(replace(part, name=odd) for part in evaluation.parts)
    sites = tuple(replace(site, site=odd) for site in evaluation.sites)
    named = Evaluation(replace(design, about=about), evaluation.rule_sets)
    data = bench_pack_pdf(standing_in(named, parts=parts, sites=sites), date=odd)
    assert len(pages(data)) >= 6


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


@pytest.mark.parametrize(
    "changes",
    [
        pytest.param(changes, id=", ".join(changes), marks=[pytest.mark.soak] if number % 3 else [])
        for number, changes in enumerate(EXTREMES)
    ],
)
def test_ramps_of_all_kinds_have_a_pack(changes: dict[str, object]) -> None:
    design = timber_ramp()
    for path, value in changes.items():
        design = with_value(design, path, value)
    evaluation = evaluate(design)
    text = " ".join(texts(bench_pack_pdf(evaluation, date=DATE)))
    assert all(full_number(part, "R1") in text for part in evaluation.parts)
