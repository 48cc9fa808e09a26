"""Which rule sets judge the ramp: those that come with the program, and the user's own files."""

from pathlib import Path
from typing import Any

from PySide6.QtWidgets import QCheckBox, QPushButton, QVBoxLayout, QWidget

from rampdraft.app.form.editor import Editor
from rampdraft.checks.rules.sets import builtin_rule_sets
from rampdraft.model.design import Design
from rampdraft.model.fields.paths import FieldInfo


class RuleSetEditor(Editor):
    """A box to tick for each rule set; own files stand below, and go when their box is cleared."""

    def __init__(self, info: FieldInfo, parent: QWidget) -> None:
        super().__init__(parent)
        self._value: tuple[str, ...] = ()
        self._boxes: dict[str, QCheckBox] = {}
        self.widget = QWidget(parent)
        self._column = QVBoxLayout(self.widget)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(2)
        for rules in builtin_rule_sets():
            self._add_box(rules.key, rules.title, rules.publication)
        button = QPushButton("Add a rule file of your own…", self.widget)
        button.clicked.connect(self._add_file)
        self._column.addWidget(button)

    def show_value(self, value: Any, design: Design) -> None:
        """Tick the rule sets in use."""
        self._value = value
        for name in value:
            if name not in self._boxes:
                self._add_box(name, Path(name).name, name)
        for name, box in self._boxes.items():
            box.setChecked(name in value)

    def _add_box(self, name: str, title: str, help_text: str) -> None:
        box = QCheckBox(title, self.widget)
        box.setToolTip(help_text)
        box.setAccessibleDescription(help_text)
        box.clicked.connect(self._ticked)
        self._column.insertWidget(len(self._boxes), box)
        self._boxes[name] = box

    def _ticked(self) -> None:
        self.given.emit(tuple(name for name, box in self._boxes.items() if box.isChecked()))

    def _add_file(self) -> None:
        path: Path | None = self.widget.window().desk.dialogs.rule_file()  # type: ignore[attr-defined]
        if path is not None and str(path) not in self._value:
            self.given.emit((*self._value, str(path)))
