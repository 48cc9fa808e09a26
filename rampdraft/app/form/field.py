"""One row of the form: letter, label, value, unit, and beside the value the reason why it can't be."""

from typing import Final

from PySide6.QtCore import QEvent, QObject, Qt, Signal
from PySide6.QtGui import QEnterEvent
from PySide6.QtWidgets import QGridLayout, QLabel, QWidget

from rampdraft.app.document import Document
from rampdraft.app.form import format
from rampdraft.app.form.editors import editor_for
from rampdraft.app.form.giving import give, reason
from rampdraft.app.form.usual import usual_of
from rampdraft.app.furniture import label, make
from rampdraft.errors import Problem
from rampdraft.model.fields.paths import FieldInfo, label_of, value_at
from rampdraft.model.fields.record import Dim, Switch
from rampdraft.model.sold import sold_sizes
from rampdraft.model.spacing import ASKED, fixed, follows, freed, idle, spacing_of
from rampdraft.words.say import say, within

EDITOR_EM: Final = 7
"""Width of a number's editor in widths of the letter m."""
WIDER_EM: Final = 10
"""Of one that says in words what its value is left to."""
LABEL_EM: Final = 8.2
"""Beside such an editor; a label with a longer word, as German has them, has its value below it."""


class Field(QWidget):
    """Shows the value at `path` of the document's design and edits it."""

    entered = Signal(object)
    """The cursor came here; carries this row."""
    pointed = Signal(str)
    """The pointer is here: the path; empty once it has left."""

    def __init__(
        self, document: Document, path: str, info: FieldInfo, parent: QWidget, *, narrow: bool = False
    ) -> None:
        super().__init__(parent)
        record = info.record
        assert record is not None
        self.path, self.record = path, record
        self._document, self._info, self._runs = document, info, 0
        self.what = label_of(path)
        self.editor = editor_for(info, self)
        self.editor.usual = usual_of(document.design, path) if document.design is not None else None
        widget = self.editor.widget
        unit = format.unit_text(record.unit) if isinstance(record, Dim) else ""
        widget.setAccessibleName(f"{self.what}, {unit}" if unit else self.what)
        widget.setAccessibleDescription(say(record.help))

        widget.setWhatsThis(self.help_text())
        widget.installEventFilter(self)
        self.setToolTip(self.help_text())
        self.setAttribute(Qt.WidgetAttribute.WA_StyledBackground)
        self.reason = label("", self, role="reason")
        self.reason.hide()
        self.follows = self._follower() if spacing_of(path) is not None else None
        self._lay_out(say(record.label), getattr(record, "letter", ""), unit, narrow=narrow)
        self.editor.given.connect(self._edit)
        self.editor.stepped.connect(self._step)
        self.editor.refused.connect(self._refuse)
        self.editor.restored.connect(self._restore)

    def _lay_out(self, label_text: str, letter_text: str, unit_text: str, *, narrow: bool) -> None:
        """Lay the row out, the value beside its label; below it where the form is narrow for its letters."""
        em = self.fontMetrics().horizontalAdvance("m")
        widget = self.editor.widget
        name = label(label_text, self)
        name.setBuddy(widget)
        spoken = say("letter {letter} on the drawing", letter=letter_text) if letter_text else ""
        letter = make(QLabel, letter_text, self, role="letter", accessibleName=spoken)
        letter.setFixedWidth(int(1.3 * em))
        grid = make(QGridLayout, self, horizontalSpacing=6, verticalSpacing=2)
        grid.setContentsMargins(0, 2, 0, 2)
        grid.addWidget(letter, 0, 0)
        longest = max(map(self.fontMetrics().horizontalAdvance, label_text.split()), default=0)
        editor_em = EDITOR_EM if self.editor.usual is None else WIDER_EM
        narrow = narrow or longest > (LABEL_EM + EDITOR_EM - editor_em) * em
        single = isinstance(self.record, Dim) and not self._info.many
        if (single or isinstance(self.record, Switch)) and not narrow:
            grid.addWidget(name, 0, 1)
            grid.addWidget(widget, 0, 2)
            unit = make(QLabel, unit_text, self, role="quiet")
            unit.setFixedWidth(max(int(3 * em), unit.sizeHint().width()))
            grid.addWidget(unit, 0, 3)
            widget.setFixedWidth(editor_em * em)
        else:
            name.setText(f"{label_text}, {unit_text}" if unit_text else label_text)
            grid.addWidget(name, 0, 1, 1, 3)
            grid.addWidget(widget, 1, 1, 1, 3)
        grid.setColumnStretch(1, 1)
        if self.follows is not None:
            grid.addWidget(self.follows, 2, 1, 1, 3)
        grid.addWidget(self.reason, 3, 1, 1, 3)

    def _follower(self) -> QLabel:
        """Return the words that say whether the value follows from the rest, and let it be changed."""
        flags = Qt.TextInteractionFlag
        made = label("", self, role="quiet", textFormat=Qt.TextFormat.RichText)
        made.setTextInteractionFlags(flags.LinksAccessibleByMouse | flags.LinksAccessibleByKeyboard)
        made.linkActivated.connect(self._turn)
        return made

    def _turn(self, _: str) -> None:
        """Fix a value that follows as it is, or let one that is given follow."""
        design = self._document.design
        assert design is not None
        if follows(design, self.path):
            self._document.replace(fixed(design, self.path), say("Fix {name}", name=within(self.what)))
        else:
            self._document.replace(freed(design, self.path), say("Let {name} follow", name=within(self.what)))

    def help_text(self) -> str:
        """Return what the value is, its range, and what can be bought or typed."""
        reach = f" {format.range_text(self.record)}." if isinstance(self.record, Dim) else ""
        design = self._document.design
        sizes = sold_sizes(design, self.path) if design is not None else ()
        sold = say(" Sold: {sizes} mm.", sizes=", ".join(map(format.number, sizes))) if sizes else ""
        return say(self.record.help) + reach + sold

    def refresh(self, problems: tuple[Problem, ...]) -> None:
        """Show the design's value, or leave the refused text, and the reason beside it."""
        design = self._document.design
        assert design is not None
        self.editor.usual = usual_of(design, self.path)
        if self.path in ASKED:
            self.setVisible(self.path not in idle(design))
        if self.follows is not None:
            self._show_whether_it_follows(self.follows, follows(design, self.path))
        if self.path not in self._document.unread:
            self.editor.show_value(value_at(design, self.path), design)
        words = "; ".join(reason(problem) for problem in problems)
        if words != self.reason.text():
            self.reason.setText(words)
            self.reason.setVisible(bool(words))
            widget = self.editor.widget
            widget.setProperty("wrong", bool(words))
            widget.style().unpolish(widget)
            widget.style().polish(widget)
            widget.setAccessibleDescription(
                f"{words}. {say(self.record.help)}" if words else say(self.record.help)
            )

    def _show_whether_it_follows(self, said: QLabel, it_does: bool) -> None:
        words = say("follows") if it_does else say("given")
        turn = say("fix it as it is") if it_does else say("let it follow")
        text = f'<i>{words}</i>: <a href="#">{turn}</a>'
        if said.text() == text:
            return
        said.setText(text)
        said.setAccessibleName(f"{self.what} {words}: {turn}")
        widget = self.editor.widget
        widget.setProperty("follows", it_does)
        widget.style().unpolish(widget)
        widget.style().polish(widget)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Tell when the cursor comes here; steps of one visit make one edit."""
        if event.type() == QEvent.Type.FocusIn:
            self._runs += 1
            self.entered.emit(self)
        return False

    def enterEvent(self, event: QEnterEvent) -> None:
        """Tell that the pointer is here."""
        self.pointed.emit(self.path)

    def leaveEvent(self, event: QEvent) -> None:
        """Tell that it is no more."""
        self.pointed.emit("")

    def light(self, *, lit: bool) -> None:
        """Stand out, while the pointer is at the dimension on the drawing."""
        if self.property("lit") != lit:
            self.setProperty("lit", lit)
            self.style().unpolish(self)
            self.style().polish(self)

    def _step(self, value: object) -> None:
        self._edit(value, f"{self.path}#{self._runs}")

    def _edit(self, value: object, run: str = "") -> None:
        """Edit the design, unless the value alone is not allowed: then the text stays here, with the
        reason.
        """
        wrong = give(self._document, self.path, value, run=run)
        if wrong:
            self._document.refuse(self.path, format.text_of(self._info, value), "; ".join(map(reason, wrong)))

    def _refuse(self, text: str, rule: str) -> None:
        self._document.refuse(self.path, text, rule)

    def _restore(self) -> None:
        self._document.restore(self.path)


class ClassField(Field):
    """The class of a wheeled user: another one changes more than this value, so others see to it."""

    class_given = Signal(str, str)
    """Path of the wheeled user, and the class."""

    def _edit(self, value: object, run: str = "") -> None:
        self.class_given.emit(self.path.rpartition(".")[0], value)
        if self._document.design is not None:  # while nothing is decided, the class is what it was
            self.editor.show_value(value_at(self._document.design, self.path), self._document.design)
