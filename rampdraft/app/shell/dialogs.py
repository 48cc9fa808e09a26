"""All asking and telling goes through here, so that tests put another one in its place and no dialog hangs a
suite.
"""

from enum import Enum, auto
from pathlib import Path
from typing import TYPE_CHECKING, Final

from PySide6.QtCore import Qt, QUrl
from PySide6.QtGui import QDesktopServices
from PySide6.QtWidgets import (
    QCheckBox,
    QDialog,
    QDialogButtonBox,
    QFileDialog,
    QInputDialog,
    QMessageBox,
    QPlainTextEdit,
    QProgressDialog,
    QVBoxLayout,
    QWidget,
)

from rampdraft.app.differences import in_short
from rampdraft.app.furniture import column, label, make
from rampdraft.app.shell import settings
from rampdraft.app.shell.pack_folder import PackFolder
from rampdraft.checks.notes import CAUTIONS
from rampdraft.checks.rules.places import USED_AT
from rampdraft.checks.rules.sets import builtin_rule_sets
from rampdraft.errors import Problem
from rampdraft.words.say import say

if TYPE_CHECKING:
    from PySide6.QtPrintSupport import QPrinter

_ASK: Final = (
    "Tick the rules that hold where the ramp will be used. With none ticked it is held to what is asked of"
    " every ramp, and the rules of the place are not judged. They can be chosen anew at any time, under Use."
)
DESIGNS: Final = "Ramp designs (*.toml)"
PICTURES: Final = "Picture (*.png);;Drawing (*.svg);;Sheet (*.pdf)"


class Answer(Enum):
    """What to do with changes that are not saved."""

    SAVE = auto()
    DISCARD = auto()
    CANCEL = auto()


class Conflict(Enum):
    """What to do about a file that is another one on the disk than was read."""

    OVERWRITE = auto()
    SAVE_AS = auto()
    RELOAD = auto()
    CANCEL = auto()


class Dialogs:
    """Asks and tells by dialogs over one window."""

    def __init__(self, window: QWidget) -> None:
        self._window = window

    def file_to_open(self) -> Path | None:
        """Return the design file to open, or None."""
        name, _ = QFileDialog.getOpenFileName(
            self._window, say("Open a design"), settings.last_folder(), say(DESIGNS)
        )
        return Path(name) if name else None

    def file_to_save(self, suggested: str) -> Path | None:
        """Return the file to save in, with its ending, or None."""
        start = str(Path(settings.last_folder()) / suggested)
        name, _ = QFileDialog.getSaveFileName(self._window, say("Save the design"), start, say(DESIGNS))
        if not name:
            return None
        path = Path(name)
        return path if path.suffix else path.with_suffix(".toml")

    def picture_to_save(self, suggested: str) -> Path | None:
        """Return the file to save a view in, with its ending, or None."""
        start = str(Path(settings.last_folder()) / suggested)
        name, chosen = QFileDialog.getSaveFileName(self._window, say("Save the view"), start, say(PICTURES))
        if not name:
            return None
        path = Path(name)
        return path if path.suffix else path.with_suffix(chosen.partition("*")[2].rstrip(")") or ".png")

    def folder_for_pack(self, suggested: Path) -> Path | None:
        """Return the folder for the workshop pack, or None."""
        dialog = PackFolder(suggested, self._window)
        chosen = dialog.folder if dialog.exec() == QDialog.DialogCode.Accepted else None
        dialog.deleteLater()
        return chosen

    def printer(self) -> "QPrinter | None":
        """Return the printer to print on, or None."""
        from PySide6.QtPrintSupport import QPrintDialog, QPrinter

        printer = QPrinter(QPrinter.PrinterMode.HighResolution)
        dialog = QPrintDialog(printer, self._window)
        dialog.setOption(QPrintDialog.PrintDialogOption.PrintPageRange, False)
        chosen = dialog.exec() == QDialog.DialogCode.Accepted
        dialog.deleteLater()
        return printer if chosen else None

    def rule_file(self) -> Path | None:
        """Return a rule file of the user's, or None."""
        name, _ = QFileDialog.getOpenFileName(
            self._window, say("Add a rule file"), settings.last_folder(), say("Rule files (*.toml)")
        )
        return Path(name) if name else None

    def rules_of_place(self) -> tuple[str, ...] | None:
        """Ask where a new ramp will be used. Return the rule sets that hold there, or None to go back."""
        dialog = make(QDialog, self._window, windowTitle=say("New ramp: where will it be used?"))
        boxes, ticked = column(dialog, margins=(12, 12, 12, 12), spacing=4), list[tuple[str, QCheckBox]]()
        boxes.addWidget(label(say(_ASK), dialog))
        rules = {one.key: one for one in builtin_rule_sets()}
        for place in USED_AT:
            boxes.addWidget(label(say(place.words), dialog, role="section"))
            for key in place.rule_sets:
                told = say(rules[key].jurisdiction)
                box = make(QCheckBox, say(rules[key].title), dialog, toolTip=told, accessibleDescription=told)
                ticked.append((key, box))
                boxes.addWidget(box)
        buttons = QDialogButtonBox(dialog)
        buttons.addButton(say("Begin"), QDialogButtonBox.ButtonRole.AcceptRole).setDefault(True)
        buttons.addButton(say("Go back"), QDialogButtonBox.ButtonRole.RejectRole)
        buttons.accepted.connect(dialog.accept)
        buttons.rejected.connect(dialog.reject)
        boxes.addWidget(buttons)
        begun = dialog.exec() == QDialog.DialogCode.Accepted
        names = tuple(dict.fromkeys(key for key, box in ticked if box.isChecked()))
        dialog.deleteLater()
        return names if begun else None

    def unsaved(self, title: str) -> Answer:
        """Ask what becomes of changes that are not saved."""
        box = QMessageBox(
            self._window,
            icon=QMessageBox.Icon.NoIcon,
            text=say("Save the changes to “{title}”?", title=title),
            informativeText=say("Without saving they are lost."),
        )
        save = box.addButton(say("Save"), QMessageBox.ButtonRole.AcceptRole)
        discard = box.addButton(say("Do not save"), QMessageBox.ButtonRole.DestructiveRole)
        back = box.addButton(say("Go back"), QMessageBox.ButtonRole.RejectRole)
        box.setDefaultButton(save)
        box.setEscapeButton(back)
        box.exec()
        clicked = box.clickedButton()
        return Answer.SAVE if clicked is save else Answer.DISCARD if clicked is discard else Answer.CANCEL

    def conflict(self, title: str, lines: tuple[str, ...]) -> Conflict:
        """Ask what becomes of a file that somebody else has changed; `lines` say what differs."""
        box = QMessageBox(
            self._window,
            icon=QMessageBox.Icon.NoIcon,
            text=say("Somebody else has changed “{title}” on the disk since it was read.", title=title),
            informativeText=say(
                "From what is on the disk to what is in hand: {in_short}.", in_short=in_short(lines)
            ),
            detailedText="\n".join(lines),
        )
        accept, destroy = QMessageBox.ButtonRole.AcceptRole, QMessageBox.ButtonRole.DestructiveRole
        buttons = {
            box.addButton(say("Save as…"), accept): Conflict.SAVE_AS,
            box.addButton(say("Overwrite"), destroy): Conflict.OVERWRITE,
            box.addButton(say("Reload"), destroy): Conflict.RELOAD,
        }
        back = box.addButton(say("Go back"), QMessageBox.ButtonRole.RejectRole)
        box.setDefaultButton(next(iter(buttons)))
        box.setEscapeButton(back)
        box.exec()
        clicked = box.clickedButton()
        return next((what for button, what in buttons.items() if button is clicked), Conflict.CANCEL)

    def report(self, title: str, message: str, details: str) -> None:
        """Tell something that may be long; it can be scrolled."""
        self._report(title, message, details)

    def problems(self, title: str, message: str, problems: tuple[Problem, ...]) -> None:
        """Tell what is wrong with a file or a design; many lines can be scrolled."""
        self._report(title, message, "\n".join(problem.text() for problem in problems))

    def failure(self, message: str, details: str) -> bool:
        """Tell of a fault of the program. Return whether to save the design under another name now."""
        return self._report(
            say("Something went wrong"),
            message,
            details,
            accept=say("Save the design as…"),
            reject=say("Go on"),
        )

    def pack_done(self, folder: Path, words: str) -> None:
        """Tell where the pack lies, with the cautions; it can be opened from here."""
        details = "\n".join((str(folder), "", *map(say, CAUTIONS)))
        if self._report(
            say("Workshop pack written"), words, details, accept=say("Open the folder"), reject=say("Close")
        ):
            QDesktopServices.openUrl(QUrl.fromLocalFile(str(folder)))

    def number(self, title: str, words: str, first: float, low: float, high: float) -> float | None:
        """Ask for a number, or return None."""
        value, given = QInputDialog.getDouble(self._window, title, words, first, low, high, 1)
        return value if given else None

    def told(self, title: str, words: str) -> None:
        """Tell something short."""
        QMessageBox.information(self._window, title, words)

    def progress(self, title: str) -> QProgressDialog:
        """Return a progress dialog in hundredths, with a way to cancel."""
        # A modal one would run the event loop inside setValue.
        return make(
            QProgressDialog,
            title,
            say("Cancel"),
            0,
            100,
            self._window,
            windowModality=Qt.WindowModality.NonModal,
            minimumDuration=300,
            autoClose=False,
            autoReset=False,
        )

    def _report(
        self, title: str, message: str, details: str, *, accept: str = "", reject: str = "Close"
    ) -> bool:
        dialog = make(QDialog, self._window, windowTitle=title)
        words = label(
            message,
            dialog,
            textFormat=Qt.TextFormat.PlainText,
            textInteractionFlags=Qt.TextInteractionFlag.TextSelectableByMouse,
        )
        box = make(
            QPlainTextEdit,
            details,
            dialog,
            readOnly=True,
            tabChangesFocus=True,
            accessibleName=say("Details"),
        )
        box.setVisible(bool(details))
        buttons = QDialogButtonBox(dialog)
        if accept:
            buttons.addButton(accept, QDialogButtonBox.ButtonRole.AcceptRole)
        buttons.addButton(reject, QDialogButtonBox.ButtonRole.RejectRole).setDefault(True)
        buttons.accepted.connect(dialog.accept)
        buttons.rejected.connect(dialog.reject)
        column = QVBoxLayout(dialog)
        for widget in (words, box, buttons):
            column.addWidget(widget)
        dialog.resize(560, 320 if details else 140)
        accepted = dialog.exec() == QDialog.DialogCode.Accepted
        dialog.deleteLater()
        return accepted
