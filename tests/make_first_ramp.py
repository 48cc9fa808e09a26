"""Walks docs/first-ramp.md through the window and takes its pictures: `python tests/make_first_ramp.py`."""

import io
import os
import sys
import tempfile
from pathlib import Path

ROOT = Path(__file__).parent.parent
PAGE = ROOT / "docs" / "first-ramp.md"
PICTURES = ROOT / "docs" / "first-ramp"
SIZE = (1280, 800)
COLOURS = 224
"""Of a picture: edges of letters stay smooth, and its file is a quarter as large."""

if __name__ == "__main__":
    sys.path.insert(0, str(ROOT))
    _HOME = tempfile.TemporaryDirectory()
    os.environ |= {
        "QT_QPA_PLATFORM": "offscreen",
        "HOME": _HOME.name,
        "XDG_CONFIG_HOME": _HOME.name,
        "XDG_DATA_HOME": _HOME.name,
    }

from PIL import Image  # noqa: E402
from PySide6.QtCore import QBuffer, QIODevice  # noqa: E402
from PySide6.QtTest import QTest  # noqa: E402
from PySide6.QtWidgets import QProgressDialog, QWidget  # noqa: E402
from walked_page import Walker, items_of  # noqa: E402

from rampdraft.app.shell.dialogs import Dialogs  # noqa: E402


class Answering(Dialogs):
    """Names a file and a folder without asking, and keeps what would be told."""

    def __init__(self, window: QWidget, folder: Path) -> None:
        super().__init__(window)
        self.folder, self.said = folder, list[str]()

    def file_to_save(self, suggested: str) -> Path | None:
        """Return the file to save in."""
        return self.folder / suggested

    def folder_for_pack(self, suggested: Path) -> Path | None:
        """Return the folder for the workshop pack."""
        del suggested
        return self.folder / "pack"

    def pack_done(self, folder: Path, words: str) -> None:
        """Keep what is told of the pack."""
        self.said.append(words)

    def progress(self, title: str) -> QProgressDialog:
        """Return a progress that is not shown: the window stays in front."""
        dialog = super().progress(title)
        dialog.setMinimumDuration(1_000_000)
        return dialog


def take(widget: QWidget, name: str) -> None:
    """Save the picture of a window, small."""
    QTest.qWait(400)  # what is drawn aside comes a moment later
    pixels = QBuffer()
    pixels.open(QIODevice.OpenModeFlag.WriteOnly)
    widget.grab().save(pixels, "PNG")
    whole = Image.open(io.BytesIO(pixels.data().data())).convert("RGB")
    few = whole.quantize(COLOURS, dither=Image.Dither.NONE)
    few.save(ROOT / "docs" / name, optimize=True)


def main() -> None:
    """Walk the page, with pictures."""
    from rampdraft.app.shell.main import application
    from rampdraft.app.shell.window import Window

    app = application()
    PICTURES.mkdir(exist_ok=True)
    for old in PICTURES.glob("*.png"):
        old.unlink()
    window = Window()
    window.resize(*SIZE)
    window.show()
    desk = window.furnish()
    with tempfile.TemporaryDirectory() as folder:
        desk.dialogs = answers = Answering(window, Path(folder))
        desk.filing.begin()
        app.processEvents()
        walker = Walker(desk=desk, pack=answers.folder / "pack", told=lambda: answers.said, picture=take)
        walker.walk(items_of(PAGE.read_text(encoding="utf-8")))
    window.close_unasked()


if __name__ == "__main__":
    main()
