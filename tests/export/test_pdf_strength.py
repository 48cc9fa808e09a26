"""Strength on the check sheet: where it stands, what it says, and that it is what the checks say."""

from functools import cache

import pytest
from paper_text import of_story, texts

from rampdraft.checks.demands.strength import member_rows
from rampdraft.evaluation.evaluate import Evaluation, evaluate
from rampdraft.export.pdf import workings
from rampdraft.export.pdf.check_sheet import check_sheet_pdf
from rampdraft.export.pdf.strength import carrier_story, letters, strength_story
from rampdraft.files.design_file import load_design
from rampdraft.files.samples import sample_paths
from rampdraft.mechanics.carrier.results import Standing

NAMES = tuple(path.stem for path in sample_paths())


@cache
def sample(name: str) -> Evaluation:
    path = next(path for path in sample_paths() if path.stem == name)
    return evaluate(load_design(path), path.parent)


@cache
def told(name: str) -> str:
    return of_story(*strength_story(sample(name)))


def test_strength_stands_before_the_working_of_the_checks() -> None:
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(workings, "ways_out", lambda *_: {})  # takes longer than the whole paper
        whole = " ".join(texts(check_sheet_pdf(sample(NAMES[0]), date="2026-03-01")))
    spots = [whole.index(words) for words in ("What the ramp carries, under", "Working of every check")]
    assert spots == sorted(spots)


@pytest.mark.parametrize("name", NAMES)
def test_every_member_stands_with_both_verdicts(name: str) -> None:
    evaluation = sample(name)
    rows = member_rows((*evaluation.verdicts, *evaluation.fixed), evaluation.checks)
    assert len(rows) > 5
    under = {words: letters(k) for k, words in enumerate(dict.fromkeys(row.load for row in rows if row.load))}
    for words, letter in under.items():
        assert f"{letter}: {words}" in told(name)
    for row in rows:
        said = f"{row.result} {row.name}"
        if row.share is not None and row.factor is not None:
            said += f" {100 * row.share:.0f} % {row.factor:.1f} {under[row.load]}"
        assert said in told(name) or (row.why and row.why.split()[0] in told(name)), said


@pytest.mark.parametrize("name", NAMES)
def test_every_load_is_told_with_its_whole_force(name: str) -> None:
    for load in sample(name).carried.loads:
        assert load.words in told(name)
        assert f"{getattr(load, 'force_n', 0.0):.0f} N" in told(name) or not hasattr(load, "force_n")


def test_letters_go_on_after_z() -> None:
    assert [letters(number) for number in (0, 25, 26, 51, 52)] == ["a", "z", "aa", "az", "ba"]


def test_the_picture_shows_curves_or_says_that_nothing_holds_the_joint() -> None:
    for name in NAMES:
        held = sample(name).carried.held
        assert ("Nothing holds the joint" in told(name)) is not held
        assert ("Shear in the most loaded rail" in told(name)) is held
        assert "deck hinge" in told(name)


def test_the_carrier_is_drawn_where_supports_are_described_and_only_there() -> None:
    found = {name: of_story(*carrier_story(sample(name))) for name in NAMES}
    assert any(isinstance(sample(name).standing, Standing) for name in NAMES)
    for name, text in found.items():
        standing = sample(name).standing
        assert ("Carrier at the worst" in text) is (standing is not None)
        if isinstance(standing, Standing):
            assert standing.worst_climb.words in text
            assert all(support.name in text for support in standing.supports)
