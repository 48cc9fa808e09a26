"""The view in front, copied as a picture or saved as one."""

from collections.abc import Callable
from typing import TYPE_CHECKING, Final

from PySide6.QtCore import QBuffer, QIODevice, QObject, QSize
from PySide6.QtGui import QPixmap
from PySide6.QtWidgets import QApplication, QWidget

from rampdraft.app.canvas.canvas import Canvas
from rampdraft.drawing.ink import Picture
from rampdraft.errors import RampdraftError
from rampdraft.words.say import say

if TYPE_CHECKING:
    from rampdraft.app.shell.desk import Desk

SHARPER: Final = 2
"""Pixels of a picture for each one of the screen."""

_STALE: Final = "The drawing is of the last good ramp, not of the one in hand. Correct the values first."


class PictureWork(QObject):
    """Copies and saves what the view in front shows."""

    def __init__(self, desk: "Desk") -> None:
        super().__init__(desk)
        self._desk = desk

    def copy(self) -> None:
        """Put the view on the clipboard."""
        if self._is_true():
            QApplication.clipboard().setPixmap(_pixels(self._shown))
            self._desk.say(say("Copied the view {name}.", name=self._name))

    def save(self) -> None:
        """Save the view, in the format that its ending says."""
        if not self._is_true():
            return
        path = self._desk.dialogs.picture_to_save(f"{self._name.lower().replace(' ', '-')}.png")
        if path is None:
            return
        from rampdraft.files.text_file import write_whole

        made: dict[str, Callable[[], bytes]] = {".png": self._png, ".svg": self._svg, ".pdf": self._pdf}
        try:
            write_whole(path, made[path.suffix.lower()]())
        except KeyError:
            self._desk.dialogs.told(
                say("Save the view"), say("{name!r} ends in none of .png, .svg and .pdf.", name=path.name)
            )
        except RampdraftError as wrong:
            self._desk.dialogs.problems(say("The view was not saved"), str(wrong), wrong.problems)
        else:
            self._desk.say(say("Saved {path}.", path=path))

    def _is_true(self) -> bool:
        """Return whether the view shows the ramp in hand; say so where it does not."""
        if self._desk.document.stale or self._desk.document.evaluation is None:
            self._desk.dialogs.told(say("The view"), say(_STALE))
            return False
        if not self._desk.document.whole:
            self._desk.say(say("The ramp in hand is being worked out: ask again in a moment."))
            return False
        return True

    @property
    def _name(self) -> str:
        return self._desk.views.tabText(self._desk.views.currentIndex())

    @property
    def _shown(self) -> QWidget:
        """Return the drawing of the view in front; the whole view where it has none."""
        panel = self._desk.views.currentWidget()
        canvas = next((one for one in panel.findChildren(Canvas) if one.isVisible() and one.picture), None)
        return canvas or panel

    def _png(self) -> bytes:
        buffer = QBuffer()
        buffer.open(QIODevice.OpenModeFlag.WriteOnly)
        _pixels(self._shown).save(buffer, "PNG")
        return bytes(buffer.data().data())

    def _svg(self) -> bytes:
        from rampdraft.export.svg import picture_svg

        return picture_svg(self._picture()).encode()

    def _pdf(self) -> bytes:
        from rampdraft.export.pdf.picture import picture_pdf

        return picture_pdf(self._picture(), self._desk.document.title)

    def _picture(self) -> Picture:
        shown = self._shown
        if isinstance(shown, Canvas) and shown.picture is not None:
            return shown.picture
        raise RampdraftError(say("The view {name} is no drawing: save it as .png.", name=self._name))


def _pixels(widget: QWidget) -> QPixmap:
    """Return what a widget shows, sharper than the screen has it."""
    pixels = QPixmap(QSize(widget.width(), widget.height()) * SHARPER)
    pixels.setDevicePixelRatio(SHARPER)
    widget.render(pixels)
    return pixels
