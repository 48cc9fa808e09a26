"""Help for the field with the cursor: what it is, a typical figure, what it moves, and where it shows."""

from typing import TYPE_CHECKING, Final

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QWidget

from rampdraft.app.canvas.canvas import Canvas
from rampdraft.app.document import Document
from rampdraft.app.form import format
from rampdraft.app.furniture import column, label, scrolled
from rampdraft.checks.steps import BY_KEY, steps_of_field
from rampdraft.model.fields.paths import info_of
from rampdraft.words.say import say, within

if TYPE_CHECKING:
    from rampdraft.app.form.field import Field

FIRST: Final = (
    "Help for a field stands here once the cursor is in it. Sums and units can be typed: 1.7 m, 2*850 - 12,"
    " 5 ft 6 in, 4 1/2 in. Up and Down change a number."
)
NAME: Final = "Help for this field"
FIRST_LINES: Final = 4
TEXT_LINES: Final = 7
PICTURE_LINES: Final = 6
MOVED_SHOWN: Final = 4


class HelpPanel(QWidget):
    """Shows the help for one field."""

    def __init__(self, document: Document, parent: QWidget) -> None:
        super().__init__(parent)
        self._document = document
        self._path = self._what = ""
        self._awaited = False
        """The checks that the value moves are not known yet."""
        document.changed.connect(self._follow)
        self.setAccessibleName(say(NAME))
        self.words = label(
            say(FIRST), self, margins=(10, 6, 10, 6), alignment=Qt.AlignmentFlag.AlignTop, role="quiet"
        )
        self._text = scrolled(self.words, self)
        self.picture = Canvas(say("Where the value shows"), self)
        self.picture.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.picture.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        self.picture.hide()
        column(self, (self._text, 1), (self.picture, 0))
        self._most = 0
        self._shown = False
        self._set_height()

    def show_field(self, field: "Field") -> None:
        """Show the help for a field."""
        self._path, self._shown = field.path, True
        self._what = f"{field.what}. {field.help_text()}"
        self._say()
        self._set_height()
        self._text.verticalScrollBar().setValue(0)
        self._draw()

    def _say(self) -> None:
        """Say what the value is, a typical figure, and what it moves."""
        self._awaited = self._document.judged is None
        self.words.setText("\n".join(filter(None, (self._what, self._typical(), self._moves()))))

    def _follow(self) -> None:
        """Say what the value moves, once the checks are there."""
        if self._awaited and self._document.judged is not None:
            self._say()

    def keep_below(self, height: int) -> None:
        """Take no more height than this."""
        if height != self._most:
            self._most = height
            self._set_height()
            self._draw()

    def _set_height(self) -> None:
        """Keep one height for all fields, so that the form above stands still."""
        line = self.fontMetrics().lineSpacing()
        wanted = ((TEXT_LINES + PICTURE_LINES) if self._shown else FIRST_LINES) * line + 12
        self.setFixedHeight(min(wanted, self._most) if self._most else wanted)

    def _typical(self) -> str:
        from rampdraft.files.typical import typical

        info, value = info_of(self._path), typical(self._path)
        if info is None or value is None:
            return ""
        return say("Typical: {value}.", value=format.value_with_unit(self._path, value))

    def _moves(self) -> str:
        """Return the checks that the value is tried for, or else the steps that it matters for."""
        from rampdraft.explore.ways_out.moved import moved_by

        evaluation = self._document.judged
        checks = moved_by(self._path, evaluation.design, evaluation.checks) if evaluation is not None else ()
        titles = [within(check.title) for check in checks]
        if titles:
            more = (
                say(" and {count} more", count=len(titles) - MOVED_SHOWN) if len(titles) > MOVED_SHOWN else ""
            )
            return say("Moves: {list}{more}.", list=", ".join(titles[:MOVED_SHOWN]), more=more)
        steps = ", ".join(within(BY_KEY[key].name) for key in steps_of_field(self._path))
        return say("Matters when you {steps}.", steps=steps) if steps else ""

    def _draw(self) -> None:
        """Show where the value stands, if half the height is left for the words."""
        if not self._path:
            return
        height = min(PICTURE_LINES * self.fontMetrics().lineSpacing(), self.height() // 2)
        from rampdraft.drawing.lit import place_of

        evaluation = self._document.evaluation
        self.picture.setFixedHeight(height)
        found = None
        if evaluation is not None and not self._document.stale:
            found = place_of(self._path, evaluation, self.picture.per_paper_mm)
        self.picture.setVisible(found is not None)
        if found is None:
            return
        picture, lit = found
        self.picture.set_box(picture.box)
        again = (
            place_of(self._path, evaluation, self.picture.per_paper_mm) if evaluation is not None else None
        )
        picture, lit = again or found
        self.picture.light(lit)
        self.picture.show_picture(picture)
        self.picture.set_box(picture.box)
