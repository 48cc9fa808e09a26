"""The form: every value of the design in groups, driven by the field records."""

from html import escape
from itertools import pairwise
from typing import Any, Final

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QFrame, QLabel, QScrollArea, QVBoxLayout, QWidget

from rampdraft.app.document import Document
from rampdraft.app.form.field import Field, reason
from rampdraft.app.form.rows import AddRow, RowHeading
from rampdraft.app.form.section import Section
from rampdraft.errors import Problem
from rampdraft.model.design import Design
from rampdraft.model.fields.paths import GROUP_LABELS, FieldInfo, fields_of, label_of, value_at

ORDER: Final = (
    "about",
    "carrier",
    "supports",
    "carrier_body",
    "sites",
    "use",
    "inner_leaf",
    "outer_leaf",
    "deck_hinge",
    "joint",
    "fold",
    "fold_stages",
    "assist",
    "handles",
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
)
"""As the work goes: survey, size, fold, build. Groups that are not named here follow in the order of the
design.
"""

OPEN_AT_FIRST: Final = ("inner_leaf",)

FIRST_HELP: Final = (
    "Here stands what a value is, and its range. Sums and units can be typed: 1.7 m, 2*850 - 12, 5 ft 6 in, 4"
    " 1/2 in. Up and Down change a number."
)


class DimensionsPanel(QWidget):
    """The form with its help below."""

    said = Signal(str)
    """Help on the field with the cursor."""
    entered = Signal(str)
    """Path of the field with the cursor."""

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._document = document
        self._fields: dict[str, Field] = {}
        self._sections: dict[str, Section] = {}
        self._row_counts: dict[str, int] = {}
        self._inside = inside = QWidget(self)
        self._column = QVBoxLayout(inside)
        self._column.setContentsMargins(10, 0, 10, 10)
        self._column.setSpacing(0)
        self._scroll = QScrollArea(self)
        self._scroll.setWidgetResizable(True)
        self._scroll.setFrameShape(QFrame.Shape.NoFrame)
        self._scroll.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self._scroll.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self._scroll.setWidget(inside)
        self._wrong = QLabel(self)
        self._wrong.setProperty("role", "reason")
        self._wrong.setWordWrap(True)
        self._wrong.setTextFormat(Qt.TextFormat.RichText)
        self._wrong.setContentsMargins(10, 4, 10, 6)
        self._wrong.linkActivated.connect(self.reveal)
        self._wrong.hide()
        self._help = QLabel(FIRST_HELP, self)
        self._help.setProperty("role", "quiet")
        self._help.setWordWrap(True)
        self._help.setAlignment(Qt.AlignmentFlag.AlignTop)
        self._help.setContentsMargins(10, 6, 10, 6)
        self._help.setMinimumHeight(self.fontMetrics().lineSpacing() * 4 + 12)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.setSpacing(0)
        whole.addWidget(self._wrong)
        whole.addWidget(self._scroll, 1)
        hairline = QFrame(self)
        hairline.setProperty("role", "hairline")
        hairline.setFixedHeight(1)
        whole.addWidget(hairline)
        whole.addWidget(self._help)
        document.changed.connect(self.refresh)

    def field(self, path: str) -> Field:
        """Return the row of the form for a path, opening its section."""
        self._open(path)
        return self._fields[path]

    def reveal(self, path: str) -> None:
        """Open the section of a path, scroll to it and put the cursor there."""
        self._open(path)
        field = self._fields.get(path)
        if field is not None:
            self._column.activate()
            self._scroll.ensureWidgetVisible(field, 0, 60)
            field.editor.widget.setFocus(Qt.FocusReason.OtherFocusReason)

    def go_to_section(self, name: str) -> None:
        """Open a group of the form."""
        self._open(name)

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
        for name, section in self._sections.items():
            section.mark(sum(_top(problem.key) == name for problem in problems))
        lines = [
            f'<a href="{problem.key}">{escape(label_of(problem.key))}</a>: {escape(reason(problem))}'
            for problem in problems[:4]
        ]
        if len(problems) > 4:
            lines.append(f"and {len(problems) - 4} more")
        text = "<br>".join(lines)
        if text != self._wrong.text():
            self._wrong.setText(text)
            self._wrong.setVisible(bool(text))

    def _begin(self) -> None:
        groups = [info.name for info in fields_of(Design)]
        for name in sorted(groups, key=lambda name: ORDER.index(name) if name in ORDER else len(ORDER)):
            section = Section(GROUP_LABELS[name], _Builder(self, name), self._inside)
            self._sections[name] = section
            section.built.connect(self._order_tabs)
            self._column.addWidget(section)
        self._column.addStretch(1)
        self.setFocusProxy(next(iter(self._sections.values())).heading)
        for name in OPEN_AT_FIRST:
            self._sections[name].set_open(True)

    def _order_tabs(self) -> None:
        """Let the cursor go through the form from top to bottom, though its parts are built as they are
        opened.
        """
        stops: list[QWidget] = []
        for section in self._sections.values():
            inside = section.body.findChildren(QWidget) if section.body is not None else []
            here = [
                widget for widget in inside if widget.window() is self.window()
            ]  # not the lists that combo boxes open
            stops += [
                section.heading,
                *(widget for widget in here if widget.focusPolicy() & Qt.FocusPolicy.TabFocus),
            ]
        for before, after in pairwise(stops):
            QWidget.setTabOrder(before, after)

    def _open(self, path: str) -> None:
        section = self._sections.get(_top(path))
        if section is not None:
            section.set_open(True)

    def _rebuild_rows(self) -> None:
        """Build the sections anew whose rows have become more or fewer."""
        for path, count in list(self._row_counts.items()):
            if len(value_at(self._design, path)) != count:
                name = _top(path)
                self._fields = {key: field for key, field in self._fields.items() if _top(key) != name}
                del self._row_counts[path]
                self._sections[name].rebuild()

    @property
    def _design(self) -> Design:
        assert self._document.design is not None
        return self._document.design

    def build(self, name: str, parent: QWidget) -> QWidget:
        """Return the inside of a section."""
        body = QWidget(parent)
        column = QVBoxLayout(body)
        column.setContentsMargins(0, 4, 0, 10)
        column.setSpacing(1)
        info = next(info for info in fields_of(Design) if info.name == name)
        if info.group is not None:
            self._add_fields(f"{name}.", info.group, column, body)
        else:
            self._add_rows(name, info, column, body)
        return body

    def _add_fields(self, prefix: str, cls: type, column: QVBoxLayout, body: QWidget) -> None:
        for info in fields_of(cls):
            if info.record is not None:
                field = Field(self._document, f"{prefix}{info.name}", info, body)
                field.entered.connect(self._say)
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
            column.addWidget(RowHeading(self._document, path, number, len(rows), body))
            self._add_fields(f"{path}[{number}].", info.rows, column, body)
        column.addWidget(AddRow(self._document, path, len(rows), body))

    def _say(self, field: Field) -> None:
        self._help.setText(f"{field.what}. {field.help_text()}")
        self.entered.emit(field.path)
        self.said.emit(field.help_text())


class _Builder:
    """Builds one section of a panel; a class, since a lambda on a child would keep the panel alive."""

    def __init__(self, panel: DimensionsPanel, name: str) -> None:
        self._panel, self._name = panel, name

    def __call__(self, parent: QWidget) -> QWidget:
        return self._panel.build(self._name, parent)


def _top(path: str) -> str:
    return path.partition(".")[0].partition("[")[0]


def _of(path: str, problems: tuple[Problem, ...]) -> tuple[Problem, ...]:
    return tuple(problem for problem in problems if problem.key == path or problem.key.startswith(f"{path}["))
