"""The window as a person uses it: by its fields, buttons and menus."""

import time
from pathlib import Path

import pytest
from answers import answers
from PySide6.QtCore import QEvent, QMimeData, QPointF, Qt, QUrl
from PySide6.QtGui import QDropEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QComboBox, QLineEdit, QPushButton
from pytestqt.qtbot import QtBot

from rampdraft.app import settings
from rampdraft.app.dialogs import Answer
from rampdraft.app.main import run
from rampdraft.app.window import Window
from rampdraft.drawing.ink import Label
from rampdraft.drawing.ink import Path as Ink
from rampdraft.files.design_file import load_design
from rampdraft.model.fields import walk

LENGTH = "inner_leaf.length_mm"


def type_into(window: Window, path: str, text: str) -> QLineEdit:
    line = window.form.field(path).editor.widget
    assert isinstance(line, QLineEdit)
    line.setFocus()
    line.selectAll()
    QTest.keyClicks(line, text)
    QTest.keyClick(line, Qt.Key.Key_Return)
    QApplication.processEvents()
    return line


def labels(window: Window) -> list[str]:
    picture = window.side.canvas.picture
    assert picture is not None
    return [mark.text for mark in picture.marks if isinstance(mark, Label)]


def test_an_edit_is_followed_by_drawing_checks_and_pieces(window: Window) -> None:
    before = window.document.evaluation
    assert before is not None
    assert "L 1350" in labels(window)
    type_into(window, LENGTH, "1.4 m")
    after = window.document.evaluation
    assert "L 1400" in labels(window)
    assert after is not None
    assert after is not before
    assert window.checks.model.rowCount() == len(after.checks)
    window.show_view(2)
    lengths = {window.pieces.table.item(row, 6).text() for row in range(window.pieces.table.rowCount())}  # type: ignore[union-attr]
    assert "1400.0" in lengths


def test_undo_and_redo_are_named_and_bring_everything_back(window: Window) -> None:
    line = type_into(window, LENGTH, "1400")
    stack = window.document.undo_stack
    assert stack.undoText() == "Inner leaf length 1350 → 1400"
    assert window.isWindowModified()
    QTest.keyClick(line, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    assert line.text() == "1350"
    assert "L 1350" in labels(window)
    assert not window.isWindowModified()
    stack.redo()
    assert line.text() == "1400"
    assert "L 1400" in labels(window)


def test_stepping_with_the_arrow_keys_is_one_edit_a_visit(window: Window) -> None:
    line = window.form.field(LENGTH).editor.widget
    line.setFocus()
    for _ in range(3):
        QTest.keyClick(line, Qt.Key.Key_Up)
    assert window.document.undo_stack.undoText() == "Inner leaf length 1350 → 1380"
    assert window.document.undo_stack.count() == 1
    window.document.undo_stack.undo()
    assert isinstance(line, QLineEdit)
    assert line.text() == "1350"


@pytest.mark.parametrize(
    ("text", "why"), [("wide", "no number"), ("13", "from 200 to 6000"), ("1/0", "divides by zero"), ("50 m", "from 200 to 6000")]
)
def test_a_value_that_cannot_be_is_explained_and_the_last_good_drawing_stays_greyed(window: Window, text: str, why: str) -> None:
    line = type_into(window, LENGTH, text)
    field = window.form.field(LENGTH)
    assert why in field.reason_shown
    assert line.text() == text
    assert window.side.canvas.greyed
    assert "L 1350" in labels(window)
    assert not window.checks.list.isEnabled()
    answers(window).folder = Path("nowhere")
    window.export()
    assert answers(window).said[0][0] == "Nothing to export yet"
    type_into(window, LENGTH, "1360")
    assert field.reason_shown == ""
    assert not window.side.canvas.greyed
    assert "L 1360" in labels(window)


def test_values_that_contradict_each_other_are_explained_and_can_be_undone(window: Window) -> None:
    type_into(window, "inner_leaf.slat_pitch_mm", "50")
    assert "overlap" in window.form.field("inner_leaf.slat_pitch_mm").reason_shown
    assert window.side.canvas.greyed
    window.document.undo_stack.undo()
    assert window.form.field("inner_leaf.slat_pitch_mm").reason_shown == ""
    assert not window.side.canvas.greyed


def test_a_refused_text_stays_while_others_are_edited_and_goes_with_esc(window: Window) -> None:
    line = type_into(window, LENGTH, "wide")
    type_into(window, "inner_leaf.width_mm", "870")
    assert line.text() == "wide"
    assert window.document.stale
    line.setFocus()
    QTest.keyClick(line, Qt.Key.Key_Escape)
    assert line.text() == "1350"
    assert not window.document.stale


def test_the_scrubber_moves_the_ramp_without_working_it_out_again(window: Window) -> None:
    evaluation = window.document.evaluation
    seen = []
    for tick in (0, 300, 700, 1000):
        window.side.fold_bar.slider.setValue(tick)
        picture = window.side.canvas.picture
        assert picture is not None
        rail = next(mark for mark in picture.marks if isinstance(mark, Ink) and mark.owner == "outer rail 1")
        seen.append(rail.vertices)
    assert len(set(seen)) == 4
    assert window.side.folding.isChecked()
    assert window.document.evaluation is evaluation


def test_play_runs_to_the_end_and_stops(window: Window, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("rampdraft.app.panels.fold_bar.PLAY_S", 0.2)
    bar = window.side.fold_bar
    QTest.mouseClick(bar.play, Qt.MouseButton.LeftButton)
    assert bar.playing
    qtbot.waitUntil(lambda: not bar.playing, timeout=5000)
    assert bar.share == 1.0
    assert bar.play.text() == "Play"


def test_the_tightest_place_is_shown_with_its_clearance(window: Window) -> None:
    window.side.fold_bar.go_tightest()
    assert any(text.startswith(("clearance", "clash")) for text in labels(window))


def test_a_member_under_the_pointer_is_named_with_its_part(window: Window) -> None:
    window.side.canvas.pointed.emit("inner rail 1")
    assert window.statusBar().currentMessage().startswith("Inner rail 1   part IR1, ")
    window.side.canvas.picked.emit(LENGTH)
    QApplication.processEvents()
    assert window.form.field(LENGTH).editor.widget is QApplication.focusWidget()


def test_pointing_finds_what_is_painted_there(window: Window) -> None:
    canvas = window.side.canvas
    found = {canvas.owner_at(QPointF(x, y)) for x in range(0, canvas.width(), 3) for y in range(0, canvas.height(), 3)}
    assert {"inner slat 1", "outer edge upstand left", "toe flap"} & found


def test_a_chosen_check_opens_its_working_and_goes_to_its_site(window: Window) -> None:
    model = window.checks.model
    rows = [row for row in range(model.rowCount()) if model.check(model.index(row)).site_number == 2]
    window.checks.list.setCurrentIndex(model.index(rows[0]))
    assert window.side.site.currentData()[0] == 2
    check = model.check(model.index(rows[0]))
    assert check.working[0].split()[0] in window.checks.working.toPlainText()
    assert window.checks.working.isVisible()


def test_rows_are_added_moved_and_removed(window: Window) -> None:
    window.form.field("sites[1].name")
    _press(window, "Add a site")
    assert _names(window) == ["Level yard", "Kerb", "Kerb 2"]
    _press(window, "Move Site 3 up")
    assert _names(window) == ["Level yard", "Kerb 2", "Kerb"]
    _press(window, "Remove Site 1")
    assert _names(window) == ["Kerb 2", "Kerb"]
    for _ in range(3):
        window.document.undo_stack.undo()
    assert _names(window) == ["Level yard", "Kerb"]
    assert window.form.field("sites[2].name").editor.widget.isVisible()


def test_the_usual_fold_sequence_becomes_rows_to_change(window: Window) -> None:
    window.form.go_to_section("fold_stages")
    _press(window, "Change the usual sequence…")
    design, evaluation = window.document.design, window.document.evaluation
    assert design is not None
    assert evaluation is not None
    assert [stage.say for stage in design.fold_stages] == [stage.say for stage in evaluation.fold.path.stages]
    assert not window.document.stale


def test_choices_and_materials_are_chosen_from_lists(window: Window) -> None:
    combo = window.form.field("made_of.slats").editor.widget
    assert isinstance(combo, QComboBox)
    row = next(row for row in range(combo.count()) if combo.itemText(row) != combo.currentText())
    combo.setCurrentIndex(row)
    combo.activated.emit(row)
    assert window.document.design is not None
    assert window.document.design.made_of.slats == combo.itemText(row)


def test_save_and_open_bring_the_same_design_back(window: Window, tmp_path: Path) -> None:
    type_into(window, LENGTH, "1400")
    answers(window).save_path = answers(window).open_path = tmp_path / "ramp.toml"
    assert window.save()
    design = window.document.design
    assert not window.isWindowModified()
    assert load_design(tmp_path / "ramp.toml") == design
    assert settings.recent_files() == (tmp_path / "ramp.toml",)
    window.new()
    assert window.document.design != design
    window.open()
    assert window.document.design == design
    assert window.windowTitle() == "ramp.toml[*]"


def test_a_broken_file_is_told_with_its_problems_and_changes_nothing(window: Window, tmp_path: Path) -> None:
    broken = tmp_path / "broken.toml"
    broken.write_text("format = 1\nnonsense", encoding="utf-8")
    design = window.document.design
    window.open_path(broken)
    title, words = answers(window).said[0]
    assert title == "This file cannot be opened"
    assert "broken.toml" in words
    assert "line 2" in words
    assert window.document.design is design


def test_a_file_dropped_on_the_window_is_opened(window: Window, tmp_path: Path) -> None:
    answers(window).save_path = tmp_path / "ramp.toml"
    window.save()
    window.begin()
    data = QMimeData()
    data.setUrls([QUrl.fromLocalFile(str(tmp_path / "ramp.toml"))])
    drop = QDropEvent(
        QPointF(5, 5), Qt.DropAction.CopyAction, data, Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier, QEvent.Type.Drop
    )
    window.dropEvent(drop)
    assert window.document.path == tmp_path / "ramp.toml"


@pytest.mark.parametrize(("answer", "closed"), [(Answer.CANCEL, False), (Answer.DISCARD, True), (Answer.SAVE, True)])
def test_closing_asks_about_changes(window: Window, tmp_path: Path, answer: Answer, closed: bool) -> None:
    type_into(window, LENGTH, "1400")
    answers(window).leave, answers(window).save_path = answer, tmp_path / "ramp.toml"
    assert window.close() is closed
    assert answers(window).said == [("unsaved", "New ramp")]
    assert (tmp_path / "ramp.toml").exists() is (answer is Answer.SAVE)


def test_the_pack_is_written_off_the_screen_and_told(window: Window, qtbot: QtBot, tmp_path: Path) -> None:
    answers(window).folder = tmp_path / "pack"
    window.export()
    qtbot.waitUntil(lambda: bool(answers(window).said), timeout=20000)
    assert answers(window).said[0][0] == "pack"
    assert list((tmp_path / "pack").rglob("*.dxf"))
    assert list((tmp_path / "pack").rglob("*.pdf"))


def test_a_fault_of_the_program_leaves_design_and_drawing_and_is_told(window: Window, monkeypatch: pytest.MonkeyPatch) -> None:
    def fault(*_: object) -> None:
        raise ZeroDivisionError("on purpose")

    with monkeypatch.context() as broken:
        broken.setattr("rampdraft.evaluate.evaluate", fault)
        type_into(window, LENGTH, "1400")
    assert window.document.design is not None
    assert window.document.design.inner_leaf.length_mm == 1400
    assert "on purpose" in window.document.problems[0].rule
    assert window.side.canvas.greyed
    window.document.undo_stack.undo()
    assert not window.side.canvas.greyed


def test_the_layout_is_remembered(window: Window, qapp: QApplication) -> None:
    window.resize(900, 631)
    window.close_unasked()
    again = Window()
    again.show()
    qapp.processEvents()
    height = again.height()
    again.close_unasked()
    assert height == 631


def test_the_form_has_a_field_for_every_value_of_the_design(window: Window) -> None:
    assert window.document.design is not None
    for path, _, _ in walk(window.document.design):
        assert window.form.field(path).path == path


def test_run_shows_a_window_and_closes_it_by_itself(tmp_path: Path) -> None:
    start = time.monotonic()
    assert run(None, show_for_ms=100) == 0
    assert time.monotonic() - start < 20


def _press(window: Window, name: str) -> None:
    for button in window.form.findChildren(QPushButton):
        if name in (button.text(), button.accessibleName()) and button.isVisibleTo(window):
            button.click()
            QApplication.processEvents()
            return
    raise AssertionError(f"no button {name}")


def _names(window: Window) -> list[str]:
    assert window.document.design is not None
    return [site.name for site in window.document.design.sites]
