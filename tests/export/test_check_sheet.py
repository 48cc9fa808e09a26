"""The check sheet: summary first, the working of every check, on twelve upright pages at most."""

from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest
from paper_text import flat, ink_box, letter_sizes, pages, rendered, texts
from ramps import standing_in
from timber_ramp import timber_ramp
from tries import first

from rampdraft.checks.notes import CAUTIONS, UNJUDGED
from rampdraft.checks.result import Demand, Measured, Result, Unjudged, compose, tally_words
from rampdraft.drawing.sheet import frame_box
from rampdraft.evaluation.evaluate import Evaluation, evaluate
from rampdraft.export.pdf import workings
from rampdraft.export.pdf.book import PORTRAIT_MM, SHORT_CAUTION
from rampdraft.export.pdf.check_sheet import check_sheet_pdf
from rampdraft.export.pdf.workings import RESULT_SHAPES, in_groups, numbers
from rampdraft.files.design_file import load_design
from rampdraft.files.samples import sample_paths
from rampdraft.mechanics.handling.words import hands_words, people_words
from rampdraft.model.fields.paths import with_value
from rampdraft.words.prose import stated

DATE = "2026-03-01"
SAMPLES = sample_paths()


@pytest.fixture(autouse=True)
def without_ways(monkeypatch: pytest.MonkeyPatch) -> None:
    """The search for ways out takes longer than the whole paper, and has a test of its own."""
    monkeypatch.setattr(workings, "ways_out", lambda *_: {})


@cache
def starter() -> Evaluation:
    return evaluate(timber_ramp())


@cache
def sample(path: Path) -> Evaluation:
    return evaluate(load_design(path), path.parent)


@cache
def sample_pdf(path: Path) -> bytes:
    return check_sheet_pdf(sample(path), date=DATE)


@cache
def page_texts() -> tuple[str, ...]:
    return texts(check_sheet_pdf(starter(), date=DATE))


@pytest.mark.parametrize("path", first(2, SAMPLES), ids=lambda path: path.stem)
def test_it_has_twelve_upright_pages_at_most(path: Path) -> None:
    found = pages(sample_pdf(path))
    assert len(found) <= 12
    for page in found:
        size = float(page.mediabox.width) * 25.4 / 72, float(page.mediabox.height) * 25.4 / 72
        assert size == pytest.approx(PORTRAIT_MM, abs=0.01)
    assert min(size for page in found for size in letter_sizes(page)) >= 7


@pytest.mark.parametrize("path", first(1, SAMPLES), ids=lambda path: path.stem)
def test_nothing_is_printed_outside_the_margins(path: Path) -> None:
    data, dpi = sample_pdf(path), 50
    x0, y0, x1, y1 = frame_box(PORTRAIT_MM)
    for number in range(len(pages(data))):
        left, low, right, high = ink_box(rendered(data, number, dpi), dpi)
        assert left >= x0 - 0.8
        assert low >= y0 - 1.8
        assert right <= x1 + 0.8
        assert high <= y1 + 0.8


def test_every_page_says_what_it_is_of_and_the_caution() -> None:
    count = len(page_texts())
    for number, text in enumerate(page_texts(), start=1):
        assert flat(SHORT_CAUTION) in text
        assert f"{number} / {count}" in text
        assert DATE in text
        assert "New ramp" in text
        assert "R1" in text


def test_the_summary_stands_first_with_the_verdict_the_figures_and_the_cautions() -> None:
    first, evaluation = page_texts()[0], starter()
    assert tally_words(evaluation.all_checks) in first
    worst, room = max(evaluation.hands, key=lambda stage: stage.share), evaluation.fold.envelope
    told = f"Folding by hand {hands_words(worst)}, {people_words(worst)}, at the worst place, "
    assert f"{told}{100 * worst.at:.0f} % of the way" in first
    assert f"{room.in_front_mm:.0f} mm in front of the deck edge" in first
    for caution in CAUTIONS:
        assert caution in first


def test_what_does_not_plainly_pass_is_listed_under_the_number_of_its_working() -> None:
    whole = " ".join(page_texts())
    listed = whole[whole.index("What fails, is close") : whole.index("Gradients")]
    number = numbers(starter().all_checks)
    odd = [check for check in starter().all_checks if check.result is not Result.PASSES]
    assert odd
    for check in odd:
        assert (
            f"{number[check.id]} {RESULT_SHAPES[check.result]} {check.result} {flat(check.title)}" in listed
        )


@pytest.mark.parametrize("path", first(1, SAMPLES), ids=lambda path: path.stem)
def test_the_working_of_every_check_stands_in_full(path: Path) -> None:
    """Or names the check whose working is the same word for word; a part is at the head of a group."""
    # head and foot come last
    contents = (text[: text.rindex("Check sheet")] for text in texts(sample_pdf(path)))
    whole = "".join(" ".join(contents).split())
    first: dict[tuple[str, ...], int] = {}
    number = numbers(sample(path).all_checks)
    for group in in_groups(sample(path).all_checks):
        for check in group:
            same = first.setdefault(check.steps, number[check.id])
            assert "".join(check.title.split()) in whole
            for words in (check.value_text, check.limit_words, check.source.title, check.source.clause):
                assert "".join(words.split()) in whole
            if same == number[check.id]:
                for step in check.steps:
                    assert "".join(step.split()) in whole, step
            elif check.steps and len(group) == 1:
                assert f"as{same}" in whole


def test_a_warning_is_told_as_one_and_the_reason_is_given() -> None:
    demand = Demand.own("x", "Width", "at most", "mm", 2.0, "2 mm")
    beyond = Measured(key="", subject="", value=3.0, working=stated("3 = 3"))
    warned = compose(replace(demand, warning="Advice."), beyond)
    unjudged = compose(demand, Unjudged(key="", subject="", why="nobody measured it"))
    text = " ".join(texts(check_sheet_pdf(standing_in(starter(), all_checks=(warned, unjudged)), date=DATE)))
    assert "△ advice" in text
    assert "? not judged" in text
    assert "nobody measured it" in text


def test_a_ramp_without_rule_sets_says_so() -> None:
    data = check_sheet_pdf(standing_in(starter(), all_checks=()), date=DATE)
    assert "No rule set was asked for." in " ".join(texts(data))


def test_all_sites_have_their_gradients() -> None:
    text = " ".join(page_texts())
    for site in starter().sites:
        assert f"{site.site_number} {site.site}" in text
        for leaf in (site.inner, site.outer, site.whole):
            told = f"{leaf.rise_mm:.1f} / {leaf.going_mm:.1f}".replace("-", "−")
            assert f"1 : {1 / abs(leaf.ratio):.1f} ({100 * leaf.ratio:.1f} %)".replace("-", "−") in text
            assert told in text


def test_map_charts_and_room_are_there() -> None:
    text = " ".join(page_texts())
    room = starter().fold.envelope
    for words in (
        "Clearance map",
        "Tightest place",
        f"in front {room.in_front_mm:.0f}",
        f"above deck {room.above_deck_mm:.0f}",
        "clearance, mm",
        "hand force, N",
        f"{starter().fold.hand.peak.peak_n:.0f} N",
    ):
        assert words in text


def test_what_is_not_judged_and_what_was_cited_end_it() -> None:
    text = " ".join(page_texts())
    assert all(line in text for line in UNJUDGED)
    for check in starter().all_checks:
        assert flat(check.source.publication) in text


def test_equal_input_gives_equal_bytes() -> None:
    one, other = (check_sheet_pdf(evaluate(timber_ramp()), date=DATE) for _ in range(2))
    assert one == other


def test_another_date_is_all_that_another_date_changes() -> None:
    other = texts(check_sheet_pdf(starter(), date="1999-12-31"))
    assert tuple(text.replace("1999-12-31", DATE) for text in other) == page_texts()


ODD = (
    "خشبة المسرح",
    "<b>&amp;</b> <para> 🛠 漢字 \x1b[31m",
    "many words " * 45,
    "🛠 ramp 漢字",
    "x" * 500,
    "\x00\x1b[31m",
    "\ud800",
    "%PDF-1.4 )) ((",
    "",
)


@pytest.mark.parametrize("odd", first(3, ODD), ids=range(len(ODD)))
def test_odd_text_never_breaks_it(odd: str) -> None:
    evaluation = starter()
    design = evaluation.design
    design = replace(
        design,
        about=replace(design.about, name=odd, drawing_number=odd, author=odd, note=odd),
        sites=tuple(replace(site, name=odd) for site in design.sites),
    )
    sites = tuple(replace(site, site=odd) for site in evaluation.sites)
    check = compose(
        Demand.own("x", odd, "at most", "mm", 2.0, odd),
        Measured(key="", subject=odd, value=2.0, working=stated(odd), text=odd, why=odd),
    )
    named = standing_in(Evaluation(design, evaluation.rule_sets), sites=sites, all_checks=(check,))
    assert len(pages(check_sheet_pdf(named, date=odd))) >= 3


@pytest.mark.parametrize("sites", [1, 9])
def test_any_number_of_sites_has_room(sites: int) -> None:
    design = timber_ramp()
    named = tuple(replace(design.sites[0], name=f"Place {n}") for n in range(1, sites + 1))
    evaluation = evaluate(with_value(design, "sites", named))
    text = " ".join(texts(check_sheet_pdf(standing_in(evaluation, all_checks=(), rolling=()), date=DATE)))
    assert all(f"{n} Place {n}" in text for n in range(1, sites + 1))
