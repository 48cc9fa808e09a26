"""Below the working of a failing check: why nothing may cure it, and the changes that do, each with a button
that makes it; of a check of rolling with a picture of the place before and after.
"""

from dataclasses import dataclass
from html import escape
from typing import Final

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtWidgets import QPushButton, QSizePolicy, QWidget

from rampdraft.app.answers import Answers
from rampdraft.app.canvas.canvas import Canvas
from rampdraft.app.document import Document
from rampdraft.app.form.format import change_words, value_words
from rampdraft.app.furniture import across, button, column, emptied, label, scrolled
from rampdraft.checks.demands.rolling_cases import Rolled
from rampdraft.checks.result import Check
from rampdraft.drawing.ink import Picture
from rampdraft.evaluation.evaluate import Evaluation
from rampdraft.explore.apart import AT_LENGTH
from rampdraft.explore.ways_out.results import WayOut
from rampdraft.model.fields.paths import label_of
from rampdraft.progress import Progress
from rampdraft.words.say import say, within

QUIET_MS: Final = 300
"""A ramp that goes on changing is left in peace: the search begins after it has stayed as it is for so
long.
"""

EFFECTS_SHOWN: Final = 3
PICTURE_LINES: Final = 13
"""Height of the picture, in lines of text."""

WORKING: Final = "Working them out…"
NONE: Final = (
    "None found: no dimension, section or material that was tried cures this, by itself or with others."
)
WAYS: Final = "Ways out, the least change first, last what makes another check fail:"
BROKEN: Final = "They could not be worked out: a fault in the program."


@dataclass(frozen=True, slots=True, kw_only=True)
class Found:
    """What is found of a failing check."""

    ways: tuple[WayOut, ...]
    why_not: str
    """Which wishes bar it, in a sentence; empty for none."""


class WaysOutPanel(QWidget):
    """Shows the ways out of one check of the document's evaluation; hidden for a check that does not fail."""

    told = Signal(str)
    """What was changed, in words."""
    grown = Signal()
    """Another height is wanted."""

    def __init__(self, document: Document, answers: Answers, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._document = document
        self._made = 0
        """Counts the evaluation whose ways are found."""
        self._found: dict[str, Found] = {}
        """Ways out of its checks, by their ids, as far as somebody opened them."""
        self._check: Check | None = None
        self._shown: tuple[int, str] | None = None
        """The evaluation and the check that the buttons are true of."""
        self._ways: dict[QPushButton, WayOut] = {}
        self._shows: dict[QPushButton, WayOut] = {}
        """Buttons that show a way's picture."""
        self._drawings = answers.line("cure picture", AT_LENGTH)
        self._drawings.came.connect(self._show_picture)
        self.picture = Canvas(say("Before and after"), self)
        self.picture.setMinimumHeight(PICTURE_LINES * self.fontMetrics().lineSpacing())
        self.picture.scaled.connect(self._draw)
        self.picture.hide()
        self._line = answers.line("ways out", AT_LENGTH)
        self._line.came.connect(self._keep)
        self._line.failed.connect(self._refresh)
        self._quiet = QTimer(self, singleShot=True, interval=QUIET_MS)
        self._quiet.timeout.connect(self._ask)
        self.words = label("", self, margins=(10, 0, 10, 0))
        self._rows = QWidget()
        self._column = column(self._rows, margins=(10, 0, 10, 4), spacing=8)
        least = 5 * self.fontMetrics().lineSpacing()
        self._scroll = scrolled(
            self._rows, self, role="sheet", accessibleName=say("Ways out"), minimumHeight=least
        )
        column(self, (self.words, 0), (self._scroll, 1), (self.picture, 1), spacing=4)
        self.hide()

    @property
    def buttons(self) -> tuple[QPushButton, ...]:
        """Return the buttons, the least change first."""
        return tuple(self._ways)

    @property
    def wanted_height(self) -> int:
        """Return the height that shows all of it."""
        if self.isHidden():
            return 0
        room, spacing = self.width(), 8
        high = self.words.heightForWidth(room)
        if self._ways:
            high += self._column.heightForWidth(room) + spacing
        return high + (self.picture.minimumHeight() + spacing if not self.picture.isHidden() else 0)

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
        if not self._document.whole or check.id in self._found:
            self._quiet.stop()
        else:
            opened = before is None or before.id != check.id
            self._quiet.start(0 if opened else QUIET_MS)
        self._refresh()

    def stop(self) -> None:
        """Ask nothing any more."""
        self._quiet.stop()

    def _ask(self) -> None:
        if self._check is not None and self._document.whole:
            evaluation, check_id = self._document.evaluation, self._check.id
            self._line.want((self._made, check_id), work_out, evaluation, check_id)

    def _keep(self, about: object, found: dict[str, Found]) -> None:
        self._found |= found
        self._refresh()

    def _refresh(self) -> None:
        check, made = self._check, self._made
        if check is None or self.isHidden():
            return
        found = self._found.get(check.id)
        if found is not None and self._shown != (made, check.id):
            self._fill(found.ways)
            self._shown = made, check.id
        if found is None and (self._shown is None or self._shown[1] != check.id):
            self._fill(())
            self._shown = None
        self._scroll.setVisible(bool(self._ways))
        self._draw()
        vertical = QSizePolicy.Policy.Expanding if self._ways else QSizePolicy.Policy.Maximum
        self.setSizePolicy(QSizePolicy.Policy.Preferred, vertical)
        for one in self._ways:
            one.setEnabled(found is not None and self._document.whole)
        if found is not None:
            ways = say(WAYS) if found.ways else say("Ways out: {none}", none=say(NONE))
            why = say("Why not: {why}", why=found.why_not) if found.why_not else ""
            self.words.setText("\n".join(filter(None, (why, ways))))
        else:
            self.words.setText(
                say(
                    "Ways out: {state}",
                    state=say(BROKEN) if self._line.broken == (made, check.id) else say(WORKING),
                )
            )
        self.grown.emit()

    def _fill(self, ways: tuple[WayOut, ...]) -> None:
        emptied(self._column)
        self._ways.clear()
        self._shows.clear()
        for way in ways:
            self._column.addWidget(self._row(way))
        if self._shows:
            next(iter(self._shows)).setChecked(True)
        self._column.addStretch(1)
        self._scroll.verticalScrollBar().setValue(0)

    def _row(self, way: WayOut) -> QWidget:
        from rampdraft.explore.ways_out.words import effect_words

        row = QWidget(self._rows)
        change, every = way_change_words(way), effect_words(way)
        shown = effect_words(way, EFFECTS_SHOWN)
        told = label(
            "<br>".join((f"<b>{escape(change)}</b>", *map(escape, shown))),
            row,
            textFormat=Qt.TextFormat.RichText,
            toolTip="\n".join(every) if every != shown else "",
        )
        name = " ".join((say("Apply: {change}.", change=change), *every))
        apply = button(say("Apply"), self._pressed, row, accessibleName=name)
        self._ways[apply] = way
        beside = across((told, 1), parent=row, margins=(0, 0, 0, 0), spacing=-1)
        if self._check is not None and isinstance(self._check.found, Rolled):
            show = button(
                say("Show"),
                self._draw,
                row,
                accessibleName=say("Show before and after: {change}", change=change),
            )
            show.setCheckable(True)
            show.setAutoExclusive(False)
            self._shows[show] = way
            beside.addWidget(show, 0, Qt.AlignmentFlag.AlignTop)
        beside.addWidget(apply, 0, Qt.AlignmentFlag.AlignTop)
        return row

    def _draw(self) -> None:
        """Have the picture of the way that was chosen last drawn."""
        pressed = self.sender()
        if isinstance(pressed, QPushButton) and pressed in self._shows:
            for one in self._shows:
                one.setChecked(one is pressed)
        way = next((way for one, way in self._shows.items() if one.isChecked()), None)
        self.picture.setVisible(way is not None)
        check, evaluation = self._check, self._document.evaluation
        if way is None or check is None or not self._document.whole or evaluation is None:
            self._drawings.call_off()
            return
        room_mm = self.picture.room_mm
        about = (self._made, check.id, way.changes, room_mm)
        self._drawings.want(about, draw_cure, evaluation, check, way, room_mm)

    def _show_picture(self, about: object, picture: Picture | None) -> None:
        self.picture.show_picture(picture)
        if picture is not None:
            self.picture.set_box(picture.box)

    def _pressed(self) -> None:
        pressed, design = self.sender(), self._document.design
        way = self._ways.get(pressed) if isinstance(pressed, QPushButton) else None
        if way is None or design is None or self._shown is None or self._shown[0] != self._document.made:
            return
        before, after = value_words(way.path, way.before), value_words(way.path, way.after)
        beside = say(" and {count} more", count=len(way.beside)) if way.beside else ""
        self._document.replace(way.taken(design), label_of(way.path), old=before, new=f"{after}{beside}")
        self.told.emit(say("{change}. Undo takes it back.", change=way_change_words(way)))


def way_change_words(way: WayOut) -> str:
    """Return what a way out changes, as the form writes it."""
    lead, *beside = (change_words(one.path, one.before, one.after) for one in way.changes)
    others = say(" and ").join(map(within, beside))
    return say("{lead} with {others}", lead=lead, others=others) if others else lead


def work_out(evaluation: Evaluation, check_id: str, progress: Progress) -> dict[str, Found]:
    """Return the ways out of one check of an evaluation, and what bars it."""
    from rampdraft.explore.ways_out.ways import ways_out
    from rampdraft.explore.wishes.why import barring, clashes
    from rampdraft.explore.wishes.words import why_not_words

    design, rule_sets = evaluation.design, evaluation.rule_sets
    found = clashes(design, rule_sets)
    checks = {check.id: check for check in evaluation.all_checks}
    bars = {id: barring(found, checks[id]) for id in (check_id,) if id in checks}
    words = {id: why_not_words(bar, design, rule_sets) for id, bar in bars.items() if bar is not None}
    ways = ways_out(evaluation, check_id, progress)
    return {id: Found(ways=some, why_not=words.get(id, "")) for id, some in ways.items()}


def draw_cure(
    evaluation: Evaluation, check: Check, way: WayOut, room_mm: tuple[float, float], _: Progress
) -> Picture | None:
    """Return the place that a check tells of before and after a way out."""
    from rampdraft.drawing.rolling_cure import cure_picture

    cured = evaluation.following(way.taken(evaluation.design))
    return cure_picture(evaluation, cured, check, way, room_mm)
