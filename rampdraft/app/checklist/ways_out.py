"""Below the working of a failing check: the single changes that cure it, each with a button that makes it."""

from html import escape
from typing import TYPE_CHECKING, Final

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtWidgets import (
    QFrame,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QScrollArea,
    QSizePolicy,
    QVBoxLayout,
    QWidget,
)

from rampdraft.app.answers import Answers
from rampdraft.app.document import Document
from rampdraft.app.form.labels import change_words, value_words
from rampdraft.checks.result import Check
from rampdraft.model.fields.paths import changed, label_of
from rampdraft.progress import Progress

if TYPE_CHECKING:
    from rampdraft.evaluation.evaluate import Evaluation
    from rampdraft.explore.ways_out.results import WayOut

QUIET_MS: Final = 300
"""A ramp that goes on changing is left in peace: the search begins after it has stayed as it is for so
long.
"""

EFFECTS_SHOWN: Final = 3

WORKING: Final = "Working them out…"
NONE: Final = "None found: no single dimension, section or material that was tried cures this by itself."
BROKEN: Final = "They could not be worked out: a fault in the program."


class WaysOutPanel(QWidget):
    """Shows the ways out of one check of the document's evaluation; hidden for a check that does not fail."""

    told = Signal(str)
    """What was changed, in words."""

    def __init__(self, document: Document, answers: Answers, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._document = document
        self._made = 0
        """Counts the evaluation whose ways are found."""
        self._found: dict[str, tuple[WayOut, ...]] = {}
        """Ways out of its checks, by their ids, as far as somebody opened them."""
        self._check: Check | None = None
        self._shown: tuple[int, str] | None = None
        """The evaluation and the check that the buttons are true of."""
        self._ways: dict[QPushButton, WayOut] = {}
        self._line = answers.line("ways out")
        self._line.came.connect(self._keep)
        self._line.failed.connect(self._refresh)
        self._quiet = QTimer(self)
        self._quiet.setSingleShot(True)
        self._quiet.setInterval(QUIET_MS)
        self._quiet.timeout.connect(self._ask)
        self.words = QLabel(self)
        self.words.setWordWrap(True)
        self._rows = QWidget()
        self._column = QVBoxLayout(self._rows)
        self._column.setContentsMargins(10, 0, 10, 4)
        self._column.setSpacing(8)
        self._scroll = QScrollArea(self)
        self._scroll.setWidgetResizable(True)
        self._scroll.setFrameShape(QFrame.Shape.NoFrame)
        self._scroll.setProperty("role", "sheet")
        self._scroll.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self._scroll.setMinimumHeight(5 * self.fontMetrics().lineSpacing())
        self._scroll.setWidget(self._rows)
        self._scroll.setAccessibleName("Ways out")
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(4)
        self.words.setContentsMargins(10, 0, 10, 0)
        column.addWidget(self.words)
        column.addWidget(self._scroll, 1)
        self.hide()

    @property
    def buttons(self) -> tuple[QPushButton, ...]:
        """Return the buttons, the least change first."""
        return tuple(self._ways)

    def show_of(self, check: Check | None) -> None:
        """Show the ways out of a check of the document's evaluation as it is now, or nothing."""
        made, before = self._document.made, self._check
        if check is None or made != self._made:
            self._line.call_off()
        if made != self._made:
            self._made = made
            self._found.clear()
        self._check = check
        if check is None or not check.fails:
            self._quiet.stop()
            self.hide()
            return
        self.show()
        if self._document.stale or check.id in self._found:
            self._quiet.stop()
        else:
            opened = before is None or before.id != check.id
            self._quiet.start(0 if opened else QUIET_MS)
        self._refresh()

    def stop(self) -> None:
        """Ask nothing any more."""
        self._quiet.stop()

    def _ask(self) -> None:
        if self._check is not None and not self._document.stale:
            evaluation, check_id = self._document.evaluation, self._check.id
            self._line.want((self._made, check_id), work_out, evaluation, check_id)

    def _keep(self, about: object, found: "dict[str, tuple[WayOut, ...]]") -> None:
        self._found |= found
        self._refresh()

    def _refresh(self) -> None:
        check, made = self._check, self._made
        if check is None or self.isHidden():
            return
        found = self._found.get(check.id)
        if found is not None and self._shown != (made, check.id):
            self._fill(found)
            self._shown = made, check.id
        if found is None and (self._shown is None or self._shown[1] != check.id):
            self._fill(())
            self._shown = None
        self._scroll.setVisible(bool(self._ways))
        vertical = QSizePolicy.Policy.Expanding if self._ways else QSizePolicy.Policy.Maximum
        self.setSizePolicy(QSizePolicy.Policy.Preferred, vertical)
        for button in self._ways:
            button.setEnabled(found is not None and not self._document.stale)
        if found is not None:
            self.words.setText("Ways out, the least change first:" if found else f"Ways out: {NONE}")
        else:
            self.words.setText(f"Ways out: {BROKEN if self._line.broken == (made, check.id) else WORKING}")

    def _fill(self, ways: "tuple[WayOut, ...]") -> None:
        while (item := self._column.takeAt(0)) is not None:
            widget = item.widget()
            if widget is not None:
                widget.hide()
                widget.deleteLater()
        self._ways.clear()
        for way in ways:
            self._column.addWidget(self._row(way))
        self._column.addStretch(1)
        self._scroll.verticalScrollBar().setValue(0)

    def _row(self, way: "WayOut") -> QWidget:
        from rampdraft.explore.ways_out.words import effect_words

        row = QWidget(self._rows)
        change, every = change_words(way.path, way.before, way.after), effect_words(way)
        shown = effect_words(way, EFFECTS_SHOWN)
        told = QLabel("<br>".join((f"<b>{escape(change)}</b>", *map(escape, shown))), row)
        told.setTextFormat(Qt.TextFormat.RichText)
        told.setWordWrap(True)
        told.setToolTip("\n".join(every) if every != shown else "")
        button = QPushButton("Apply", row)
        button.setAccessibleName(" ".join((f"Apply: {change}.", *every)))
        button.clicked.connect(self._pressed)
        self._ways[button] = way
        across = QHBoxLayout(row)
        across.setContentsMargins(0, 0, 0, 0)
        across.addWidget(told, 1)
        across.addWidget(button, 0, Qt.AlignmentFlag.AlignTop)
        return row

    def _pressed(self) -> None:
        button, design = self.sender(), self._document.design
        way = self._ways.get(button) if isinstance(button, QPushButton) else None
        if way is None or design is None or self._shown is None or self._shown[0] != self._document.made:
            return
        before, after = value_words(way.path, way.before), value_words(way.path, way.after)
        self._document.replace(
            changed(design, way.path, way.after), label_of(way.path), old=before, new=after
        )
        self.told.emit(f"{change_words(way.path, way.before, way.after)}. Undo takes it back.")


def work_out(evaluation: "Evaluation", check_id: str, progress: Progress) -> "dict[str, tuple[WayOut, ...]]":
    """Return the ways out of one check of an evaluation."""
    from rampdraft.explore.ways_out.ways import ways_out

    return ways_out(evaluation, check_id, progress)
