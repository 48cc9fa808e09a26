"""A part of the form that opens and closes; its inside is built when it is first opened."""

from collections.abc import Callable

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QSizePolicy, QToolButton, QWidget

from rampdraft.app.furniture import column, hairline, make


class Section(QWidget):
    """A heading, and below it what `build` returns."""

    built = Signal()
    """Its inside is there, or there anew."""

    def __init__(self, title: str, build: Callable[[QWidget], QWidget], parent: QWidget) -> None:
        super().__init__(parent)
        self._title, self._build = title, build
        self.body: QWidget | None = None
        self.heading = make(
            QToolButton,
            self,
            role="section",
            text=title,
            accessibleName=title,
            checkable=True,
            arrowType=Qt.ArrowType.RightArrow,
            toolButtonStyle=Qt.ToolButtonStyle.ToolButtonTextBesideIcon,
            focusPolicy=Qt.FocusPolicy.StrongFocus,
        )
        self.heading.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.heading.toggled.connect(self._toggle)
        self._column = column(self, (self.heading, 0), (hairline(self), 0))

    def mark(self, wrong: int) -> None:
        """Say on the heading how many values inside can't be."""
        self.heading.setText(f"{self._title}  ({wrong} to mend)" if wrong else self._title)

    def rebuild(self) -> None:
        """Throw the inside away, and build it anew if it is open."""
        if self.body is not None:
            self._column.removeWidget(self.body)
            self.body.hide()
            self.body.deleteLater()
            self.body = None
        if self.heading.isChecked():
            self._show_body()

    def _toggle(self, is_open: bool) -> None:
        self.heading.setArrowType(Qt.ArrowType.DownArrow if is_open else Qt.ArrowType.RightArrow)
        if is_open:
            self._show_body()
        elif self.body is not None:
            self.body.hide()

    def _show_body(self) -> None:
        if self.body is None:
            self.body = self._build(self)
            self._column.addWidget(self.body)
            self.built.emit()
        self.body.show()
