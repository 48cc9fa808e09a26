"""The document in hand: what it reads from the disk, and when."""

import shutil
from pathlib import Path

import pytest
from PySide6.QtWidgets import QApplication
from written_starter import all_given

from rampdraft.app.document import Document
from rampdraft.checks.rules.sets import load_rule_set
from rampdraft.export.pack import write_pack
from rampdraft.files.design_file import load_design
from rampdraft.files.samples import samples_folder
from rampdraft.model.design import Design
from rampdraft.model.fields.paths import value_at, with_value

RULES = "rules/barn-assisted.toml"
TIMES = 20


class Barn:
    """The barn stage in a folder of its own, and how often its rule file was read."""

    def __init__(self, folder: Path) -> None:
        self.path, self.rules = folder / "barn-stage.toml", folder / RULES
        shutil.copytree(samples_folder() / "rules", folder / "rules")
        self.design: Design = load_design(samples_folder() / "barn-stage.toml")
        self.document = Document()
        self.reads = 0

    def open(self, design: Design) -> None:
        self.document.open(design, self.path, self.path.parent)

    def edit(self, path: str, value: object) -> None:
        self.document.edit(path, value, "Change")


@pytest.fixture
def barn(tmp_path: Path, qapp: QApplication, monkeypatch: pytest.MonkeyPatch) -> Barn:
    barn, read_bytes = Barn(tmp_path), Path.read_bytes

    def counted(path: Path) -> bytes:
        barn.reads += path == barn.rules
        return read_bytes(path)

    monkeypatch.setattr(Path, "read_bytes", counted)
    return barn


def test_the_count_of_reads_sees_a_read(barn: Barn) -> None:
    load_rule_set(barn.rules)
    load_rule_set(barn.rules)
    assert barn.reads == 2


def test_a_rule_file_is_read_once_however_often_the_design_changes(barn: Barn) -> None:
    barn.open(barn.design)
    assert barn.document.evaluation is not None
    assert [rule_set.key for rule_set in barn.document.evaluation.rule_sets] == ["barn-assisted"]
    kerf = barn.design.workshop.kerf_mm
    for number in range(1, TIMES):
        barn.edit("workshop.kerf_mm", kerf + number / 10)
    barn.edit("inner_leaf.length_mm", barn.design.inner_leaf.length_mm + 10)
    assert barn.document.made == 1 + TIMES
    assert barn.reads == 1


@pytest.mark.usefixtures("light_pack")
def test_nor_for_a_design_that_cannot_be_built_an_undo_or_a_pack(barn: Barn) -> None:
    barn.open(barn.design)
    for pitch in (20.0, value_at(barn.design, "inner_leaf.slat_pitch_mm")):
        barn.edit("inner_leaf.slat_pitch_mm", pitch)
        assert barn.document.stale == (pitch == 20.0)
    barn.document.undo_stack.undo()
    barn.document.undo_stack.undo()
    assert barn.document.evaluation is not None
    write_pack(barn.document.evaluation, barn.path.parent / "pack")
    assert barn.reads == 1


def test_a_rule_file_is_read_when_there_is_something_to_judge(barn: Barn) -> None:
    given = all_given(barn.design)
    barn.open(with_value(given, "inner_leaf.slat_pitch_mm", 20.0))
    barn.edit("inner_leaf.slat_pitch_mm", 21.0)
    assert barn.reads == 0
    barn.edit("inner_leaf.slat_pitch_mm", value_at(barn.design, "inner_leaf.slat_pitch_mm"))
    assert not barn.document.stale
    assert barn.reads == 1


def test_a_rule_file_is_read_again_when_the_design_is_opened_again_or_names_others(barn: Barn) -> None:
    barn.open(barn.design)
    text = barn.rules.read_text(encoding="utf-8").replace('title = "', 'title = "Newer ', 1)
    barn.rules.write_text(text, encoding="utf-8")
    barn.open(barn.design)
    assert barn.document.evaluation is not None
    assert barn.document.evaluation.rule_sets[0].title.startswith("Newer ")
    assert barn.reads == 2
    barn.edit("use.rule_sets", (RULES, "us-vehicle-2016"))
    assert len(barn.document.evaluation.rule_sets) == 2
    assert barn.reads == 3
    barn.edit("workshop.kerf_mm", 4.5)
    assert barn.reads == 3
