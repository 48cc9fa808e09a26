"""The form: the values of the step in hand, or all, in groups, driven by the field records."""

import re
from collections.abc import Callable
from functools import partial
from html import escape
from typing import Any, Final

from PySide6.QtCore import QEvent, QSignalBlocker, Qt, QTimer, Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QSizePolicy, QToolButton, QVBoxLayout, QWidget

from rampdraft.app.document import Document
from rampdraft.app.form.field import ClassField, Field
from rampdraft.app.form.giving import reason
from rampdraft.app.form.help import HelpPanel
from rampdraft.app.form.rows import SITES, AddRow, RowHeading
from rampdraft.app.form.site_preset import SitePreset
from rampdraft.app.furniture import column, hairline, label, make, scrolled
from rampdraft.checks.steps import BY_KEY, steps_of_field
from rampdraft.errors import Problem
from rampdraft.model.design import Design, WheeledUser
from rampdraft.model.fields.paths import (
    GROUP_LABELS,
    FieldInfo,
    fields_of,
    info_of,
    label_of,
    value_at,
    walk,
)
from rampdraft.words.say import say

ORDER: Final = (
    "about",
    "carrier",
    "supports",
    "carrier_body",
    "sites",
    "use",
    "rails",
    "inner_leaf",
    "outer_leaf",
    "deck_hinge",
    "joint",
    "fold",
    "fold_stages",
    "assist",
    "hold_down",
    "handles",
    "hands",
    "road",
    "obstacles",
    "stop",
    "prop",
    "toe",
    "bridge",
    "joining",
    "made_of",
    "materials",
    "workshop",
    "stock",
    "prices",
)
"""As the work goes: survey, size, fold, build. Groups that are not named here follow in the order of the
design.
"""

OPEN_AT_FIRST: Final = ("inner_leaf",)
NARROW_EM: Final = 20
"""A form that is less wide, in widths of the letter m, has values below their labels."""
LEAST_EM: Final = 16
LEAST_PX: Final = 285
HELP_SHARE: Final = 0.36
"""Of the form's height, the most that help takes."""
OPEN_IN_STEP: Final = 16
"""In a step groups are open from the first on, until so many values are seen."""


class DimensionsPanel(QWidget):
    """The form with its help below."""

    entered = Signal(str)
    """Path of the field with the cursor."""
    pointed = Signal(str)
    """Path of the field under the pointer, empty for none."""
    user_wanted = Signal()
    """Another wheeled user is to be added."""
    user_shown = Signal(int)
    """What to measure of the wheeled user of this number is to be shown."""
    class_given = Signal(str, str)
    """Path of a wheeled user, and another class for it."""
    step_wanted = Signal(str)
    """A value is wanted that is none of the step in hand; carries the key of a step that has it."""

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._document = document
        self._fields: dict[str, Field] = {}
        self._sections: dict[str, Section] = {}
        self._row_counts: dict[str, int] = {}
        self._lit = ""
        self.presets: list[SitePreset] = []
        """Over the rows of the sites, where those are seen."""
        self._step = ""
        self._is_narrow = False
        self._room_changed = make(QTimer, self, singleShot=True, interval=0)
        self._room_changed.timeout.connect(self._make_room)
        self._inside = QWidget(self)
        self._column = column(self._inside, margins=(10, 0, 10, 10))
        self._scroll = scrolled(self._inside, self)
        self._scroll.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAsNeeded)
        self._wrong = label(
            "", self, role="reason", margins=(10, 4, 10, 6), textFormat=Qt.TextFormat.RichText
        )
        self._wrong.linkActivated.connect(self.reveal)
        self._wrong.hide()
        self.help = HelpPanel(document, self)
        column(self, (self._wrong, 0), (self._scroll, 1), (hairline(self), 0), (self.help, 0))
        document.changed.connect(self.refresh)

    @property
    def paths(self) -> set[str]:
        """Return the paths of all fields that are there, as far as groups are open."""
        return set(self._fields)

    @property
    def cut_off_px(self) -> int:
        """Return how much of the form has no room across, and is scrolled to sideways."""
        return self._scroll.horizontalScrollBar().maximum()

    def has(self, path: str) -> bool:
        """Return whether the step in hand has a value, or something of a group."""
        return self._in_step(path)

    def field(self, path: str) -> Field:
        """Return the row of the form for a path, opening its section."""
        self.go_to_section(path)
        return self._fields[path]

    def reveal(self, path: str) -> None:
        """Open the section of a path, scroll to it and put the cursor there."""
        self.go_to_section(path)
        field = self._fields.get(path)
        if field is not None:
            self._column.activate()
            self._scroll.ensureWidgetVisible(field, 0, 60)
            self._scroll.horizontalScrollBar().setValue(0)
            field.editor.widget.setFocus(Qt.FocusReason.OtherFocusReason)

    def light(self, path: str) -> None:
        """Let the row of a path stand out, where it is open; with no path, none."""
        for one, lit in ((self._lit, False), (path, True)):
            field = self._fields.get(one)
            if field is not None:
                field.light(lit=lit)
        self._lit = path

    def show_step(self, step: str) -> None:
        """Show the values of a step of the job, those that matter most first; all of them for none."""
        if step == self._step:
            return
        self._step = step
        if self._sections:
            self._arrange()
            self._scroll.verticalScrollBar().setValue(0)

    def go_to_section(self, path: str) -> None:
        """Open the group of the form that a path lies in, in a step that has it."""
        if self._step and not self._in_step(path):
            self.step_wanted.emit(next(iter(steps_of_field(path)), ""))
        section = self._sections.get(_top(path))
        if section is not None:
            section.heading.setChecked(True)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Put values below their labels where there is no room beside, and leave the form most of the
        height.
        """
        super().resizeEvent(event)
        self._fit()

    def changeEvent(self, event: QEvent) -> None:
        """Make room for other letters, once for all that a change of them brings."""
        super().changeEvent(event)
        if event.type() in (QEvent.Type.FontChange, QEvent.Type.StyleChange) and self._sections:
            self._room_changed.start()

    def _make_room(self) -> None:
        self._fit()
        self._arrange()

    def _fit(self) -> None:
        self.setMinimumWidth(max(LEAST_PX, LEAST_EM * self.fontMetrics().horizontalAdvance("m")))
        self.help.keep_below(int(self.height() * HELP_SHARE))
        narrow = self.width() < NARROW_EM * self.fontMetrics().horizontalAdvance("m")
        if narrow != self._is_narrow:
            self._is_narrow = narrow
            if self._sections and not self._room_changed.isActive():
                self._arrange()

    def refresh(self) -> None:
        """Show the design in hand, and what is wrong with it."""
        if self._document.design is None:
            return
        if not self._sections:
            self._begin()
        self._rebuild_rows()
        problems = self._document.problems
        for field in self._fields.values():
            field.refresh(_of(field.path, problems))
        for preset in self.presets:
            preset.refresh()
        for name, section in self._sections.items():
            section.mark(sum(_top(problem.key) == name for problem in problems))
        lines = [
            f'<a href="{problem.key}">{escape(label_of(problem.key))}</a>: {escape(reason(problem))}'
            for problem in problems[:4]
        ]
        if len(problems) > 4:
            lines.append(say("and {count} more", count=len(problems) - 4))
        self._wrong.setText("<br>".join(lines))
        self._wrong.setVisible(bool(lines))

    def _begin(self) -> None:
        groups = [info.name for info in fields_of(Design)]
        for name in sorted(groups, key=lambda name: ORDER.index(name) if name in ORDER else len(ORDER)):
            section = Section(say(GROUP_LABELS[name]), partial(self._build, name), self._inside)
            self._sections[name] = section
            self._column.addWidget(section)
        self._column.addStretch(1)
        self._arrange()

    def _arrange(self) -> None:
        """Put the sections in the order of the step in hand, build what is open anew, and hide the others."""
        self._fields.clear()
        self._row_counts.clear()
        self.presets.clear()
        step = BY_KEY.get(self._step)
        order = dict.fromkeys(_top(path) for path in step.fields) if step is not None else self._sections
        room = OPEN_IN_STEP
        for at, name in enumerate((*order, *(name for name in self._sections if name not in order))):
            section = self._sections[name]
            self._column.removeWidget(section)
            self._column.insertWidget(at, section)
            section.setVisible(name in order)
            is_open = name in OPEN_AT_FIRST
            if step is not None:
                is_open = name in order and room > 0
                room -= self._count(name)
            section.open_anew(is_open=is_open and name in order)
        self.setFocusProxy(self._sections[next(iter(order))].heading)

    def _count(self, name: str) -> int:
        """Return how many values of a group the step in hand shows."""
        found = (path for path, _, _ in walk(self._design) if _top(path) == name)
        return sum(map(self._in_step, found))

    def _in_step(self, path: str) -> bool:
        """Return whether a value, or something of a group or of rows, is of the step in hand."""
        if not self._step:
            return True
        info = info_of(path)
        if info is None or info.record is not None:
            return BY_KEY[self._step].has_field(path)
        inside, bare = info.group or info.rows, re.sub(r"\[\d+\]", "", path)
        return inside is not None and any(self._in_step(f"{bare}.{one.name}") for one in fields_of(inside))

    def _rebuild_rows(self) -> None:
        """Build the sections anew whose rows have become more or fewer."""
        for path, count in list(self._row_counts.items()):
            if len(value_at(self._design, path)) != count:
                name = _top(path)
                self.presets = [] if path == SITES else self.presets
                self._fields = {key: field for key, field in self._fields.items() if _top(key) != name}
                del self._row_counts[path]
                self._sections[name].rebuild()

    @property
    def _design(self) -> Design:
        assert self._document.design is not None
        return self._document.design

    def _build(self, name: str, parent: QWidget) -> QWidget:
        """Return the inside of a section."""
        body = QWidget(parent)
        inside = column(body, margins=(0, 4, 0, 10), spacing=1)
        info = next(info for info in fields_of(Design) if info.name == name)
        if info.group is not None:
            self._add_fields(f"{name}.", info.group, inside, body)
        else:
            self._add_rows(name, info, inside, body)
        return body

    def _add_fields(self, prefix: str, cls: type, column: QVBoxLayout, body: QWidget) -> None:
        for info in fields_of(cls):
            if not self._in_step(f"{prefix}{info.name}"):
                continue
            if info.record is not None:
                kind = ClassField if (cls, info.name) == (WheeledUser, "kind") else Field
                field = kind(self._document, f"{prefix}{info.name}", info, body, narrow=self._is_narrow)
                field.entered.connect(self._say)
                field.pointed.connect(self.pointed)
                if isinstance(field, ClassField):
                    field.class_given.connect(self.class_given)
                field.refresh(_of(field.path, self._document.problems))
                self._fields[field.path] = field
                column.addWidget(field)
            elif info.rows is not None:
                self._add_rows(f"{prefix}{info.name}", info, column, body)

    def _add_rows(self, path: str, info: FieldInfo, column: QVBoxLayout, body: QWidget) -> None:
        rows: tuple[Any, ...] = value_at(self._design, path)
        self._row_counts[path] = len(rows)
        assert info.rows is not None
        for number in range(1, len(rows) + 1):
            heading = RowHeading(self._document, path, number, len(rows), body, narrow=self._is_narrow)
            heading.shown.connect(self.user_shown)
            column.addWidget(heading)
            if path == SITES:
                self.presets.append(SitePreset(self._document, number, body, narrow=self._is_narrow))
                column.addWidget(self.presets[-1])
            self._add_fields(f"{path}[{number}].", info.rows, column, body)
        add = AddRow(self._document, path, len(rows), body)
        add.wanted.connect(self.user_wanted)
        column.addWidget(add)

    def _say(self, field: Field) -> None:
        self.help.show_field(field)
        layout = self.layout()
        if layout is not None:
            layout.activate()  # the help may have taken room that the field stood in
        self._scroll.ensureWidgetVisible(field, 0, 20)
        self._scroll.horizontalScrollBar().setValue(0)
        self.entered.emit(field.path)


class Section(QWidget):
    """A part of the form that opens and closes: a heading, and below it what `build` returns when it is first
    opened.
    """

    def __init__(self, title: str, build: Callable[[QWidget], QWidget], parent: QWidget) -> None:
        super().__init__(parent)
        self._title, self._build = title, build
        self.body: QWidget | None = None
        self.heading = make(
            QToolButton,
            self,
            role="section",
            text=title,
            accessibleName=title,
            checkable=True,
            arrowType=Qt.ArrowType.RightArrow,
            toolButtonStyle=Qt.ToolButtonStyle.ToolButtonTextBesideIcon,
            focusPolicy=Qt.FocusPolicy.StrongFocus,
        )
        self.heading.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.heading.toggled.connect(self._toggle)
        self._column = column(self, (self.heading, 0), (hairline(self), 0))

    def mark(self, wrong: int) -> None:
        """Say on the heading how many values inside can't be."""
        self.heading.setText(
            say("{title}  ({wrong} to correct)", title=self._title, wrong=wrong) if wrong else self._title
        )

    def rebuild(self) -> None:
        """Throw the inside away, and build it anew if it is open."""
        if self.body is not None:
            self._column.removeWidget(self.body)
            self.body.hide()
            self.body.deleteLater()
            self.body = None
        if self.heading.isChecked():
            self._show_body()

    def open_anew(self, *, is_open: bool) -> None:
        """Throw the inside away, and open or close it."""
        with QSignalBlocker(self.heading):
            self.heading.setChecked(is_open)
        self.heading.setArrowType(Qt.ArrowType.DownArrow if is_open else Qt.ArrowType.RightArrow)
        self.rebuild()

    def _toggle(self, is_open: bool) -> None:
        self.heading.setArrowType(Qt.ArrowType.DownArrow if is_open else Qt.ArrowType.RightArrow)
        if is_open:
            self._show_body()
        elif self.body is not None:
            self.body.hide()

    def _show_body(self) -> None:
        if self.body is None:
            self.body = self._build(self)
            self._column.addWidget(self.body)
        self.body.show()


def _top(path: str) -> str:
    return path.partition(".")[0].partition("[")[0]


def _of(path: str, problems: tuple[Problem, ...]) -> tuple[Problem, ...]:
    return tuple(problem for problem in problems if problem.key == path or problem.key.startswith(f"{path}["))
