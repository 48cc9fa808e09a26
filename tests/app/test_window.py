"""The window as a person uses it: by its fields, buttons and menus."""

from pathlib import Path

import pytest
from PySide6.QtCore import QEvent, QMimeData, QPointF, Qt, QUrl
from PySide6.QtGui import QAction, QDropEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import (
    QApplication,
    QCheckBox,
    QComboBox,
    QDialog,
    QLineEdit,
    QListView,
    QMenu,
    QPushButton,
    QSlider,
    QTableWidget,
)
from pytestqt.qtbot import QtBot
from stand_in import answers

from rampdraft.app.shell import settings
from rampdraft.app.shell.desk import Desk
from rampdraft.app.shell.dialogs import Answer, Dialogs
from rampdraft.app.shell.main import run
from rampdraft.app.shell.window import Window
from rampdraft.drawing.ink import Label
from rampdraft.drawing.ink import Path as Ink
from rampdraft.files.design_file import load_design
from rampdraft.files.samples import sample_paths
from rampdraft.model.fields.paths import walk
from rampdraft.model.starter import starter_design

LENGTH = "inner_leaf.length_mm"
BEFORE = f"{starter_design().inner_leaf.length_mm:g}"
PITCH = f"{starter_design().inner_leaf.slat_pitch_mm:g}"


def type_into(desk: Desk, path: str, text: str) -> QLineEdit:
    line = desk.form.field(path).editor.widget
    assert isinstance(line, QLineEdit)
    line.setFocus()
    line.selectAll()
    QTest.keyClicks(line, text)
    QTest.keyClick(line, Qt.Key.Key_Return)
    QApplication.processEvents()
    return line


def labels(desk: Desk) -> list[str]:
    picture = desk.side.canvas.picture
    assert picture is not None
    return [mark.text for mark in picture.marks if isinstance(mark, Label)]


def test_an_edit_is_followed_by_drawing_checks_and_pieces(desk: Desk) -> None:
    before = desk.document.evaluation
    assert before is not None
    assert f"L {BEFORE}" in labels(desk)
    type_into(desk, LENGTH, "1.4 m")
    after = desk.document.evaluation
    assert "L 1400" in labels(desk)
    assert after is not None
    assert after is not before
    assert desk.checks.model.rowCount() == len(after.checks)
    desk.views.setCurrentWidget(desk.pieces)
    lengths = {desk.pieces.table.item(row, 6).text() for row in range(desk.pieces.table.rowCount())}  # type: ignore[union-attr]
    assert "1400.0" in lengths


def test_undo_and_redo_are_named_and_bring_everything_back(desk: Desk) -> None:
    line = type_into(desk, LENGTH, "1400")
    stack = desk.document.undo_stack
    assert stack.undoText() == f"Inner leaf length {BEFORE} → 1400"
    assert desk.window.isWindowModified()
    QTest.keyClick(line, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    assert line.text() == BEFORE
    assert f"L {BEFORE}" in labels(desk)
    assert not desk.window.isWindowModified()
    stack.redo()
    assert line.text() == "1400"
    assert "L 1400" in labels(desk)


def test_stepping_with_the_arrow_keys_is_one_edit_a_visit(desk: Desk) -> None:
    line = desk.form.field(LENGTH).editor.widget
    line.setFocus()
    for _ in range(3):
        QTest.keyClick(line, Qt.Key.Key_Up)
    assert desk.document.undo_stack.undoText() == f"Inner leaf length {BEFORE} → {float(BEFORE) + 30:g}"
    assert desk.document.undo_stack.count() == 1
    desk.document.undo_stack.undo()
    assert isinstance(line, QLineEdit)
    assert line.text() == BEFORE


@pytest.mark.parametrize(
    ("text", "why"),
    [
        ("wide", "no number"),
        ("13", "from 200 to 6000"),
        ("1/0", "divides by zero"),
        ("50 m", "from 200 to 6000"),
    ],
)
def test_a_value_that_cannot_be_is_explained_and_the_last_good_drawing_stays_greyed(
    desk: Desk, text: str, why: str
) -> None:
    line = type_into(desk, LENGTH, text)
    field = desk.form.field(LENGTH)
    assert why in field.reason.text()
    assert line.text() == text
    assert desk.side.canvas.note
    assert f"L {BEFORE}" in labels(desk)
    assert not desk.checks.list.isEnabled()
    answers(desk).folder = Path("nowhere")
    desk.filing.export()
    assert answers(desk).said[0][0] == "Nothing to export yet"
    type_into(desk, LENGTH, "1360")
    assert field.reason.text() == ""
    assert not desk.side.canvas.note
    assert "L 1360" in labels(desk)


def test_values_that_contradict_each_other_are_explained_and_can_be_undone(desk: Desk) -> None:
    type_into(desk, "inner_leaf.slat_pitch_mm", "50")
    assert "overlap" in desk.form.field("inner_leaf.slat_pitch_mm").reason.text()
    assert desk.side.canvas.note
    desk.document.undo_stack.undo()
    assert desk.form.field("inner_leaf.slat_pitch_mm").reason.text() == ""
    assert not desk.side.canvas.note


def test_a_refused_text_stays_while_others_are_edited_and_goes_with_esc(desk: Desk) -> None:
    line = type_into(desk, LENGTH, "wide")
    type_into(desk, "inner_leaf.width_mm", "870")
    assert line.text() == "wide"
    assert desk.document.stale
    line.setFocus()
    QTest.keyClick(line, Qt.Key.Key_Escape)
    assert line.text() == BEFORE
    assert not desk.document.stale


def test_the_scrubber_moves_the_ramp_without_working_it_out_again(desk: Desk) -> None:
    evaluation = desk.document.evaluation
    seen = []
    for tick in (0, 300, 700, 1000):
        desk.side.fold_bar.slider.setValue(tick)
        picture = desk.side.canvas.picture
        assert picture is not None
        rail = next(mark for mark in picture.marks if isinstance(mark, Ink) and mark.owner == "outer rail 1")
        seen.append(rail.vertices)
    assert len(set(seen)) == 4
    assert desk.side.folding.isChecked()
    assert desk.document.evaluation is evaluation


def test_play_runs_to_the_end_and_stops(desk: Desk, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("rampdraft.app.views.fold_bar.PLAY_S", 0.2)
    monkeypatch.setattr("rampdraft.app.views.fold_bar.REST_S", 0.05)
    bar = desk.side.fold_bar
    QTest.mouseClick(bar.play, Qt.MouseButton.LeftButton)
    assert bar.playing
    qtbot.waitUntil(lambda: not bar.playing)
    assert bar.share == 1.0
    assert bar.play.text() == "Play"


def test_the_tightest_place_is_shown_with_its_clearance(desk: Desk) -> None:
    desk.side.fold_bar.go_tightest()
    assert any(text.startswith(("clearance", "clash")) for text in labels(desk))
    assert desk.document.evaluation is not None
    tightest = desk.document.evaluation.fold.clearance.tightest
    strip = desk.side.fold_bar.clearance.strip
    assert strip is not None
    assert desk.side.fold_bar.share == tightest.at == strip.marked[0]
    assert strip.value(tightest.at) == min(value for _, value in strip.runs[0]) == tightest.clearance_mm


def test_a_member_under_the_pointer_is_named_with_its_part(desk: Desk) -> None:
    desk.side.canvas.pointed.emit("inner rail 1")
    assert desk.window.statusBar().currentMessage().startswith("Inner rail 1   part IR1, ")
    desk.side.canvas.picked.emit(LENGTH)
    QApplication.processEvents()
    assert desk.form.field(LENGTH).editor.widget is QApplication.focusWidget()


def test_pointing_finds_what_is_painted_there(desk: Desk) -> None:
    canvas = desk.side.canvas
    found = {
        canvas.owner_at(QPointF(x, y))
        for x in range(0, canvas.width(), 3)
        for y in range(0, canvas.height(), 3)
    }
    assert {"inner slat 1", "outer edge upstand left", "toe flap"} & found


def test_a_chosen_check_opens_its_working_and_goes_to_its_site(desk: Desk) -> None:
    model = desk.checks.model
    rows = [row for row in range(model.rowCount()) if model.check(model.index(row)).site_number == 2]
    desk.checks.list.setCurrentIndex(model.index(rows[0]))
    assert desk.side.site.currentData()[0] == 2
    check = model.check(model.index(rows[0]))
    assert check.working[0].split()[0] in desk.checks.working.toPlainText()
    assert desk.checks.working.isVisible()


def test_the_name_of_a_site_does_not_choose_the_deck(desk: Desk) -> None:
    evaluation = desk.document.evaluation
    assert evaluation is not None
    desk.document.edit("sites[1].name", "Loading bay, loaded side", "Name")
    model = desk.checks.model
    rows = [row for row in range(model.rowCount()) if model.check(model.index(row)).site_number == 1]
    empty = next(row for row in rows if model.check(model.index(row)).about.state != "loaded")
    desk.checks.list.setCurrentIndex(model.index(empty))
    assert desk.side.site.currentData()[:2] == (1, "empty")


def test_a_ramp_that_its_springs_lift_is_shown_where_it_rests(desk: Desk) -> None:
    """Each site has the hump to look at, and none has one without springs."""

    def risen() -> list[int]:
        site = desk.side.site
        return [row for row in range(site.count()) if "springs lift it" in site.itemText(row)]

    desk.document.edit("assist.kind", "none", "No springs")
    assert risen() == []
    desk.document.edit("assist.count", 2, "Two springs")
    desk.document.edit("assist.rate_nmm_deg", 4200.0, "Stiff ones")
    desk.document.edit("assist.kind", "torsion", "Springs")
    down = desk.side.canvas.picture
    desk.side.site.setCurrentIndex(risen()[0])
    desk.side.site.activated.emit(risen()[0])
    QApplication.processEvents()
    assert desk.side.canvas.picture != down
    evaluation = desk.document.evaluation
    assert evaluation is not None
    rest = evaluation.staying[0].rest
    assert rest is not None
    assert rest.inner_rad > evaluation.sites[0].pose.inner_rad + 0.1


def test_rows_are_added_moved_and_removed(desk: Desk) -> None:
    desk.form.field("sites[1].name")
    places = next(box for box in desk.form.findChildren(QComboBox) if box.currentText() == "Add a site…")
    places.activated.emit(places.findData("platform"))
    QApplication.processEvents()
    assert _names(desk) == ["Level yard", "Kerb", "Platform"]
    _press(desk, "Move Site 3 up")
    assert _names(desk) == ["Level yard", "Platform", "Kerb"]
    _press(desk, "Remove Site 1")
    assert _names(desk) == ["Platform", "Kerb"]
    for _ in range(3):
        desk.document.undo_stack.undo()
    assert _names(desk) == ["Level yard", "Kerb"]
    assert desk.form.field("sites[2].name").editor.widget.isVisible()


def test_the_usual_fold_sequence_becomes_rows_to_change(desk: Desk) -> None:
    desk.form.go_to_section("fold_stages")
    _press(desk, "Change the usual sequence…")
    design, evaluation = desk.document.design, desk.document.evaluation
    assert design is not None
    assert evaluation is not None
    assert [stage.say for stage in design.fold_stages] == [stage.say for stage in evaluation.fold.path.stages]
    assert not desk.document.stale


def test_choices_and_materials_are_chosen_from_lists(desk: Desk) -> None:
    combo = desk.form.field("made_of.slats").editor.widget
    assert isinstance(combo, QComboBox)
    row = next(row for row in range(combo.count()) if combo.itemText(row) != combo.currentText())
    combo.setCurrentIndex(row)
    combo.activated.emit(row)
    assert desk.document.design is not None
    assert desk.document.design.made_of.slats == combo.itemText(row)


def test_save_and_open_bring_the_same_design_back(desk: Desk, tmp_path: Path) -> None:
    type_into(desk, LENGTH, "1400")
    answers(desk).save_path = answers(desk).open_path = tmp_path / "ramp.toml"
    assert desk.filing.save()
    design = desk.document.design
    assert not desk.window.isWindowModified()
    assert load_design(tmp_path / "ramp.toml") == design
    assert settings.recent_files() == (tmp_path / "ramp.toml",)
    desk.filing.new()
    assert desk.propose_work.dialog is not None
    desk.propose_work.dialog.reject()
    assert desk.document.design != design
    desk.filing.open()
    assert desk.document.design == design
    assert desk.window.windowTitle() == "ramp.toml[*]"


def test_a_new_design_is_judged_by_the_rules_of_the_place_that_is_told(desk: Desk) -> None:
    for names in (("us-building",), ()):
        desk.filing.new()
        dialog = desk.propose_work.dialog
        assert dialog is not None
        dialog.survey.give("use.rule_sets", names)
        dialog.alone.click()
        evaluation = desk.document.evaluation
        assert evaluation is not None
        assert evaluation.design.use.rule_sets == names
        assert ("own/rule-sets" in {check.id for check in evaluation.checks}) is (not names)


def test_the_rules_of_the_place_are_ticked(desk: Desk, monkeypatch: pytest.MonkeyPatch) -> None:
    def tick(dialog: QDialog) -> int:
        for box in dialog.findChildren(QCheckBox):
            box.setChecked(box.text() in ("US vehicles", "UK, buildings"))
        return QDialog.DialogCode.Accepted

    monkeypatch.setattr(QDialog, "exec", tick)
    assert Dialogs(desk.window).rules_of_place() == ("us-vehicle", "uk-building")
    monkeypatch.setattr(QDialog, "exec", lambda _: QDialog.DialogCode.Rejected)
    assert Dialogs(desk.window).rules_of_place() is None


def test_a_start_without_a_file_offers_the_survey(desk: Desk) -> None:
    desk.filing.begin_and_offer()
    assert "where it will be used" in desk.notice.words
    desk.notice.buttons[0].click()
    dialog = desk.propose_work.dialog
    assert dialog is not None
    assert desk.document.design == starter_design()
    dialog.survey.give("use.rule_sets", ("uk-building",))
    dialog.alone.click()
    assert desk.document.design is not None
    assert desk.document.design.use.rule_sets == ("uk-building",)
    assert not desk.notice.words
    desk.document.undo_stack.undo()
    assert desk.document.design == starter_design()


@pytest.mark.parametrize("path", sample_paths(), ids=lambda path: path.stem)
def test_a_sample_opens_as_a_copy_that_saving_asks_a_file_for(desk: Desk, path: Path) -> None:
    desk.filing.open_sample(path)
    assert not desk.document.stale
    assert desk.document.path is None
    for number in range(desk.views.count()):
        desk.views.setCurrentIndex(number)
    desk.side.show_share(0.5)
    assert not desk.window.isWindowModified()


def test_recent_files_and_samples_are_listed_when_the_menu_opens(desk: Desk, tmp_path: Path) -> None:
    answers(desk).save_path = tmp_path / "ramp.toml"
    desk.filing.save()
    menus = {menu.title(): menu for menu in desk.window.menuBar().findChildren(QMenu)}
    listed = {}
    for title in ("Open &recent", "S&amples"):
        menus[title].aboutToShow.emit()
        listed[title] = [action.text() for action in menus[title].actions()]
    assert listed["Open &recent"] == [str(tmp_path / "ramp.toml")]
    assert len(listed["S&amples"]) == len(sample_paths())
    menus["S&amples"].actions()[0].trigger()
    assert desk.document.path is None
    assert not desk.document.stale


def test_no_two_actions_share_a_key(desk: Desk) -> None:
    keys = [key.toString() for action in desk.window.findChildren(QAction) for key in action.shortcuts()]
    assert len(keys) == len(set(keys))


def test_every_control_has_a_name_for_screen_readers(desk: Desk) -> None:
    for path in ("use.rated_load_kg", "sites[1].name", "bridge.fitted", "about.note"):
        desk.form.field(path)
    for kind in (QLineEdit, QComboBox, QSlider, QListView, QTableWidget):
        for control in desk.window.findChildren(kind):
            if control.isVisibleTo(desk.window) and not isinstance(control.parent(), QComboBox):
                assert control.accessibleName(), control


def test_a_broken_file_is_told_with_its_problems_and_changes_nothing(desk: Desk, tmp_path: Path) -> None:
    broken = tmp_path / "broken.toml"
    broken.write_text("format = 1\nnonsense", encoding="utf-8")
    design = desk.document.design
    desk.filing.open_path(broken)
    title, words = answers(desk).said[0]
    assert title == "This file cannot be opened"
    assert "broken.toml" in words
    assert "line 2" in words
    assert desk.document.design is design


def test_a_file_whose_values_contradict_opens_with_the_reasons(desk: Desk, tmp_path: Path) -> None:
    type_into(desk, "inner_leaf.slat_pitch_mm", "50")
    answers(desk).save_path = tmp_path / "ramp.toml"
    assert desk.filing.save()
    desk.filing.begin()
    desk.filing.open_path(tmp_path / "ramp.toml")
    assert "overlap" in desk.form.field("inner_leaf.slat_pitch_mm").reason.text()
    for number in range(desk.views.count()):
        desk.views.setCurrentIndex(number)
    assert desk.side.canvas.picture is None
    assert desk.checks.model.rowCount() == 0
    type_into(desk, "inner_leaf.slat_pitch_mm", PITCH)
    desk.views.setCurrentIndex(0)
    assert f"L {BEFORE}" in labels(desk)


def test_what_is_half_typed_is_saved_too(desk: Desk, tmp_path: Path) -> None:
    line = desk.form.field(LENGTH).editor.widget
    assert isinstance(line, QLineEdit)
    line.setFocus()
    line.selectAll()
    QTest.keyClicks(line, "1401")
    answers(desk).save_path = tmp_path / "ramp.toml"
    assert desk.filing.save()
    assert load_design(tmp_path / "ramp.toml").inner_leaf.length_mm == 1401


def test_each_area_is_reached_from_the_keyboard(desk: Desk) -> None:
    for _, area in desk.areas:
        area.setFocus()
        focused = QApplication.focusWidget()
        assert focused is not None
        assert focused is area or area.isAncestorOf(focused)


def test_the_cursor_goes_through_the_form_from_top_to_bottom(desk: Desk) -> None:
    name = desk.form.field("sites[1].name").editor.widget
    desk.form.reveal("carrier.stow_in_mm")
    QApplication.processEvents()
    stops = []
    for _ in range(9):
        QTest.keyClick(QApplication.focusWidget(), Qt.Key.Key_Tab)
        stops.append(QApplication.focusWidget())
    assert name in stops


def test_a_file_dropped_on_the_window_is_opened(desk: Desk, tmp_path: Path) -> None:
    answers(desk).save_path = tmp_path / "ramp.toml"
    desk.filing.save()
    desk.filing.begin()
    data = QMimeData()
    data.setUrls([QUrl.fromLocalFile(str(tmp_path / "ramp.toml"))])
    drop = QDropEvent(
        QPointF(5, 5),
        Qt.DropAction.CopyAction,
        data,
        Qt.MouseButton.LeftButton,
        Qt.KeyboardModifier.NoModifier,
        QEvent.Type.Drop,
    )
    desk.window.dropEvent(drop)
    assert desk.document.path == tmp_path / "ramp.toml"


@pytest.mark.parametrize(
    ("answer", "closed"), [(Answer.CANCEL, False), (Answer.DISCARD, True), (Answer.SAVE, True)]
)
def test_closing_asks_about_changes(desk: Desk, tmp_path: Path, answer: Answer, closed: bool) -> None:
    type_into(desk, LENGTH, "1400")
    answers(desk).leave, answers(desk).save_path = answer, tmp_path / "ramp.toml"
    assert desk.window.close() is closed
    assert answers(desk).said == [("unsaved", "New ramp")]
    assert (tmp_path / "ramp.toml").exists() is (answer is Answer.SAVE)


@pytest.mark.usefixtures("light_pack")
def test_the_pack_is_written_off_the_screen_and_told(desk: Desk, qtbot: QtBot, tmp_path: Path) -> None:
    answers(desk).folder = tmp_path / "pack"
    desk.filing.export()
    qtbot.waitUntil(lambda: bool(answers(desk).said))
    assert answers(desk).said[0][0] == "pack"
    assert list((tmp_path / "pack").rglob("*.dxf"))
    assert list((tmp_path / "pack").rglob("*.pdf"))


def test_a_pack_that_cannot_be_written_is_told_with_its_reason(
    desk: Desk, qtbot: QtBot, tmp_path: Path
) -> None:
    (tmp_path / "pack").write_text("a file where a folder should be", encoding="utf-8")
    answers(desk).folder = tmp_path / "pack"
    desk.filing.export()
    qtbot.waitUntil(lambda: bool(answers(desk).said))
    assert answers(desk).said[0][0] == "The pack was not written"


def test_closing_calls_an_export_off_and_waits_for_it(desk: Desk, tmp_path: Path) -> None:
    answers(desk).folder = tmp_path / "pack"
    desk.filing.export()
    assert desk.window.close()
    assert not answers(desk).said


def test_a_fault_of_the_program_leaves_design_and_drawing_and_is_told(
    desk: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fault(*_: object) -> None:
        raise ZeroDivisionError("on purpose")

    with monkeypatch.context() as broken:
        broken.setattr("rampdraft.app.document.evaluate", fault)
        type_into(desk, LENGTH, "1400")
    assert desk.document.design is not None
    assert desk.document.design.inner_leaf.length_mm == 1400
    assert "on purpose" in desk.document.problems[0].rule
    assert desk.side.canvas.note
    desk.document.undo_stack.undo()
    assert not desk.side.canvas.note


def test_the_layout_is_remembered(desk: Desk, qapp: QApplication) -> None:
    desk.window.resize(900, 631)
    desk.window.close_unasked()
    again = Window()
    again.show()
    qapp.processEvents()
    height = again.height()
    again.close_unasked()
    assert height == 631


def test_the_form_has_a_field_for_every_value_of_the_design(desk: Desk) -> None:
    assert desk.document.design is not None
    for path, _, _ in walk(desk.document.design):
        assert desk.form.field(path).path == path


def test_run_shows_a_window_and_closes_it_by_itself(qapp: QApplication) -> None:
    assert run(None, show_for_ms=100) == 0
    # Its last window closed, Qt asks to quit once more: no event loop would begin any more.
    QApplication.removePostedEvents(qapp, QEvent.Type.Quit.value)


def _press(desk: Desk, name: str) -> None:
    for button in desk.form.findChildren(QPushButton):
        if name in (button.text(), button.accessibleName()) and button.isVisibleTo(desk.window):
            button.click()
            QApplication.processEvents()
            return
    raise AssertionError(f"no button {name}")


def _names(desk: Desk) -> list[str]:
    assert desk.document.design is not None
    return [site.name for site in desk.document.design.sites]
