"""Another language or unit of length while the window runs: all is told in it, and nothing is lost."""

from collections import Counter
from collections.abc import Iterator
from typing import Any

import pytest
from PySide6.QtCore import QCoreApplication, QEvent, QLocale
from PySide6.QtGui import QAction
from PySide6.QtWidgets import (
    QAbstractItemView,
    QApplication,
    QComboBox,
    QDialogButtonBox,
    QLineEdit,
    QMenu,
    QPushButton,
    QTableWidget,
    QTabWidget,
    QTextBrowser,
    QUndoView,
    QWidget,
)
from stand_in import StandIn

from rampdraft.app import looks, speech
from rampdraft.app.kept_rolling import KeptRolling
from rampdraft.app.shell import settings
from rampdraft.app.shell.desk import Desk
from rampdraft.app.shell.window import Window
from rampdraft.words.manner import manner
from rampdraft.words.say import say, sentences

LENGTH = "inner_leaf.length_mm"


@pytest.fixture(autouse=True)
def as_before(alone: None) -> Iterator[None]:
    yield
    settings.remember_language("")
    settings.remember_lengths("")
    speech.begin()
    assert manner().language == "en"


def settled(window: Window) -> Desk:
    """Return the desk that is there once what was chosen is done."""
    for _ in range(3):
        QApplication.processEvents()
        QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)
    assert window.desk is not None
    window.desk.dialogs = StandIn(window)
    return window.desk


def action(desk: Desk, *path: str) -> QAction:
    """Return an action by the words of its menus, in any language."""
    actions = desk.window.menuBar().actions()
    for words in path[:-1]:
        menu = next(one.menu() for one in actions if one.text().replace("&", "") == words)
        assert isinstance(menu, QMenu)
        menu.aboutToShow.emit()
        actions = menu.actions()
    return next(one for one in actions if one.text().replace("&", "") == path[-1])


def to_german(desk: Desk) -> Desk:
    action(desk, "View", "Language", "Deutsch").trigger()
    return settled(desk.window)


def words_on(window: Window) -> Counter[str]:
    """Return all that stands in a window, or is read out or told by it."""
    found: list[Any] = [one.text() for one in window.findChildren(QAction)]
    for widget in (window, *window.findChildren(QWidget)):
        found += [widget.toolTip(), widget.accessibleName(), widget.accessibleDescription()]
        found += [widget.whatsThis(), widget.windowTitle().replace("[*]", "")]
        text = getattr(widget, "text", None)
        found += [text()] if callable(text) else []
        if isinstance(widget, QLineEdit):
            found.append(widget.placeholderText())
        elif isinstance(widget, QTextBrowser):
            found.append(widget.toPlainText())
        elif isinstance(widget, QComboBox):
            found += [widget.itemText(row) for row in range(widget.count())]
        elif isinstance(widget, QTabWidget):
            found += [widget.tabText(at) for at in range(widget.count())]
        elif isinstance(widget, QAbstractItemView) and not isinstance(widget, QUndoView):
            model = widget.model()
            if model is not None:
                columns = range(model.columnCount() if isinstance(widget, QTableWidget) else 1)
                rows = range(model.rowCount())
                found += [model.index(row, at).data() for row in rows for at in columns]
    return Counter(str(one) for one in found if one)


def test_switched_nothing_of_another_language_stays(desk: Desk, monkeypatch: pytest.MonkeyPatch) -> None:
    """A window begun in the language, with the same design, says the same, word by word."""
    monkeypatch.setattr(KeptRolling, "want", lambda _: None)  # both windows at the same moment of it
    design = desk.document.design
    assert design is not None
    switched = to_german(desk)
    assert switched is not desk
    other = Window()
    other.resize(desk.window.size())
    other.show()
    begun = other.furnish()
    begun.dialogs = StandIn(other)
    begun.step_work.take("")
    begun.document.open(design, None)
    for one in (switched, begun):
        for panel in (one.strength, one.pieces, one.compare, one.side):
            one.views.setCurrentWidget(panel)
        settled(one.window)
    ours, theirs = words_on(desk.window), words_on(other)
    other.close_unasked()
    assert ours - theirs == Counter()
    assert theirs - ours == Counter()
    assert "Bearbeiten" in {one.replace("&", "") for one in ours}


def test_switched_all_that_was_in_hand_is_there_again(desk: Desk) -> None:
    desk.document.edit(LENGTH, 1234.0, "Inner leaf length", old="800", new="1234")
    desk.form.field("about.name")
    desk.document.refuse(LENGTH, "x", "has 'x' in it, which is no number")
    desk.keep_ramp()
    desk.step_work.take("fold")
    desk.views.setCurrentWidget(desk.fold_map)
    document, before = desk.document, desk.document.design
    switched = to_german(desk)
    assert switched.document is document
    assert document.design is before
    assert switched.step_work.step == "fold"
    assert switched.views.currentWidget() is switched.fold_map
    stack = document.undo_stack
    assert stack.count() == 2
    assert "1234" in stack.text(0)
    assert "Inner leaf length 800 → 1234" not in stack.text(0)
    assert document.unread[LENGTH].rule == say("has '{text}' in it, which is no number", text="x") + say(
        " and no unit (units here: {units})", units="mm, cm, m, in, \", ″, ft, ', ′"
    )
    stack.undo()
    stack.undo()
    assert document.design != before
    assert not stack.canUndo()


def test_switched_the_kept_ramp_is_kept(desk: Desk) -> None:
    desk.keep_ramp()
    kept = desk.variant.evaluation
    assert kept is not None
    switched = to_german(desk)
    line = switched.variant._line
    while line.asked is not None:
        QApplication.processEvents()
    assert switched.variant.evaluation is not None
    assert switched.variant.evaluation is not kept
    assert switched.variant.evaluation.design == kept.design
    assert switched.variant.name == "wie geöffnet"


def test_the_choice_is_marked_and_remembered(desk: Desk) -> None:
    switched = to_german(desk)
    assert speech.tongue() == "de"
    assert action(switched, "Ansicht", "Sprache (Language)", "Deutsch").isChecked()
    action(switched, "Ansicht", "Sprache (Language)", "English").trigger()
    again = settled(desk.window)
    assert manner().language == "en"
    assert action(again, "View", "Language", "English").isChecked()


def test_chosen_again_nothing_is_set_out_anew(desk: Desk) -> None:
    action(desk, "View", "Language", "English").trigger()
    assert settled(desk.window) is desk


def test_buttons_of_qt_speak_german_and_english_again(desk: Desk) -> None:
    """Qt's own translation, qtbase_de."""
    cancel = QDialogButtonBox.StandardButton.Cancel
    to_german(desk)
    box = QDialogButtonBox(cancel)
    assert box.button(cancel).text().replace("&", "") == "Abbrechen"
    speech.choose_tongue("en")
    assert QDialogButtonBox(cancel).button(cancel).text().replace("&", "") == "Cancel"


@pytest.mark.parametrize(
    ("system", "tongue", "language", "sign"),
    [
        (QLocale("de_DE"), "system", "de", ","),
        (QLocale("de_DE"), "en", "en", ","),
        (QLocale("de_CH"), "system", "de", "."),
        (QLocale("en_US"), "system", "en", "."),
        (QLocale("en_US"), "de", "de", ","),
        (QLocale("fr_FR"), "system", "en", ","),
    ],
)
def test_the_system_says_which_language_and_decimal_sign(
    qapp: QApplication,
    monkeypatch: pytest.MonkeyPatch,
    system: QLocale,
    tongue: speech.Tongue,
    language: str,
    sign: str,
) -> None:
    """Decimal signs by Unicode CLDR, as Qt has them."""
    monkeypatch.setattr(speech, "_own_locale", lambda: QLocale(system))
    speech.choose_tongue(tongue)
    assert (manner().language, manner().style.decimal) == (language, sign)
    assert QLocale().decimalPoint() == sign
    monkeypatch.undo()


@pytest.mark.parametrize("per_cent", [100, 200])
def test_german_is_not_cut_off_on_a_small_screen(desk: Desk, per_cent: int) -> None:
    german = to_german(desk)
    german.window.resize(1280, 800)
    looks.choose_text_size(per_cent)
    try:
        for name in ("use", "sites", "bridge"):
            german.form.go_to_section(name)
        for panel in (german.end, german.users, german.side):
            german.views.setCurrentWidget(panel)
            QApplication.processEvents()
            for one in panel.findChildren(QPushButton):
                assert not one.isVisible() or one.width() >= one.sizeHint().width(), one.text()
        for one in german.fold_bar.findChildren(QPushButton):
            assert one.width() >= one.sizeHint().width(), one.text()
            assert one.geometry().right() < one.parentWidget().width(), one.text()
        told = german.fold_bar._stage
        assert told.height() >= told.heightForWidth(told.width())
        assert german.window.minimumSizeHint().height() <= 800
        assert german.window.height() == 800
        assert german.form.cut_off_px == 0
    finally:
        looks.choose_text_size(100)


def test_in_english_no_translation_is_read(desk: Desk) -> None:
    sentences.cache_clear()
    desk.window.furnish_anew()
    settled(desk.window)
    assert sentences.cache_info().misses == 0


def test_lengths_in_inches_are_typed_and_kept_in_mm(desk: Desk) -> None:
    desk.document.edit(LENGTH, 400.05, "Inner leaf length")
    before = desk.document.design
    action(desk, "View", "Lengths", "Inches").trigger()
    inches = settled(desk.window)
    assert inches.document.design is before  # shown otherwise, the same to the last digit
    field = inches.form.field(LENGTH)
    line = field.editor.widget
    assert isinstance(line, QLineEdit)
    assert line.text() == "15 3/4"
    for typed, value in (
        ("15.75 in", 400.05),
        ("31 1/2", 800.1),
        ('3/8" + 400 mm', 409.525),
        ("400 mm", 400.0),
    ):
        line.setText(typed)
        line.editingFinished.emit()
        assert inches.document.design is not None
        assert inches.document.design.inner_leaf.length_mm == value
    assert line.text() == "15.748"
    line.editingFinished.emit()  # left as it is shown
    assert inches.document.design.inner_leaf.length_mm == 400.0
    action(inches, "View", "Lengths", "Millimetres").trigger()
    again = settled(desk.window)
    shown = again.form.field(LENGTH).editor.widget
    assert isinstance(shown, QLineEdit)
    assert shown.text() == "400"
