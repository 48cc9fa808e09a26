"""The design in hand made lighter, gentler, cheaper or simpler: what is to stay is ticked, and what changes
is shown before it is taken.
"""

from html import escape
from pathlib import Path
from typing import Final

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QCheckBox, QDialog, QWidget

from rampdraft.app.answers import Answers
from rampdraft.app.differences import difference_lines
from rampdraft.app.furniture import across, button, chooser, column, label, make, page, put_items
from rampdraft.app.reading_order import ReadInOrder
from rampdraft.errors import RampdraftError
from rampdraft.explore.apart import AT_LENGTH
from rampdraft.explore.proposals.results import Proposal
from rampdraft.model.design import Design, Towards
from rampdraft.model.fields.paths import label_of
from rampdraft.progress import Progress
from rampdraft.words.say import say, within

AIMS: Final[tuple[tuple[str, Towards], ...]] = (
    ("Lighter", "light"),
    ("Gentler slope", "gentle"),
    ("Cheaper stock", "cheap"),
    ("Fewer pieces", "quick"),
)
KEEPS: Final = (
    "inner_leaf.length_mm",
    "outer_leaf.length_mm",
    "inner_leaf.width_mm",
    "inner_leaf.rail_section",
    "outer_leaf.rail_section",
    "inner_leaf.slat_thickness_mm",
    "inner_leaf.upstand_height_mm",
    "deck_hinge",
    "joint",
    "stop",
    "toe",
    "bridge",
)
"""What can be ticked to stay: values, and groups of them."""
FIRST: Final = (
    "Tick what is to stay. Spacings that are given where they could follow stay too, and so does the survey."
)
NONE: Final = "none: no better design was found that passes every check and keeps what is ticked."
BROKEN: Final = "none: it could not be worked out, for a fault in the program."
_SIZE: Final = (560, 560)

Better = tuple[Proposal, Proposal]
"""As it is, and as it would be."""


class ImproveDialog(ReadInOrder, QDialog):
    """Asks for a better design, shows what it changes, and says when it is taken."""

    taken = Signal(object, str)
    """A design, and what was done."""

    def __init__(self, design: Design, folder: Path | None, answers: Answers, parent: QWidget) -> None:
        super().__init__(parent)
        self.setWindowTitle(say("Improve the design"))
        self._design, self._folder = design, folder
        self._found: Better | None = None
        self._line = answers.line("improving", AT_LENGTH)
        self._line.came.connect(self._came)
        self._line.failed.connect(self._failed)
        self._line.progressed.connect(self._progress)
        self.aims = chooser(say("Towards"), self._leave, self)
        put_items(self.aims, [(say(words), aim) for words, aim in AIMS])
        self.keeps = {path: make(QCheckBox, label_of(path), self) for path in KEEPS}
        for box in self.keeps.values():
            box.clicked.connect(self._leave)
        self.words = label(say(FIRST), self)
        self.changes = page(say("What changes"), self)
        self.look = button(say("Look for a better one"), self._look, self, autoDefault=False)
        self.take = button(say("Apply"), self._take, self, say("One undo takes it back"), autoDefault=False)
        self.back = button(say("Close"), self.reject, self, autoDefault=False)
        half = len(KEEPS) // 2
        boxes, sides = list(self.keeps.values()), (QWidget(self), QWidget(self))
        column(sides[0], *((box, 0) for box in boxes[:half]), spacing=2)
        column(sides[1], *((box, 0) for box in boxes[half:]), spacing=2)
        column(
            self,
            (self.aims, 0),
            (across((sides[0], 1), (sides[1], 1), margins=(0, 0, 0, 0)), 0),
            (self.words, 0),
            (self.changes, 1),
            (across((self.look, 0), (self.take, 0), (QWidget(self), 1), (self.back, 0)), 0),
            margins=(10, 10, 10, 6),
            spacing=6,
        )
        self.resize(*_SIZE)
        self._show(say(FIRST))

    @property
    def locked(self) -> tuple[str, ...]:
        """Return the paths of what is ticked to stay."""
        return tuple(path for path, box in self.keeps.items() if box.isChecked())

    def _leave(self, *_: object) -> None:
        """Put away what was found for other wishes."""
        self._line.call_off()
        self._found = None
        self._show(say(FIRST))

    def _look(self) -> None:
        if self._line.asked is not None:
            self._leave()
            return
        self._found = None
        asked = (self.aims.currentData(), self.locked)
        self._line.ask(asked, work_out, self._design, self._folder, *asked)
        self._show(say("Looking for a better one…"))

    def _progress(self, share: float, _words: str) -> None:
        self._show(say("Looking for a better one… {share} of what is tried at most", share=f"{share:.0%}"))

    def _came(self, _about: object, found: tuple[Better, str] | None) -> None:
        if found is None:
            self._show(say(NONE))
            return
        self._found, words = found
        lines = difference_lines(self._found[0].design, self._found[1].design)
        self.changes.setHtml("".join(f"<p style='margin: 0 0 3px 0'>{escape(line)}</p>" for line in lines))
        self._show(words)

    def _failed(self, _about: object, fault: Exception) -> None:
        self._show(say("none: {fault}", fault=fault) if isinstance(fault, RampdraftError) else say(BROKEN))

    def _show(self, words: str) -> None:
        self.words.setText(words)
        self.changes.setVisible(self._found is not None)
        self.take.setEnabled(self._found is not None)
        self.look.setText(say("Stop") if self._line.asked is not None else say("Look for a better one"))

    def _take(self) -> None:
        if self._found is not None:
            self.taken.emit(
                self._found[1].design,
                say("Improve: {aim}", aim=within(self.aims.currentText())),
            )
            self.accept()

    def done(self, result: int) -> None:
        """Leave: nobody wants a better design any more."""
        self._line.call_off()
        self._line.came.disconnect(self._came)
        self._line.failed.disconnect(self._failed)
        self._line.progressed.disconnect(self._progress)
        super().done(result)


def work_out(
    design: Design, folder: Path | None, towards: Towards, locked: tuple[str, ...], progress: Progress
) -> tuple[Better, str] | None:
    """Return a better design with what it comes to in words; None where none is found."""
    from rampdraft.explore.proposals.improve import improved
    from rampdraft.explore.proposals.words import better_words

    found = improved(design, towards, locked, folder, progress=progress)
    return ((found.before, found.after), better_words(found.before, found.after)) if found else None
