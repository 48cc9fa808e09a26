"""A pack in German: the words are German, and what programs read and what is measured stays as it is."""

import csv
import io
import json
import re
import string
from pathlib import Path

import pytest
from paper_text import of_story, texts
from timber_ramp import timber_ramp

from rampdraft.drawing.ink import Label
from rampdraft.evaluation.evaluate import Evaluation, evaluate
from rampdraft.export import pack as packing
from rampdraft.export.csv_table import table_csv
from rampdraft.export.json_report import report
from rampdraft.export.lists import lists
from rampdraft.export.pack import write_pack
from rampdraft.export.pdf import workings
from rampdraft.export.pdf.bench import bench_pack_pdf
from rampdraft.export.pdf.hand_over import hand_over_pdf, label_picture
from rampdraft.export.pdf.lists import part_list
from rampdraft.export.pdf.making import key_dimensions, weld_list
from rampdraft.export.pdf.templates import templates_pdf
from rampdraft.export.revision import revision_of
from rampdraft.words import say
from rampdraft.words.manner import manner_of, speaking

DATE = "2026-03-01"
GERMAN = manner_of("de")
DESIGN = timber_ramp()
NUMBER = re.compile(r"\d+(?:[.,]\d+)?")


@pytest.fixture(scope="module")
def english() -> Evaluation:
    return evaluate(DESIGN)


@pytest.fixture(scope="module")
def german() -> Evaluation:
    with speaking(GERMAN):
        return evaluate(DESIGN)


class Heard(dict[str, str]):
    """Translations that note what is asked for, and is neither among them nor said already."""

    def __init__(self) -> None:
        super().__init__(say.sentences("de"))
        self.said = set(self.values())
        self.missed: set[str] = set()

    def get(self, key: str, default: str = "") -> str:  # pyright: ignore[reportIncompatibleMethodOverride]
        if key and key not in self and key not in self.said and not key.endswith("]"):
            self.missed.add(key)
        return super().get(key, default)


@pytest.fixture(scope="module")
def heard() -> Heard:
    return Heard()


@pytest.fixture(scope="module")
def pack(german: Evaluation, heard: Heard, tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("german")
    with speaking(GERMAN), pytest.MonkeyPatch.context() as patch:
        patch.setattr(say, "sentences", lambda _: heard)
        patch.setattr(workings, "ways_out", lambda *_: {})  # a search that takes most of the time
        write_pack(german, folder, date=DATE)
    return folder


def whole(data: bytes) -> str:
    return " ".join(texts(data))


def own_sentences() -> dict[str, str]:
    """Return what shop and export say that is another text in German, long enough to be of them alone."""
    folder = Path(say.__file__).parent / "german"
    found = {
        one: other
        for room in ("shop", "export")
        for one, other in json.loads((folder / f"{room}.json").read_text(encoding="utf-8")).items()
    }
    plain = (one for one in found if not any(name for _, name, _, _ in string.Formatter().parse(one)))
    return {one: found[one] for one in plain if len(one) >= 20 and one != found[one]}


@pytest.mark.parametrize("name", ["bench-pack", "check-sheet", "hand-over", "templates"])
def test_papers_speak_german(pack: Path, name: str) -> None:
    text = whole((pack / f"{name}.pdf").read_bytes())
    known = own_sentences()
    assert [one for one in known if one in text] == []
    assert sum(other in text for other in known.values()) >= (1 if name == "templates" else 8)


def test_the_mark_and_the_names_of_files_are_the_same(
    english: Evaluation,
    german: Evaluation,
    pack: Path,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """The mark is of the design, the rules and the version, which no language is part of."""
    with speaking(GERMAN):
        mark = revision_of(german)
    assert mark == revision_of(english)
    for paper in packing.PAPERS:
        monkeypatch.setitem(packing.PAPERS, paper, lambda *_, **__: b"%PDF-")
    written = write_pack(english, tmp_path, date=DATE)
    names = {path.relative_to(tmp_path).as_posix() for path in written}
    assert names == {path.relative_to(pack).as_posix() for path in pack.rglob("*") if path.is_file()}
    for path in pack.glob("*.pdf"):
        assert all(mark in text for text in texts(path.read_bytes()))


def test_the_bench_pack_holds_the_same_numbers(english: Evaluation, pack: Path) -> None:
    mark = revision_of(english)
    found = NUMBER.findall(whole((pack / "bench-pack.pdf").read_bytes()))
    assert {one.replace(",", ".") for one in found} == set(
        NUMBER.findall(whole(bench_pack_pdf(english, date=DATE, revision=mark)))
    )


def test_lists_hold_the_same_numbers_with_a_point(english: Evaluation, german: Evaluation) -> None:
    with speaking(GERMAN):
        said = lists(german)
    for one, other in zip(lists(english), said, strict=True):
        assert one.key == other.key
        assert one.title != other.title
        assert [[cell for cell in row if not isinstance(cell, str)] for row in one.rows] == [
            [cell for cell in row if not isinstance(cell, str)] for row in other.rows
        ]
        rows = list(csv.reader(io.StringIO(table_csv(other).decode("utf-8"), newline="")))
        assert rows[0] == list(other.head)


def shape_of(told: object) -> object:
    """Return the keys and the kinds of values of what a program reads."""
    if isinstance(told, dict):
        return {key: shape_of(one) for key, one in told.items()}
    if isinstance(told, list):
        return [shape_of(one) for one in told]
    return "text" if isinstance(told, str) else told


KEYS = frozenset(
    (
        "id", "kind", "role", "status", "result", "unit", "sense", "state", "deck", "part", "parts", "number",
        "members", "member", "code", "section", "material", "hand", "face", "use", "takes", "shape",
        "standard", "column", "path", "key", "clash", "judged", "welds", "places", "format", "by",
    )
)  # fmt: skip
"""Whose texts are keys for programs."""


def keys_in(told: object) -> list[object]:
    if isinstance(told, dict):
        return [
            (key, one) if key in KEYS and not isinstance(one, dict) else keys_in(one)
            for key, one in told.items()
        ]
    return [keys_in(one) for one in told] if isinstance(told, list) else []


def test_programs_read_the_same(english: Evaluation, pack: Path) -> None:
    told = json.loads((pack / "checks.json").read_text(encoding="utf-8"))
    told.pop("revision")
    plain = json.loads(json.dumps(report(english)))
    assert shape_of(told["parts"]) == shape_of(plain["parts"])
    assert shape_of(told["welds"]) == shape_of(plain["welds"])
    for key in ("parts", "cutting_plan", "welds", "bought", "purchases", "assembly", "key_dimensions"):
        assert shape_of(told[key]) == shape_of(plain[key]), key
        assert keys_in(told[key]) == keys_in(plain[key]), key
    assert told["assembly"][0]["kind"] == "inner frame"


def test_the_label_has_room_for_german(german: Evaluation) -> None:
    with speaking(GERMAN):
        labels = [mark for mark in label_picture(german).marks if isinstance(mark, Label)]
    assert "höchstens" in labels[1].text
    foot = {label.at[1] for label in labels if label.size_pt == 8.0}
    assert min(label.at[1] for label in labels if label.size_pt > 8.0) > max(foot) + 3.0


@pytest.mark.usefixtures("pack")
def test_all_that_a_pack_says_has_its_german(heard: Heard) -> None:
    """But for clauses, which are quoted as they were published."""
    assert {words for words in heard.missed if "CFR" not in words and "annexe" not in words} == set()


def test_lists_whose_heads_say_mm_keep_them_where_inches_hold(english: Evaluation) -> None:
    told = of_story(*key_dimensions(english), *weld_list(english))
    with speaking(manner_of("en", "in")):
        assert of_story(*key_dimensions(english), *weld_list(english)) == told
        parts = of_story(*part_list(english))
    assert "Length mm" in parts
    assert all(f" {part.piece.length_mm:g} " in parts for part in english.parts)


def test_what_is_made_from_is_in_decimals_of_an_inch(
    english: Evaluation, monkeypatch: pytest.MonkeyPatch
) -> None:
    """12 mm are 0.472 in, the inch being 25.4 mm (international inch, 1959); 15/32 in is a bore that the pin
    does not go through.
    """
    monkeypatch.setattr(packing, "PAPERS", {"bench-pack": bench_pack_pdf, "templates": templates_pdf})
    with speaking(manner_of("en", "in")):
        made = packing.papers(english)
    text = " ".join(" ".join(texts(paper)) for paper in made.values())
    assert not re.findall(r"\d/(?:2|4|8|16|32)\b", text)
    pin = DESIGN.joint.pin_diameter_mm
    assert f"Ø {pin / 25.4:.3f}".rstrip("0") in text


def test_a_hand_over_in_inches_is_in_inches(english: Evaluation) -> None:
    with speaking(manner_of("de", "in")):
        text = whole(hand_over_pdf(english, date=DATE))
    assert re.search(r"\d in vor der Deckkante frei halten", text)
