"""For everybody: what a screen reader is told, Tab as the eye goes, focus that is seen, all of it by keys.

Outside checks: Qt's own accessibility tree, pixels of the window, and the contrast ratio of WCAG 2.2.
"""

import gc
from collections.abc import Iterator
from itertools import pairwise
from pathlib import Path

import pytest
from access import brightness, contrast, name_of, told
from PySide6.QtCore import QEvent, QPoint, Qt
from PySide6.QtGui import QAccessible
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QLabel, QMenu, QTextBrowser, QWidget
from test_sheets import A4_PT, paper

from rampdraft.app import looks
from rampdraft.app.canvas.canvas import Canvas
from rampdraft.app.proposing.improve_dialog import ImproveDialog
from rampdraft.app.reading_order import in_lines, stops
from rampdraft.app.sheets.dialog import SheetsDialog
from rampdraft.app.shell.desk import Desk
from rampdraft.app.shell.pack_folder import PackFolder
from rampdraft.app.start.dialog import StartDialog
from rampdraft.checks.steps import STEPS
from rampdraft.export import pack

ROLE = QAccessible.Role
CONTROLS = {
    ROLE.Button, ROLE.ButtonMenu, ROLE.CheckBox, ROLE.RadioButton, ROLE.ComboBox, ROLE.EditableText,
    ROLE.Slider, ROLE.Grip, ROLE.SpinBox, ROLE.List, ROLE.Table, ROLE.Tree, ROLE.PageTabList, ROLE.PageTab,
    ROLE.MenuItem, ROLE.Canvas, ROLE.Chart, ROLE.Graphic, ROLE.ListItem, ROLE.Document, ROLE.ProgressBar,
}  # fmt: skip
NO_CONTROLS = {ROLE.Client, ROLE.Window, ROLE.NoRole, ROLE.Pane, ROLE.Grouping}
HANDLES = ("qt_splithandle_",)
"""Between areas; the mouse alone takes them, so nobody is told of them."""


def views(desk: Desk) -> Iterator[QWidget]:
    """Yield each view, seen."""
    for panel, _ in desk.views.named:
        desk.views.setCurrentWidget(panel)
        QApplication.processEvents()
        yield panel


def unnamed(widget: QWidget) -> list[str]:
    """Return the controls in a widget that have no name."""
    return [
        f"{one.role().name} {type(one.object()).__name__}"
        for one in told(widget)
        if one.role() in CONTROLS
        and not name_of(one).strip()
        and not (one.object() is not None and one.object().objectName() in HANDLES)
    ]


def bare(widget: QWidget) -> list[str]:
    """Return what takes the cursor in a widget without a role that says what it is."""
    found: list[str] = []
    for one in told(widget):
        of = one.object()
        if isinstance(of, QWidget) and of.focusPolicy() & Qt.FocusPolicy.TabFocus and of.focusProxy() is None:
            text = isinstance(of, QLabel | QTextBrowser) and one.role() == ROLE.StaticText
            if not (one.role() in CONTROLS or text) or not name_of(one).strip():
                found.append(f"{one.role().name} {type(of).__name__} {name_of(one)}")
    return found


def test_every_control_of_every_view_has_a_name_and_a_role(desk: Desk) -> None:
    for panel in views(desk):
        assert unnamed(panel) == [], type(panel).__name__
        assert bare(panel) == [], type(panel).__name__
    desk.notice.tell("Told", (("one", "Do it", desk.fit),))
    assert unnamed(desk.window) == []
    assert bare(desk.window) == []


def test_every_field_of_every_step_has_a_name_a_role_and_help(desk: Desk) -> None:
    for step in STEPS:
        desk.step_work.take(step.key)
        for section in desk.form._sections.values():
            section.heading.setChecked(not section.isHidden())
        QApplication.processEvents()
        assert unnamed(desk.form) == []
        assert bare(desk.form) == []
        for field in desk.form._fields.values():
            one = QAccessible.queryAccessibleInterface(field.editor.widget)
            assert one.text(QAccessible.Text.Description), field.path


def test_fields_sliders_and_grips_tell_their_value(desk: Desk) -> None:
    line = desk.form.field("inner_leaf.length_mm").editor.widget
    assert QAccessible.queryAccessibleInterface(line).text(QAccessible.Text.Value) == "1346"
    knob = desk.side.hand.canvas.knobs["inner_leaf.length_mm"]
    grip = QAccessible.queryAccessibleInterface(knob)
    assert (grip.role(), grip.text(QAccessible.Text.Value)) == (ROLE.Slider, "L 1346 mm")
    knob.setFocus()
    QTest.keyClick(knob, Qt.Key.Key_Right)
    assert grip.text(QAccessible.Text.Value) == "L 1347 mm"
    slider = QAccessible.queryAccessibleInterface(desk.fold_bar.slider)
    desk.fold_bar.go(0.25)
    assert slider.valueInterface().currentValue() == 250
    strip = QAccessible.queryAccessibleInterface(desk.fold_bar.clearance)
    assert strip.role() == ROLE.Chart
    assert "mm" in strip.text(QAccessible.Text.Value)


def test_what_is_drawn_is_told_as_children_of_the_drawing(desk: Desk) -> None:
    desk.views.setCurrentWidget(desk.plan)
    QApplication.processEvents()
    evaluation = desk.document.evaluation
    assert evaluation is not None
    for canvas in (desk.side.canvas, desk.plan.canvas):
        assert canvas.picture is not None
        sheet = QAccessible.queryAccessibleInterface(canvas)
        assert sheet.role() == ROLE.Canvas
        children = [sheet.child(at) for at in range(sheet.childCount())]
        drawn = [one for one in children if one is not None and one.role() == ROLE.Graphic]
        names = [one.text(QAccessible.Text.Name) for one in drawn]
        shown = {mark.owner for mark in canvas.picture.marks}
        members = [one.key for one in evaluation.assembly.members if one.key in shown]
        assert len(members) > 10
        for key in members:
            assert sum(name.lower().startswith(key + "   ") for name in names) == 1, key
        assert any(name.startswith("Inner leaf length: 1346 mm") for name in names)
        for at, one in enumerate(drawn):
            assert sheet.indexOfChild(one) == at
            assert one.parent().object() is canvas
            inside = canvas.rect().translated(canvas.mapToGlobal(QPoint(0, 0)))
            assert inside.intersects(one.rect())


def test_what_was_told_of_a_drawing_goes_with_it(qapp: QApplication) -> None:
    for _ in range(5):
        canvas = Canvas("sheet")
        assert QAccessible.queryAccessibleInterface(canvas).role() == ROLE.Canvas
        canvas.deleteLater()
        del canvas
        qapp.sendPostedEvents(None, QEvent.Type.DeferredDelete.value)
    gc.collect()
    qapp.processEvents()


def assert_read_in_order(found: list[QWidget], within: QWidget) -> None:
    """Of two stops after one another the second lies lower, or on the right of the first."""
    for before, after in pairwise(found):
        one, two = (widget.mapTo(within, QPoint(0, 0)) for widget in (before, after))
        lower = two.y() + after.height() / 2 > one.y() + before.height() / 2
        right = two.x() >= one.x() + before.width()
        assert lower or right, (before.accessibleName(), one, after.accessibleName(), two)


def test_tab_goes_through_each_area_as_the_eye_does(desk: Desk) -> None:
    for panel in views(desk):
        found = [one for one in stops(panel) if not isinstance(one.parent(), Canvas)]
        assert_read_in_order(found, panel)
    assert_read_in_order(stops(desk.form), desk.form)
    assert_read_in_order(stops(desk.checks), desk.checks)
    knobs = [one for one in stops(desk.side.canvas) if one is not desk.side.canvas]
    assert [one.x() for one in knobs] == sorted(one.x() for one in knobs)
    areas = (desk.step_work.strip, desk.step_work.list, desk.form, desk.views, desk.checks)
    every = stops(desk.window)
    firsts = [next(at for at, one in enumerate(every) if area in (one, *above(one))) for area in areas]
    assert firsts == sorted(firsts)


def above(widget: QWidget) -> Iterator[QWidget]:
    while (parent := widget.parentWidget()) is not None:
        yield parent
        widget = parent


def test_tab_and_back_go_round_all_stops(desk: Desk) -> None:
    first = stops(desk.window)[0]
    first.setFocus()
    gone: list[QWidget] = []
    while not (gone and desk.window.focusWidget() is first):
        gone.append(desk.window.focusWidget())
        QTest.keyClick(gone[-1], Qt.Key.Key_Tab)
        if desk.window.focusWidget() is gone[-1]:  # it has gone to the link in a label
            QTest.keyClick(gone[-1], Qt.Key.Key_Tab)
        assert len(gone) < 200
    # Of buttons of which one is down, that one: arrow keys go to the others.
    assert gone == stops(desk.window)
    assert len(gone) > 60
    QTest.keyClick(first, Qt.Key.Key_Backtab, Qt.KeyboardModifier.ShiftModifier)
    assert desk.window.focusWidget() is gone[-1]


def test_the_survey_is_told_and_gone_through_like_the_window(desk: Desk) -> None:
    desk.filing.new()
    dialog = desk.propose_work.dialog
    assert dialog is not None
    QApplication.processEvents()
    assert unnamed(dialog) == []
    assert bare(dialog) == []
    found = stops(dialog)
    assert_read_in_order(found, dialog)
    found[0].setFocus()
    QTest.keyClick(dialog.focusWidget(), Qt.Key.Key_Tab)
    assert dialog.focusWidget() is found[1]
    dialog.close()


def test_the_other_dialogs_are_told_and_gone_through_in_order(
    desk: Desk, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    design, evaluation = desk.document.design, desk.document.evaluation
    assert design is not None
    assert evaluation is not None
    monkeypatch.setattr(pack, "papers", lambda *_: {"templates": paper(A4_PT)})
    for dialog in (
        StartDialog((), (), desk.window),
        PackFolder(tmp_path / "new", desk.window),
        ImproveDialog(design, None, desk.answers, desk.window),
        SheetsDialog(evaluation, desk.answers, lambda: None, desk.window),
    ):
        dialog.show()
        QApplication.processEvents()
        assert unnamed(dialog) == []
        assert bare(dialog) == []
        assert_read_in_order(stops(dialog), dialog)
        dialog.close()


def test_steps_checks_fold_and_menus_go_by_keys_alone(desk: Desk) -> None:
    steps, checks, slider = desk.step_work.list, desk.checks.list, desk.fold_bar.slider
    steps.setFocus()
    QTest.keyClick(steps, Qt.Key.Key_Home)
    QTest.keyClick(steps, Qt.Key.Key_Down)
    assert desk.step_work.step == STEPS[1].key
    QTest.keyClick(steps, Qt.Key.Key_End)
    assert desk.step_work.step == ""
    checks.setFocus()
    QTest.keyClick(checks, Qt.Key.Key_Down)
    assert desk.checks.working.isVisible()
    slider.setFocus()
    QTest.keyClick(slider, Qt.Key.Key_End)
    assert desk.fold_bar.share == 1.0
    QTest.keyClick(slider, Qt.Key.Key_Left)
    assert desk.fold_bar.share == pytest.approx(1 - slider.singleStep() / slider.maximum())
    heading = desk.form._sections["toe"].heading
    heading.setFocus()
    QTest.keyClick(heading, Qt.Key.Key_Space)
    assert "toe.length_mm" in desk.form.paths
    menus = [one.menu() for one in desk.window.menuBar().actions()]
    assert all("&" in one.text() for one in desk.window.menuBar().actions())  # opened by Alt and a letter
    for menu in menus:
        assert isinstance(menu, QMenu)
        menu.aboutToShow.emit()
        assert all(action.isSeparator() or action.text().strip() for action in menu.actions())


def test_lines_are_read_from_the_left(qapp: QApplication) -> None:
    parent = QWidget()
    places = ((100, 2, 50, 20), (0, 0, 90, 24), (0, 30, 40, 60), (50, 40, 40, 20), (50, 95, 40, 20))
    made = [QWidget(parent) for _ in places]
    for one, place in zip(made, places, strict=True):
        one.setGeometry(*place)
    assert [made.index(one) for one in in_lines(reversed(made))] == [1, 0, 2, 3, 4]


@pytest.mark.parametrize("look", ["light", "dark"])
def test_focus_is_seen_on_every_kind_of_control(desk: Desk, look: looks.Look) -> None:
    """A line all round, or as many pixels, changes by 3 : 1 or more (WCAG 2.2, 1.4.11 and 2.4.7). What the
    light table shows on every view, the dark one is tried for on what is there at first.
    """
    looks.choose_look(look)
    QApplication.processEvents()
    desk.window.activateWindow()
    met: set[tuple[object, ...]] = set()
    try:
        for _ in views(desk) if look == "light" else (desk.side,):
            for one in stops(desk.window):
                kind = (type(one), one.property("role"), one.property("checked"))
                if kind not in met:
                    met.add(kind)
                    assert_focus_is_seen(desk.window, one)
    finally:
        looks.choose_look("system")
    assert len(met) > 9


def assert_focus_is_seen(window: QWidget, control: QWidget) -> None:
    control.setFocus(Qt.FocusReason.TabFocusReason)
    QApplication.processEvents()
    assert control.hasFocus()
    focused = brightness(window, control)
    control.clearFocus()
    QApplication.processEvents()
    changed = int((contrast(focused, brightness(window, control)) >= 3.0).sum())
    once_round = 2 * (control.width() + control.height())
    assert changed >= 0.9 * once_round, (type(control).__name__, control.accessibleName(), changed)
