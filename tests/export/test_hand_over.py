"""The hand-over: one page for who folds it, the proof load, the inspections, the label at true size."""

import math
from functools import cache

import pytest
from paper_text import ink_box, pages, rendered, texts
from timber_ramp import timber_ramp

from rampdraft.checks.notes import CAUTIONS, PINCH
from rampdraft.evaluation.evaluate import Evaluation, evaluate
from rampdraft.export.pdf.book import Plain
from rampdraft.export.pdf.hand_over import LABEL_MM, hand_over_pdf, label_picture
from rampdraft.files.design_file import load_design
from rampdraft.files.samples import sample_paths
from rampdraft.mechanics.handling.words import hands_words
from rampdraft.mechanics.loading.loads import persons
from rampdraft.model.fields.paths import with_value

DATE = "2026-03-01"
NAMES = tuple(path.stem for path in sample_paths())


@cache
def sample(name: str) -> Evaluation:
    path = next(path for path in sample_paths() if path.stem == name)
    return evaluate(load_design(path), path.parent)


@cache
def said(name: str) -> tuple[str, ...]:
    return texts(hand_over_pdf(sample(name), date=DATE))


@pytest.mark.parametrize("name", NAMES)
def test_whoever_folds_it_has_one_page_with_every_stage(name: str) -> None:
    folds = [text for text in said(name) if "Hand-over: How it is folded" in text]
    assert len(folds) == 1
    assert PINCH in folds[0]
    for stage, asked in zip(sample(name).path.stages, sample(name).hands, strict=True):
        assert stage.say in folds[0]
        assert hands_words(asked) in folds[0]


@pytest.mark.parametrize("name", NAMES)
def test_the_proof_load_names_load_places_and_the_set_that_may_stay(name: str) -> None:
    (proof,) = (text for text in said(name) if "Hand-over: Proof load" in text)
    rated = sample(name).design.use.rated_load_kg
    assert f"{1.25 * rated:g} kg" in proof
    assert f"{sample(name).design.inner_leaf.length_mm:.0f} joint" in proof
    assert "May stay when the load is off" in proof
    assert "Nobody on, under or beside" in proof


@pytest.mark.parametrize("name", NAMES)
def test_the_label_tells_load_persons_slope_and_cautions(name: str) -> None:
    (text,) = (text for text in said(name) if "Hand-over: Label" in text)
    evaluation = sample(name)
    design = evaluation.design
    steepest = max(abs(site.steepest.ratio) for site in evaluation.sites)
    assert f"{design.use.rated_load_kg:g} kg at most" in text
    count = persons(design)
    assert f"{count} person{'' if count == 1 else 's'} at most at once" in text
    assert f"No steeper than 1 : {1 / steepest:.1f}" in text
    assert f"{math.degrees(math.atan(steepest)):.1f}°" in text
    assert all(caution in text for caution in CAUTIONS)


def test_the_label_measures_what_it_should_on_a_rendered_page() -> None:
    from paper_text import parts_of

    from rampdraft.drawing.sheet import Placed

    placed, dpi = Placed(picture=label_picture(evaluate(timber_ramp()))), 300
    data = parts_of(Plain(size_mm=(160.0, 110.0), ops=[lambda paper: paper.placed(placed, 9.5, 9.5)]))
    x0, y0, x1, y1 = ink_box(rendered(data, 0, dpi), dpi)
    assert (x1 - x0, y1 - y0) == pytest.approx(LABEL_MM, abs=0.6)


def test_words_of_the_label_stay_on_it() -> None:
    long = with_value(
        timber_ramp(), "about.name", "A ramp with a name of many words that goes on and on, W" * 1
    )
    marks = label_picture(evaluate(long)).marks
    labels = [mark for mark in marks if hasattr(mark, "text")]
    assert min(label.at[1] for label in labels) >= 2.5
    assert max(label.at[1] for label in labels) <= LABEL_MM[1]


def test_equal_input_gives_equal_bytes() -> None:
    one, other = (hand_over_pdf(evaluate(timber_ramp()), date=DATE) for _ in range(2))
    assert one == other
    assert len(pages(one)) == 4
