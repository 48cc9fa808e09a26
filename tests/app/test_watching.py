"""Nobody's work is overwritten, and nothing that is shown is by an old rule."""

import json
import shutil
from pathlib import Path

import pytest
from PySide6.QtWidgets import QAbstractButton, QMessageBox
from pytestqt.qtbot import QtBot
from stand_in import answers

from rampdraft.app.shell.desk import Desk
from rampdraft.app.shell.dialogs import Conflict, Dialogs
from rampdraft.app.shell.window import Window
from rampdraft.files.design_file import load_design, save_design
from rampdraft.files.samples import samples_folder
from rampdraft.model.fields.paths import with_value

KERF = "workshop.kerf_mm"
SHORT_MS = 20_000


@pytest.fixture
def barn(desk: Desk, tmp_path: Path) -> Path:
    """Open the barn stage from a folder of its own, and return its path."""
    folder = tmp_path / "barn"
    shutil.copytree(samples_folder() / "rules", folder / "rules")
    path = Path(shutil.copy(samples_folder() / "barn-stage.toml", folder / "barn.toml"))
    desk.filing.open_path(path)
    return path


def change_on_disk(path: Path, kerf_mm: float) -> None:
    text = path.read_text(encoding="utf-8")
    save_design(with_value(load_design(path), KERF, kerf_mm), path, over=text)


def pressed(desk: Desk, words: str) -> None:
    next(button for button in desk.notice.buttons if button.text().startswith(words)).click()


@pytest.mark.parametrize("over", Conflict)
def test_a_file_that_somebody_changed_is_asked_about_before_saving(
    desk: Desk, barn: Path, tmp_path: Path, over: Conflict
) -> None:
    change_on_disk(barn, 7.5)
    theirs = barn.read_text(encoding="utf-8")
    desk.document.edit(KERF, 1.25, "Change")
    answers(desk).over, answers(desk).save_path = over, tmp_path / "barn" / "mine.toml"
    saved = desk.filing.save()
    assert ("conflict", "Workshop saw kerf 7.5 → 1.25 mm") in answers(desk).said
    assert saved is (over in (Conflict.OVERWRITE, Conflict.SAVE_AS))
    kerf = {Conflict.OVERWRITE: 1.25}.get(over, 7.5)
    assert load_design(barn).workshop.kerf_mm == kerf
    assert desk.document.design.workshop.kerf_mm == (7.5 if over is Conflict.RELOAD else 1.25)
    assert desk.document.modified is (over is Conflict.CANCEL)
    if over is Conflict.OVERWRITE:
        assert barn.with_name("barn.toml.bak").read_text(encoding="utf-8") == theirs
        assert desk.filing.save(), "asked once"
        assert [title for title, _ in answers(desk).said].count("conflict") == 1


def test_what_nobody_changed_is_saved_without_a_word(desk: Desk, barn: Path) -> None:
    for value in (1.25, 1.5):
        desk.document.edit(KERF, value, "Change")
        assert desk.filing.save()
    assert "conflict" not in [title for title, _ in answers(desk).said]


def test_a_file_that_is_no_design_any_more_is_told(desk: Desk, barn: Path) -> None:
    barn.write_text("not = [", encoding="utf-8")
    desk.document.edit(KERF, 1.25, "Change")
    assert not desk.filing.save()
    assert "cannot be read as TOML" in answers(desk).said[-1][1]
    barn.unlink()
    assert desk.filing.save()
    assert load_design(barn).workshop.kerf_mm == 1.25


def test_a_change_is_noticed_while_open(desk: Desk, barn: Path, qtbot: QtBot) -> None:
    change_on_disk(barn, 7.5)
    qtbot.waitUntil(lambda: "Somebody else has changed “barn.toml”" in desk.notice.words)
    pressed(desk, "What differs")
    assert answers(desk).said[-1][1].startswith("Workshop saw kerf 7.5 → ")
    pressed(desk, "Reload it")
    assert desk.document.design.workshop.kerf_mm == 7.5
    assert desk.notice.words == ""
    change_on_disk(barn, 8.5)
    qtbot.waitUntil(lambda: "Somebody else" in desk.notice.words)
    pressed(desk, "Keep")
    desk.watch.look()
    assert desk.notice.words == "", "told once"
    assert desk.document.design.workshop.kerf_mm == 7.5


def test_a_save_of_ones_own_is_no_change_by_others(desk: Desk, barn: Path, qtbot: QtBot) -> None:
    desk.document.edit(KERF, 1.25, "Change")
    assert desk.filing.save()
    qtbot.wait(500)
    assert desk.notice.words == ""


def test_a_second_window_on_one_file_is_told(desk: Desk, barn: Path) -> None:
    assert desk.notice.words == ""
    other = Window()
    second = other.furnish()
    second.dialogs = answers(desk)
    try:
        second.filing.open_path(barn)
        assert "“barn.toml” is open in another window too" in second.notice.words
        second.filing.begin()
        second.filing.begin()
        desk.filing.begin()
        second.filing.open_path(barn)
        second.notice.dismiss()
        desk.filing.open_path(barn)
        assert "is open in another window too" in desk.notice.words
    finally:
        other.close_unasked()
        other.deleteLater()


def steeper(path: Path) -> None:
    """Write a rule file anew with its first limit halved."""
    lines = path.read_text(encoding="utf-8").split("\n")
    place = next(at for at, line in enumerate(lines) if line.startswith("limit = "))
    lines[place] = f"limit = {float(lines[place].partition('=')[2].partition('#')[0]) / 2:g}"
    path.write_text("\n".join(lines), encoding="utf-8")


def limits(desk: Desk) -> list[float | None]:
    assert desk.document.evaluation is not None
    return [limit.limit for one in desk.document.evaluation.rule_sets for limit in one.limits]


def test_results_by_an_old_rule_are_worked_out_again(desk: Desk, barn: Path, qtbot: QtBot) -> None:
    rules, before = barn.parent / "rules" / "barn-assisted.toml", limits(desk)
    steeper(rules)
    qtbot.waitUntil(lambda: limits(desk) != before)
    assert not desk.document.stale
    text = rules.read_text(encoding="utf-8")
    rules.write_text("broken = [", encoding="utf-8")
    qtbot.waitUntil(lambda: desk.document.stale)
    assert str(rules) in desk.document.problems[0].text()
    rules.unlink()
    qtbot.waitUntil(lambda: "does not exist" in desk.document.problems[0].text())
    rules.write_text(text, encoding="utf-8")
    qtbot.waitUntil(lambda: not desk.document.stale)


@pytest.mark.usefixtures("light_pack")
def test_an_export_uses_no_old_rule(desk: Desk, barn: Path, qtbot: QtBot, tmp_path: Path) -> None:
    rules = barn.parent / "rules" / "barn-assisted.toml"
    steeper(rules)
    answers(desk).folder = tmp_path / "pack"
    desk.filing.export()  # before the watch has noticed anything
    qtbot.waitUntil(lambda: "pack" in [title for title, _ in answers(desk).said], timeout=120_000)
    assert (tmp_path / "pack" / "rules" / rules.name).read_bytes() == rules.read_bytes()
    json.loads((tmp_path / "pack" / "checks.json").read_text(encoding="utf-8"))
    rules.write_text("broken = [", encoding="utf-8")
    desk.filing.export()
    assert answers(desk).said[-1][0] == "Nothing to export yet"


def test_the_question_has_four_answers(desk: Desk, monkeypatch: pytest.MonkeyPatch) -> None:
    told, words = list[str](), ["Save as", "Overwrite", "Reload", "Go back"]

    def press(box: QMessageBox) -> int:
        told.append(box.informativeText())
        return 0

    def clicked(box: QMessageBox) -> QAbstractButton:
        word = words[len(told) - 1]
        return next(one for one in box.buttons() if one.text().startswith(word))

    monkeypatch.setattr(QMessageBox, "exec", press)
    monkeypatch.setattr(QMessageBox, "clickedButton", clicked)
    lines = tuple(f"line {number}" for number in range(5))
    answered = [Dialogs(desk.window).conflict("ramp.toml", lines) for _ in words]
    assert answered == [Conflict.SAVE_AS, Conflict.OVERWRITE, Conflict.RELOAD, Conflict.CANCEL]
    assert told[0].endswith(": line 0; line 1; line 2; and 2 more.")
