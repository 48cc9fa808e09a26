"""The start: a new ramp, one of one's own, or a sample with its picture."""

from collections.abc import Sequence
from pathlib import Path
from typing import Final, Literal

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtGui import QIcon
from PySide6.QtWidgets import QDialog, QListView, QListWidget, QListWidgetItem, QWidget

from rampdraft.app import theme
from rampdraft.app.furniture import across, button, column, label, make
from rampdraft.app.reading_order import ReadInOrder
from rampdraft.app.start.pictures import picture_of
from rampdraft.words.say import say

Chosen = Literal["survey", "open", "recent", "sample", ""]
"""What was chosen; nothing for the plain ramp in hand."""

_SIZE: Final = (900, 640)
_PICTURE: Final = QSize(345, 104)
_RECENT_SHOWN: Final = 4
_PATH: Final = Qt.ItemDataRole.UserRole


class StartDialog(ReadInOrder, QDialog):
    """Says what to begin with."""

    chose = Signal(str, object)
    """What was chosen, and the path of a file or None."""

    def __init__(self, samples: Sequence[Path], recent: Sequence[Path], parent: QWidget) -> None:
        super().__init__(parent)
        self.setWindowTitle(say("Start"))
        self.survey = button(say("Ramps for a survey…"), self._survey, self)
        self.survey.setDefault(True)
        self.open_file = button(say("Open a design…"), self._open, self, autoDefault=False)
        self.plain = button(say("Go on with a plain ramp"), self.reject, self, autoDefault=False)
        self.recent = make(QListWidget, self, accessibleName=say("Recent designs"))
        self.samples = make(
            QListWidget,
            self,
            accessibleName=say("Samples"),
            viewMode=QListView.ViewMode.IconMode,
            movement=QListView.Movement.Static,
            resizeMode=QListView.ResizeMode.Adjust,
            iconSize=_PICTURE,
            spacing=6,
            wordWrap=True,
            verticalScrollMode=QListWidget.ScrollMode.ScrollPerPixel,
        )
        self._fill(samples, recent)
        self._lay_out()
        for one in (self.recent, self.samples):
            # A click opens it, and so does Enter; where a click counts as both, the dialog is gone by then.
            one.itemClicked.connect(self._take)
            one.itemActivated.connect(self._take)
        self.survey.setFocus()

    def _fill(self, samples: Sequence[Path], recent: Sequence[Path]) -> None:
        for path in recent:
            line = QListWidgetItem(f"{path.stem}   {path.parent}", self.recent)
            line.setData(_PATH, path)
            line.setToolTip(str(path))
        ratio = self.devicePixelRatio()
        for path in samples:
            name = path.stem.replace("-", " ").replace("_", " ").capitalize()
            picture, icon = picture_of(path, _PICTURE, ratio), QIcon()
            for mode in (QIcon.Mode.Normal, QIcon.Mode.Selected):  # no selection tints it
                icon.addPixmap(picture, mode)
            line = QListWidgetItem(icon, name, self.samples)
            line.setData(_PATH, path)
            line.setToolTip(say("Opens a copy: the sample stays as it is"))

    def _lay_out(self) -> None:
        scale, lines = theme.text_scale(), min(self.recent.count(), _RECENT_SHOWN)
        high = max(self.recent.sizeHintForRow(0), 1) * lines + 2 * self.recent.frameWidth() + 2
        self.recent.setFixedHeight(high)
        heading = label(say("Recent designs"), self, role="step")
        for one in (heading, self.recent):
            one.setVisible(lines > 0)
        above = across(
            (self.survey, 0), (self.open_file, 0), (QWidget(self), 1), (self.plain, 0), margins=(0, 0, 0, 0)
        )
        words = say(
            "Say in the survey where the ramp will be used and by whom, and ramps within every limit are"
            " proposed. Or look first at one that is drawn already."
        )
        column(
            self,
            (label(words, self), 0),
            (above, 0),
            (heading, 0),
            (self.recent, 0),
            (label(say("Samples"), self, role="step"), 0),
            (self.samples, 1),
            margins=(14, 14, 14, 14),
            spacing=8,
        )
        room = self.screen().availableGeometry()
        self.resize(min(round(_SIZE[0] * scale), room.width() - 20), min(_SIZE[1], room.height() - 40))

    def _survey(self) -> None:
        self._end("survey")

    def _open(self) -> None:
        self._end("open")

    def _take(self, item: QListWidgetItem) -> None:
        if self.isVisible():
            self._end("recent" if item.listWidget() is self.recent else "sample", item.data(_PATH))

    def _end(self, chosen: Chosen, path: Path | None = None) -> None:
        self.accept()
        self.chose.emit(chosen, path)
