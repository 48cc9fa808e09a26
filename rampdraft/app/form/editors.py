"""Editors of single values, one kind a record: each shows a value, and says when the user has given
another.
"""

from pathlib import Path
from typing import Any

from PySide6.QtCore import QEvent, QObject, QSignalBlocker, Qt, Signal
from PySide6.QtGui import QKeyEvent, QKeySequence, QMouseEvent, QWheelEvent
from PySide6.QtWidgets import QCheckBox, QComboBox, QCompleter, QLabel, QLineEdit, QPlainTextEdit, QWidget

from rampdraft.app.form import format
from rampdraft.app.form.usual import Usual
from rampdraft.app.furniture import across, button, column, make, put_items
from rampdraft.checks.rules.sets import builtin_rule_sets
from rampdraft.errors import FileError
from rampdraft.files.rule_files import name_of
from rampdraft.model.catalogue import materials
from rampdraft.model.design import Design
from rampdraft.model.fields.paths import FieldInfo
from rampdraft.model.fields.record import Choice, Dim, MaterialChoice, SectionChoice, Switch, Words
from rampdraft.model.sold import sold_sections
from rampdraft.words.say import say


class Editor(QObject):
    """One value's editor. `widget` is what stands in the form."""

    given = Signal(object)
    """A value, by the user."""
    refused = Signal(str, str)
    """A text that is no value, and why."""
    stepped = Signal(object)
    """A value, by a key that steps: many of them make one edit."""
    restored = Signal()
    """The user took the text back."""

    widget: QWidget
    usual: Usual | None = None
    """What the value is where it is left to a class, as 0 or the word `class`; shown in its place."""

    def show_value(self, value: Any, design: Design) -> None:
        """Show a value of the design."""
        raise NotImplementedError


class TextEditor(Editor):
    """A line of text: a number as a sum, a list, a section, words."""

    def __init__(self, info: FieldInfo, parent: QWidget) -> None:
        super().__init__(parent)
        self._info, self._value, self._shown = info, None, ""
        self._design: Design | None = None
        self.widget = self._line = QLineEdit(parent)
        if isinstance(info.record, Dim) and not info.many:
            self._line.setAlignment(Qt.AlignmentFlag.AlignRight)
        self._line.editingFinished.connect(self._finish)
        self._line.installEventFilter(self)

    def show_value(self, value: Any, design: Design) -> None:
        """Show the value, unless it is there already: the cursor stays where it is."""
        left, self._design = self.usual is not None and not value, design
        self._value, self._shown = value, "" if left else format.text_of(self._info, value)
        self._line.setPlaceholderText(self.usual.words if self.usual is not None else "")
        if self._line.text() != self._shown:
            self._line.setText(self._shown)
            self._line.setCursorPosition(0)

    def _finish(self) -> None:
        text = self._line.text()
        if text == self._shown:
            self.restored.emit()
            return
        try:
            value = self._read(text)
        except ValueError as wrong:
            self.refused.emit(text, str(wrong))
        else:
            if value == self._value:  # the same size, written another way
                self._line.setText(self._shown)
                self.restored.emit()
            else:
                self.given.emit(value)

    def _read(self, text: str) -> Any:
        """Return the value of a text; nothing leaves the value to the class, where there is one."""
        return 0.0 if self.usual is not None and not text.strip() else format.value_from(self._info, text)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Step with the arrow keys, take back with Esc, and leave undo to the document while nothing is half
        typed.
        """
        untouched = self._line.text() == self._shown
        if event.type() == QEvent.Type.ShortcutOverride and isinstance(event, QKeyEvent):
            if untouched and (
                event.matches(QKeySequence.StandardKey.Undo) or event.matches(QKeySequence.StandardKey.Redo)
            ):
                event.ignore()
                return True
        elif event.type() == QEvent.Type.KeyPress and isinstance(event, QKeyEvent):
            if event.key() == Qt.Key.Key_Escape and not untouched:
                self._line.setText(self._shown)
                self.restored.emit()
                return True
            return self._step(event.key())
        elif event.type() == QEvent.Type.FocusIn and isinstance(self._info.record, SectionChoice):
            self._complete()
        return False

    def _step(self, key: int) -> bool:
        record = self._info.record
        count = {Qt.Key.Key_Up: 1, Qt.Key.Key_Down: -1, Qt.Key.Key_PageUp: 10, Qt.Key.Key_PageDown: -10}.get(
            Qt.Key(key)
        )
        if count is None or not isinstance(record, Dim) or self._info.many:
            return False
        try:
            now = self._read(self._line.text()) or (self.usual.value if self.usual is not None else 0)
        except ValueError:
            return True
        value = round(now + count * format.step_of(record), 9)
        inside = min(max(value, record.low), record.high)
        self.stepped.emit(int(inside) if self._info.value_type is int else inside)
        return True

    def _complete(self) -> None:
        if self._design is not None:
            completer = QCompleter([one.text for one in sold_sections(self._design)], self._line)
            completer.setFilterMode(Qt.MatchFlag.MatchContains)
            self._line.setCompleter(completer)


class LongTextEditor(Editor):
    """Several lines of words; taken when the cursor leaves."""

    def __init__(self, info: FieldInfo, parent: QWidget) -> None:
        super().__init__(parent)
        self._shown = ""
        self.widget = self._box = QPlainTextEdit(parent, tabChangesFocus=True)
        self._box.setFixedHeight(self._box.fontMetrics().lineSpacing() * 4)
        self._box.installEventFilter(self)

    def show_value(self, value: Any, design: Design) -> None:
        """Show the words."""
        self._shown = value
        if self._box.toPlainText() != value:
            self._box.setPlainText(value)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Take the words when the cursor leaves."""
        if event.type() == QEvent.Type.FocusOut and self._box.toPlainText() != self._shown:
            self.given.emit(self._box.toPlainText())
        return False


class _Combo(QComboBox):
    """A choice that a wheel over the form does not change by accident."""

    def wheelEvent(self, event: QWheelEvent) -> None:
        event.ignore()


class ChoiceEditor(Editor):
    """One word of a few, or a material by name."""

    def __init__(self, info: FieldInfo, parent: QWidget) -> None:
        super().__init__(parent)
        self._info = info
        self.widget = self._combo = _Combo(
            parent,
            sizeAdjustPolicy=QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon,
            minimumContentsLength=8,
        )
        self._combo.activated.connect(self._choose)

    def show_value(self, value: Any, design: Design) -> None:
        """Show the choices as the design has them now, and the chosen one, even where it is none of them."""
        options = self._options(design)
        if value not in dict(options):
            options = (*options, (value, say("{value} (unknown)", value=value)))
        put_items(self._combo, [(words, word) for word, words in options])
        with QSignalBlocker(self._combo):
            self._combo.setCurrentIndex([word for word, _ in options].index(value))

    def _options(self, design: Design) -> tuple[tuple[str, str], ...]:
        if isinstance(self._info.record, Choice):
            words = {word: say(told) for word, told in self._info.record.options}
            if self.usual is not None:
                words["class"] = self.usual.words
            return tuple(words.items())
        names = dict.fromkeys(material.name for material in (*design.materials, *materials()))
        return tuple((say(name), name) for name in names)

    def _choose(self, row: int) -> None:
        self.given.emit(self._combo.itemData(row))


class SwitchEditor(Editor):
    """Yes or no."""

    def __init__(self, info: FieldInfo, parent: QWidget) -> None:
        super().__init__(parent)
        self.widget = self._box = QCheckBox(say("fitted"), parent)
        self._box.clicked.connect(self._click)

    def show_value(self, value: Any, design: Design) -> None:
        """Show whether it is on."""
        self._box.setChecked(value)

    def _click(self) -> None:
        self.given.emit(self._box.isChecked())


class _Beside(QLabel):
    """Words beside a box to tick, which wrap as its own do not; a click on them ticks it."""

    def __init__(self, text: str, box: QCheckBox, parent: QWidget) -> None:
        super().__init__(text, parent)
        self._box = box
        self.setWordWrap(True)
        self.setToolTip(box.toolTip())

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """Tick the box."""
        self._box.click()


class RuleSetEditor(Editor):
    """A box to tick for each rule set; own files stand below, and go when their box is cleared."""

    def __init__(self, info: FieldInfo, parent: QWidget) -> None:
        super().__init__(parent)
        self._value: tuple[str, ...] = ()
        self._boxes: dict[str, QCheckBox] = {}
        self.widget = QWidget(parent)
        self._column = column(self.widget, spacing=2)
        for rules in builtin_rule_sets():
            self._add_box(rules.key, say(rules.title), rules.publication)
        self._column.addWidget(button(say("Add your own rules…"), self._add_file, self.widget))

    def show_value(self, value: Any, design: Design) -> None:
        """Tick the rule sets in use."""
        self._value = value
        for name in value:
            if name not in self._boxes:
                self._add_box(name, Path(name).name, name)
        for name, box in self._boxes.items():
            box.setChecked(name in value)

    def _add_box(self, name: str, title: str, help_text: str) -> None:
        box = make(
            QCheckBox, self.widget, toolTip=help_text, accessibleName=title, accessibleDescription=help_text
        )
        box.clicked.connect(self._ticked)
        words = _Beside(title, box, self.widget)
        row = across((box, 0), (words, 1), margins=(0, 0, 0, 0), spacing=4)
        self._column.insertLayout(len(self._boxes), row)
        self._boxes[name] = box

    def _ticked(self) -> None:
        self.given.emit(tuple(name for name, box in self._boxes.items() if box.isChecked()))

    def _add_file(self) -> None:
        desk = self.widget.window().desk  # type: ignore[attr-defined]
        path: Path | None = desk.dialogs.rule_file()
        if path is None:
            return
        try:
            name = name_of(path, desk.document.folder)
        except FileError as wrong:
            desk.dialogs.problems(say("Not added"), str(wrong).partition("\n")[0], wrong.problems)
            return
        if name not in self._value:
            self.given.emit((*self._value, name))


def editor_for(info: FieldInfo, parent: QWidget) -> Editor:
    """Return the editor that suits a field's record."""
    match info.record:
        case Choice() | MaterialChoice():
            return ChoiceEditor(info, parent)
        case Switch():
            return SwitchEditor(info, parent)
        case Words() if info.many:
            return RuleSetEditor(info, parent)
        case Words(longest=longest) if longest > 500:
            return LongTextEditor(info, parent)
        case _:
            return TextEditor(info, parent)
