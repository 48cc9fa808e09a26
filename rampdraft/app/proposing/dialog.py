"""The survey, and beside it what is proposed for it while the search goes on."""

from dataclasses import replace
from functools import partial
from pathlib import Path
from typing import Final

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QDialog, QProgressBar, QWidget

from rampdraft.app.answers import Answers
from rampdraft.app.furniture import across, button, column, label, make, splitter
from rampdraft.app.proposing.asking import Drawn, Found, work_out
from rampdraft.app.proposing.proposals_page import ProposalsPage
from rampdraft.app.proposing.survey_page import SurveyPage
from rampdraft.app.reading_order import ReadInOrder
from rampdraft.checks.notes import CAUTIONS
from rampdraft.errors import RampdraftError
from rampdraft.explore.proposals.results import Proposal
from rampdraft.model.design import Design, WheeledUser
from rampdraft.model.survey import SURVEYED, survey_of
from rampdraft.words.say import say

FIRST: Final = (
    "Say where the ramp is to be used, and by whom. Then look for ramps: complete designs within every limit"
    " that the program judges, put beside one another here."
)
STALE: Final = "The survey is another one now: look for ramps again."
BROKEN: Final = "none: the search could not go on, for a fault in the program."
_SIZE: Final = (1240, 760)


class ProposeDialog(ReadInOrder, QDialog):
    """Edits a survey, asks for ramps, and says which is taken."""

    taken = Signal(object, str)
    """A design, and what was done: a proposal, or the design in hand with the survey's values."""
    _heard = Signal(object, object)
    """What was asked about, and a ramp found; told by whichever thread found it."""

    def __init__(
        self,
        design: Design,
        folder: Path | None,
        kept: tuple[WheeledUser, ...],
        answers: Answers,
        parent: QWidget,
    ) -> None:
        super().__init__(parent)
        self.setWindowTitle(say("Ramps for a survey"))
        self._design, self._folder = design, folder
        self._line = answers.line("proposals")
        self._line.came.connect(self._came)
        self._line.failed.connect(self._failed)
        self._line.progressed.connect(self._progress)
        self._heard.connect(self._hear)
        self._searched: Design | None = None
        """The survey that what is shown is true of."""
        self.survey = SurveyPage(survey_of(design), folder, kept, self)
        self.proposals = ProposalsPage(self)
        self.words = label(say(FIRST), self, margins=(10, 0, 10, 0))
        self.bar = make(QProgressBar, self, accessibleName=say("Progress"), textVisible=False)
        self.bar.setFixedHeight(8)
        self.bar.hide()
        self.look = button(say("Look for ramps"), self._look, self, autoDefault=False)
        self.alone = button(
            say("Take the survey alone"),
            self._take_survey,
            self,
            say("Puts these values into the design in hand; its ramp stays"),
            autoDefault=False,
        )
        self.back = button(say("Cancel"), self.reject, self, say("Takes nothing (Esc)"), autoDefault=False)
        self._lay_out()
        self.survey.changed.connect(self._follow)
        self.proposals.taken.connect(self._take)
        self._follow()

    def _lay_out(self) -> None:
        right = QWidget(self)
        bar = across((self.bar, 1), margins=(10, 0, 10, 0))
        column(
            right,
            (self.words, 0),
            (bar, 0),
            (self.proposals, 1),
            (label(" ".join(map(say, CAUTIONS)), right, role="quiet", margins=(10, 0, 10, 4)), 0),
            margins=(0, 10, 0, 0),
            spacing=6,
        )
        below = across((self.look, 0), (self.alone, 0), (QWidget(self), 1), (self.back, 0))
        parted = splitter(Qt.Orientation.Horizontal, self, (self.survey, 0), (right, 1))
        parted.setChildrenCollapsible(False)
        parted.setSizes([390, _SIZE[0] - 390])
        column(self, (parted, 1), (below, 0))
        room = self.screen().availableGeometry()
        self.resize(min(_SIZE[0], room.width() - 20), min(_SIZE[1], room.height() - 40))

    # Looking for ramps

    @property
    def looking(self) -> bool:
        """Return whether a search is under way."""
        return self._line.asked is not None

    def _look(self) -> None:
        if self.looking:
            self._line.call_off()
            self._tell(say("The search was called off."))
            return
        survey = self.survey.survey
        self.proposals.clear()
        self._searched = survey
        tell = partial(self._heard.emit, survey)
        self._line.ask(survey, work_out, survey, self._folder, tell)
        self._tell(say("Looking for ramps…"))

    def _progress(self, share: float, words: str) -> None:
        if self.looking:
            self.bar.setValue(round(100 * share))
            self.words.setText(
                say("Looking for ramps… {words}", words=words) if words else say("Looking for ramps…")
            )

    def _hear(self, about: Design, one: Drawn) -> None:
        if about == self._line.asked:
            self.proposals.hear(one)

    def _came(self, about: Design, found: Found) -> None:
        if about != self._searched:
            return
        self.proposals.show_found(found)
        count = len(found.proposals.found)
        if found.reason:
            self._tell(say("none: {reason}", reason=found.reason))
            return
        self._tell(
            say(
                "{count} ramp found within every limit, {tried} designs looked at."
                if count == 1
                else "{count} ramps found within every limit, {tried} designs looked at.",
                count=count,
                tried=found.proposals.tried,
            )
        )

    def _failed(self, about: Design, fault: Exception) -> None:
        if about == self._searched:
            told = isinstance(fault, RampdraftError)
            self._tell(say("none: {fault}", fault=fault) if told else say(BROKEN))

    def _follow(self) -> None:
        """Follow the survey: what was found is of the one that was searched."""
        if self._searched is not None and self.survey.survey != self._searched:
            self._line.call_off()
            self._searched = None
            self.proposals.outdate()
            self._tell(say(STALE))
        self._tell(self.words.text())

    def _tell(self, words: str) -> None:
        self.words.setText(words)
        self.bar.setVisible(self.looking)
        self.bar.setValue(self.bar.value() if self.looking else 0)
        self.look.setText(say("Stop") if self.looking else say("Look for ramps"))
        self.look.setEnabled(self.looking or self.survey.good)
        self.alone.setEnabled(self.survey.good)

    # Taking one

    def _take(self, one: Proposal) -> None:
        self._end(one.design, say("Take a proposed ramp"))

    def _take_survey(self) -> None:
        survey = self.survey.survey
        groups = {name: getattr(survey, name) for name in SURVEYED}
        self._end(replace(self._design, **groups), say("Take the survey"))

    def _end(self, design: Design, what: str) -> None:
        self.taken.emit(design, what)
        self.accept()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Let Enter take what is typed and press no button."""
        if event.key() not in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            super().keyPressEvent(event)

    def done(self, result: int) -> None:
        """Leave: nobody wants ramps any more."""
        self._line.call_off()
        self._line.came.disconnect(self._came)
        self._line.failed.disconnect(self._failed)
        self._line.progressed.disconnect(self._progress)
        super().done(result)
