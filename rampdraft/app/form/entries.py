"""Single values of the survey page and of presets: a label, an editor, a unit, and the reason why a value
can't be.
"""

from dataclasses import replace
from typing import Any, Final

from PySide6.QtCore import QSignalBlocker, Signal
from PySide6.QtWidgets import QCheckBox, QLabel, QWidget

from rampdraft.app.form import format
from rampdraft.app.form.editors import ChoiceEditor, editor_for
from rampdraft.app.form.giving import reason
from rampdraft.app.furniture import across, button, column, label, make
from rampdraft.errors import Problem
from rampdraft.model.design import Design
from rampdraft.model.fields.paths import FieldInfo, info_of
from rampdraft.model.fields.record import Dim, Record, Switch
from rampdraft.model.fields.values import value_problems
from rampdraft.model.presets import PresetKind
from rampdraft.words.say import say

NUMBER_EM: Final = 7
"""Width of a number's editor in widths of the letter m."""
UNIT_EM: Final = 3
_RISE: Final = {"label": "", "help": "Height of the upper ground over the lower.", "low": 1.0, "high": 1500.0}
_FALL: Final = {
    "label": "",
    "help": "How much the ground falls away from the deck; below 0 where it rises.",
    "low": -15.0,
    "high": 15.0,
    "unit": "%",
    "step": 0.5,
}


def info_at(path: str, **other: Any) -> FieldInfo:
    """Return the record of a value of the survey, or one like it that differs in `other`: a loaded height has
    what the empty one has but for its label.
    """
    info = info_of(path)
    assert info is not None
    record: Record | None = info.record
    assert record is not None
    return replace(info, record=replace(record, **other)) if other else info


def figure_entry(site: str, kind: PresetKind, parent: QWidget) -> "Entry":
    """Return the figure that tells an ordinary place, of the site at a path: a height, or a fall."""
    info = info_at("carrier.deck_height_mm", letter="", **(_FALL if kind == "fall" else _RISE))
    entry = Entry(f"{site}.ground_mm", info, parent)
    entry.name.hide()
    return entry


class Entry(QWidget):
    """One value. What is typed is told where it can be; else it stays, with the reason below it."""

    given = Signal(object)
    """A value that its record allows."""
    turned = Signal()
    """Whether what is typed can be."""
    left_out = Signal()
    """It is to go."""

    def __init__(self, path: str, info: FieldInfo, parent: QWidget, *, removable: bool = False) -> None:
        super().__init__(parent)
        self.path, self._info = path, info
        self.bad = False
        """Whether what is typed is no value."""
        record = info.record
        assert record is not None
        self.editor = editor_for(info, self)
        widget = self.editor.widget
        unit = format.unit_text(record.unit) if isinstance(record, Dim) else ""
        name, told = say(record.label), say(record.help)
        widget.setAccessibleName(f"{name}, {unit}" if unit else name)
        widget.setAccessibleDescription(told)
        reach = f" {format.range_text(record)}." if isinstance(record, Dim) else ""
        self.setToolTip(told + reach)
        self.name = label(name, self)
        self.name.setBuddy(widget)
        self.reason = label("", self, role="reason")
        self.reason.hide()
        em = self.fontMetrics().horizontalAdvance("m")
        shown = make(QLabel, unit, self, role="quiet")
        shown.setFixedWidth(UNIT_EM * em)
        row = across((self.name, 1), (widget, 0), (shown, 0), margins=(0, 0, 0, 0), spacing=6)
        if isinstance(self.editor, ChoiceEditor):
            widget.setFixedWidth((NUMBER_EM + UNIT_EM + 6) * em)
            shown.hide()
        else:
            widget.setFixedWidth(NUMBER_EM * em)
        self.off = button(
            "×", self.left_out.emit, self, say("Leave it out"), accessibleName=say("Leave it out")
        )
        self.off.setVisible(removable)
        if removable:
            row.addWidget(self.off)
        column(self, (row, 0), (self.reason, 0), spacing=1)
        self.editor.given.connect(self._give)
        self.editor.stepped.connect(self._give)
        self.editor.refused.connect(self._refuse)
        self.editor.restored.connect(self._restore)

    def show_value(self, value: Any, survey: Design, problems: tuple[Problem, ...] = ()) -> None:
        """Show a value with what is wrong with it, unless what is typed is still to be mended."""
        if not self.bad:
            self.editor.show_value(value, survey)
            self._say("; ".join(map(reason, problems)))

    def _give(self, value: Any) -> None:
        wrong = value_problems(self.path, self._info, value)
        if wrong:
            self._refuse("", "; ".join(map(reason, wrong)))
            return
        self._turn(bad=False)
        self._say("")
        self.given.emit(value)

    def _refuse(self, _text: str, why: str) -> None:
        self._say(why)
        self._turn(bad=True)

    def _restore(self) -> None:
        self._say("")
        self._turn(bad=False)

    def _turn(self, *, bad: bool) -> None:
        if bad != self.bad:
            self.bad = bad
            self.turned.emit()

    def _say(self, words: str) -> None:
        if words != self.reason.text():
            self.reason.setText(words)
            self.reason.setVisible(bool(words))
            widget = self.editor.widget
            widget.setProperty("wrong", bool(words))
            widget.style().unpolish(widget)
            widget.style().polish(widget)


class Tick(QCheckBox):
    """A yes or no of the survey."""

    given = Signal(object)

    def __init__(self, path: str, parent: QWidget) -> None:
        record = info_at(path).record
        assert isinstance(record, Switch)
        super().__init__(say(record.label), parent)
        self.path = path
        self.setToolTip(say(record.help))
        self.setAccessibleDescription(say(record.help))
        self.clicked.connect(self._click)

    def _click(self) -> None:
        self.given.emit(self.isChecked())

    def show_value(self, value: bool) -> None:
        """Show whether it is so."""
        with QSignalBlocker(self):
            self.setChecked(value)
