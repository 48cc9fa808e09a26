"""The cautions below the checks: one line that opens into all of them, the notes of the ramp in hand, and
what no check judges.
"""

from html import escape
from typing import Final

from PySide6.QtCore import Qt
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QSizePolicy, QToolButton, QWidget

from rampdraft.app.furniture import column, hairline, make, page
from rampdraft.checks.notes import CAUTIONS, UNJUDGED
from rampdraft.words.say import counted, say

LINE: Final = "Cautions"
AID: Final = "an aid, not approval"
OPEN_LINES: Final = 14


class CautionsPanel(QWidget):
    """Tells the cautions; closed to begin with."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self._told = self._notes = ""
        self.line = make(
            QToolButton,
            self,
            role="line",
            text=f"{say(LINE)}: {say(AID)}",
            accessibleName=say("Cautions, notes, what is not judged"),
            checkable=True,
            arrowType=Qt.ArrowType.RightArrow,
            toolButtonStyle=Qt.ToolButtonStyle.ToolButtonTextBesideIcon,
            focusPolicy=Qt.FocusPolicy.StrongFocus,
        )
        self.line.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.line.toggled.connect(self._turn)
        self.page = page(say("Cautions, notes, what is not judged"), self)
        self.page.setFixedHeight(OPEN_LINES * self.fontMetrics().lineSpacing())
        self.page.hide()
        column(self, (hairline(self), 0), (self.line, 0), (self.page, 0))
        self.tell(())

    def tell(self, notes: tuple[str, ...]) -> None:
        """Say the cautions, the notes of the ramp in hand, and what no check judges."""
        parts = ((say("Cautions"), CAUTIONS), (say("Notes"), notes), (say("Not judged"), UNJUDGED))
        html = "".join(
            f"<p><b>{heading}</b><br>{'<br>'.join(escape(say(line)) for line in lines)}</p>"
            for heading, lines in parts
            if lines
        )
        if html != self._told:
            self._told = html
            self.page.setHtml(html)
            self._notes = counted(len(notes), ", {count} note", ", {count} notes") if notes else ""
            self._say()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Say as much in the line as there is room for."""
        super().resizeEvent(event)
        self._say()

    def _say(self) -> None:
        said = (f"{say(LINE)}{self._notes}: {say(AID)}", f"{say(LINE)}{self._notes}", say(LINE))
        room = self.width() - 3 * self.fontMetrics().horizontalAdvance("m")
        fits = (words for words in said if self.fontMetrics().horizontalAdvance(words) <= room)
        self.line.setText(next(fits, say(LINE)))

    def _turn(self, is_open: bool) -> None:
        self.line.setArrowType(Qt.ArrowType.DownArrow if is_open else Qt.ArrowType.RightArrow)
        self.page.setVisible(is_open)
