"""Where the workshop pack goes: a new folder is offered, and what will happen there is said beforehand."""

from pathlib import Path
from typing import Final

from PySide6.QtWidgets import QDialog, QDialogButtonBox, QFileDialog, QLineEdit, QWidget

from rampdraft.app.furniture import across, button, column, label, make
from rampdraft.app.reading_order import ReadInOrder
from rampdraft.words.say import say

_WIDTH: Final = 620


def new_folder(place: Path, name: str) -> Path:
    """Return a folder of that name that is not there yet: `ramp 2` where `ramp` is."""
    folder, number = place / name, 1
    while folder.exists():
        number += 1
        folder = place / f"{name} {number}"
    return folder


class PackFolder(ReadInOrder, QDialog):
    """Asks for the folder of the workshop pack."""

    def __init__(self, suggested: Path, parent: QWidget) -> None:
        super().__init__(parent)
        self.setWindowTitle(say("Export the workshop pack"))
        self.line = make(QLineEdit, str(suggested), self, accessibleName=say("Folder for the workshop pack"))
        self.line.setMinimumWidth(_WIDTH)
        self.line.textChanged.connect(self._tell)
        self.words = label("", self)
        buttons = QDialogButtonBox(self)
        self.write = buttons.addButton(say("Write the pack"), QDialogButtonBox.ButtonRole.AcceptRole)
        self.write.setDefault(True)
        buttons.addButton(say("Go back"), QDialogButtonBox.ButtonRole.RejectRole)
        buttons.accepted.connect(self.accept)
        buttons.rejected.connect(self.reject)
        other = button(say("Another folder…"), self._look, self, autoDefault=False)
        column(
            self,
            (label(say("Folder for the workshop pack"), self), 0),
            (across((self.line, 1), (other, 0), margins=(0, 0, 0, 0)), 0),
            (self.words, 0),
            (buttons, 0),
            margins=(12, 12, 12, 12),
            spacing=8,
        )
        self.line.selectAll()
        self._tell()

    @property
    def folder(self) -> Path:
        """Return the folder that stands there."""
        return Path(self.line.text().strip()).expanduser()

    def _look(self) -> None:
        place = self.folder if self.folder.is_dir() else self.folder.parent
        name = QFileDialog.getExistingDirectory(self, say("Folder for the workshop pack"), str(place))
        if name:
            self.line.setText(name)

    def _tell(self) -> None:
        """Say what an export will do there."""
        folder, given = self.folder, bool(self.line.text().strip())
        self.write.setEnabled(given and folder.is_absolute())
        self.words.setText(
            _told(folder) if self.write.isEnabled() else say("Type a folder with its whole path.")
        )


def _told(folder: Path) -> str:
    from rampdraft.export.pack import PACK_LIST

    try:
        if not folder.exists():
            return say("A new folder, which will be made.")
        if (folder / PACK_LIST).exists():
            return say("The pack that lies there is replaced by the new one; all else there stays.")
        if folder.is_dir() and any(folder.iterdir()):
            return say("The folder holds other files: they stay, and the pack comes beside them.")
    except OSError:  # told by the export itself, with the way out
        pass
    return say("The folder is there already.")
