"""All views of a ramp in German: no English is left, and the same is drawn."""

import dataclasses
import re
from collections.abc import Iterator

import pytest
from views import views

import rampdraft.words.say as saying
from rampdraft.drawing.ink import Ink, Label, Path
from rampdraft.evaluation.evaluate import Evaluation, evaluate
from rampdraft.files.design_file import load_design
from rampdraft.files.samples import sample_paths, samples_folder
from rampdraft.words.manner import manner_of, speaking

SAMPLES = [path for path in sample_paths() if path.stem in ("barn-stage", "library-trailer")]
TYPED = ("name", "site", "rails", "slats", "say", "cross_members", "fittings")
RULES = "".join(path.read_text(encoding="utf-8") for path in samples_folder().glob("rules/*.toml"))
"""Rules that the samples bring with them: nobody translates what a user's own rules say."""
BY_TEXTS = ("dimension", "centre")
"""Pens of arrows and leaders, which stand where their words have room."""


class Noted(dict[str, str]):
    """Sentences that note which of them there is none of; one in brackets is a meaning of the one before."""

    def __init__(self, sentences: dict[str, str]) -> None:
        super().__init__(sentences)
        self.said, self.missed = set(sentences.values()), set[str]()

    def get(self, key: str, default: str = "") -> str:  # pyright: ignore[reportIncompatibleMethodOverride]
        if key not in self and key not in self.said and not key.endswith("]"):
            self.missed.add(key)
        return super().get(key, default)


@dataclasses.dataclass(frozen=True)
class Both:
    """The views of a sample in both languages, what German was missed, and what people typed."""

    english: dict[str, tuple[Ink, ...]]
    german: dict[str, tuple[Ink, ...]]
    missed: set[str]
    typed: set[str]


def typed_in(value: object, name: str = "") -> Iterator[str]:
    """Yield what people typed into a design: names, and sentences of its own."""
    if isinstance(value, str) and name in TYPED:
        yield value
    elif isinstance(value, tuple):
        for one in value:
            yield from typed_in(one, name)
    elif dataclasses.is_dataclass(value):
        for field in dataclasses.fields(value):
            yield from typed_in(getattr(value, field.name), field.name)


def sources(evaluation: Evaluation) -> set[str]:
    """Return what rules are called, which somebody typed too, and where they are published."""
    found = [check.source for check in evaluation.checks]
    return {text for one in found for text in (one.title, one.publication)}


@pytest.fixture(scope="module", params=SAMPLES, ids=lambda path: path.stem)
def both(request: pytest.FixtureRequest) -> Both:
    design, folder = load_design(request.param), request.param.parent
    english = dict(views(evaluate(design, folder)))
    sentences = saying.sentences
    noted = Noted(dict(sentences("de")))
    saying.sentences = lambda _language: noted
    try:
        with speaking(manner_of("de")):
            evaluation = evaluate(design, folder)
            german = dict(views(evaluation))
    finally:
        saying.sentences = sentences
    typed = {text for text in (*typed_in(design), *sources(evaluation)) if text}
    return Both(english=english, german=german, missed=noted.missed, typed=typed)


def without(text: str, typed: set[str]) -> str:
    for one in sorted(typed, key=len, reverse=True):
        text = text.replace(one, "")
    return text


def words(marks: tuple[Ink, ...]) -> list[str]:
    return [mark.text for mark in marks if isinstance(mark, Label)]


def test_nothing_said_is_missed(both: Both) -> None:
    assert len(both.german) > 100
    assert not {one for one in both.missed - both.typed if one not in RULES}


def test_no_label_stays_english(both: Both) -> None:
    """A label that is the same in both languages holds only figures, numbers of parts, what people typed and
    words that both have.
    """
    german = saying.sentences("de")
    for name, marks in both.english.items():
        for text in set(words(marks)) & set(words(both.german[name])):
            if german.get(text) != text:
                assert not re.search(r"[a-z]{3}", without(text, both.typed)), (name, text)


def test_the_same_is_drawn(both: Both) -> None:
    for name, marks in both.english.items():
        one, other = (
            [mark for mark in drawn if isinstance(mark, Path) and mark.pen not in BY_TEXTS]
            for drawn in (marks, both.german[name])
        )
        assert one == other, name


def test_decimals_have_a_comma(both: Both) -> None:
    texts = [text for marks in both.german.values() for text in words(marks)]
    assert any(re.search(r"\d,\d", text) for text in texts)
    typed = [text for text in texts if re.search(r"\d\.\d", text)]
    assert not typed
