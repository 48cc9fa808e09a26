"""The hand on a drawing: the one way in which anything on it is dragged, moved by keys and typed over."""

import math
from typing import Any

from PySide6.QtCore import QObject, QPointF, Signal

from rampdraft.app.canvas.grip_canvas import GripCanvas
from rampdraft.app.canvas.type_over import TypeOver
from rampdraft.app.document import Document
from rampdraft.app.form import format
from rampdraft.app.form.giving import give, reason
from rampdraft.app.views.grip_words import name_of, no_longer_follows, texts_of, told, unit_of
from rampdraft.drawing.grips.grip import Grip, field_of
from rampdraft.drawing.grips.ground import GroundGrip, between, with_point, without_point
from rampdraft.errors import Problem
from rampdraft.geometry.buildable.problems import problems_of
from rampdraft.geometry.outline import Point
from rampdraft.geometry.spacing.settled import settled
from rampdraft.model.design import Design
from rampdraft.model.fields.paths import info_of, label_of, value_at
from rampdraft.model.fields.values import value_problems
from rampdraft.words.say import say

_DEGREES = "deg"


class Hand(QObject):
    """Drags, nudges and types over what a canvas has grips for. While something is dragged the document shows
    it, undecided; one drag is one edit, and so are nudges one after the other. What cannot be built is not
    followed: the ramp stays as it last could be, and the pointer says why.
    """

    chose = Signal(object)
    """Another grip has the cursor, or None has."""

    def __init__(self, document: Document, canvas: GripCanvas, parent: QObject) -> None:
        super().__init__(parent)
        self._document, self.canvas = document, canvas
        self._grip: Grip | None = None
        """The one in hand, as it was when it was taken."""
        self._from: Design | None = None
        self._put: tuple[float, ...] | None = None
        """The values that it was dragged to last, where they could be."""
        self._runs = 0
        self._nudged: tuple[Design, Design] | None = None
        """The design before the nudges of this run, and after them."""
        canvas.naming, canvas.valuing = self._name, self._value
        canvas.took.connect(self._take)
        canvas.pulled.connect(self._pull)
        canvas.dropped.connect(self._drop)
        canvas.gave_back.connect(self._give_back)
        canvas.nudged.connect(self._nudge)
        canvas.entered.connect(self._enter)
        canvas.chose.connect(self._choose)
        canvas.set_beside.connect(self._set_beside)
        canvas.another.connect(self._add)
        canvas.removed.connect(self._remove)

    def _name(self, grip: Grip) -> str:
        return f"{name_of(grip)}: {self._value(grip)}".removesuffix(": ")

    def _value(self, grip: Grip) -> str:
        design = self._document.design
        return "" if design is None else told(grip, design, grip.values)

    # Dragging

    @property
    def held(self) -> Grip | None:
        """Return the grip in hand, as it was when it was taken."""
        return self._grip

    def _take(self, grip: Grip) -> None:
        """Take a grip in hand, unless the drawing is of an earlier ramp."""
        self._end_run()
        if self._document.stale:
            self.canvas.let_go()
            return
        self._grip, self._from, self._put = grip, self._document.design, None

    def _pull(self, place: Point, fine: bool) -> None:
        """Bring the grip in hand to a place, or as near to it as a ramp can be built."""
        grip, design = self._grip, self._from
        if grip is None or design is None:
            return
        values = grip.pulled(place, fine=fine)
        if values == self._put:
            self._say(grip, values, ())
            return
        problems = self._document.preview(grip.put(design, values))
        if not problems:
            self._put = values
        self._say(grip, values, problems)

    def _drop(self) -> None:
        """Let go: what was dragged becomes one edit."""
        grip, design, values = self._grip, self._from, self._put
        self.canvas.let_go()
        self._forget()
        if grip is None or design is None or values is None:
            return
        if self._document.previewing:  # not where undo came in between
            self._give(grip, design, values)

    def _give_back(self) -> None:
        """Give back what is in hand, or what keys have moved; else leave the grip."""
        dragged, nudged = self._put is not None, self._nudged
        self.canvas.let_go()
        grip = self._grip
        self._forget()
        if dragged:
            self._document.give_back()
        elif nudged is not None and nudged[1] is self._document.design:
            run = self._run
            self._document.replace(nudged[0], say("Give back"), run=run)
        elif grip is None:
            self.canvas.choose("")
        self._end_run()

    def _forget(self) -> None:
        self._grip = self._from = self._put = None
        self.canvas.say(())

    # Keys

    @property
    def _run(self) -> str:
        return f"{self.canvas.accessibleName()} {self._runs}"

    def _end_run(self) -> None:
        self._runs += 1
        self._nudged = None

    def _nudge(self, grip: Grip, across: int, up: int, fine: bool) -> None:
        """Move a grip by a step; what cannot be built is said, and not done."""
        design = self._document.design
        if design is None or self._document.stale:
            return
        values = grip.stepped(across, up, fine=fine)
        if values == grip.values:
            return
        after = grip.put(design, values)
        problems = problems_of(settled(after), beside=design)
        if not problems:
            before = self._nudged[0] if self._nudged is not None else design
            self._give(grip, design, values, run=self._run)
            self._nudged = (before, self._document.design or after)
        knob = self.canvas.knobs.get(grip.key)
        self._say(grip, values, problems, QPointF(knob.geometry().center()) if knob is not None else None)

    # Points of a line that is drawn by hand

    def _set_beside(self, grip: Grip, place: Point, reach_mm: float) -> None:
        """Set another point where the ground was clicked at."""
        design = self._document.design
        if not isinstance(grip, GroundGrip) or design is None or self._document.stale:
            return
        found = with_point(design, grip, place, reach_mm)
        if found is None:
            return
        after, key = found
        if self._put_points(grip, after, say("Add ground point"), self.canvas.at_pixels(place)):
            self.canvas.choose(key)

    def _add(self, grip: Grip) -> None:
        """Set another point halfway to the next one."""
        design = self._document.design
        if isinstance(grip, GroundGrip) and design is not None:
            self._set_beside(grip, between(design, grip), math.inf)

    def _remove(self, grip: Grip) -> None:
        """Take a point away; the one before it has the cursor then."""
        design = self._document.design
        if not isinstance(grip, GroundGrip) or design is None or self._document.stale:
            return
        after, at = without_point(design, grip), self.canvas.at_pixels(grip.at)
        if self._put_points(grip, after, say("Remove ground point"), at):
            self.canvas.choose(f"{field_of(grip.key)}[{max(grip.number - 1, 1)}]")

    def _put_points(self, grip: Grip, after: Design, what: str, at: QPointF) -> bool:
        """Put other points, as one edit, or say why they cannot be; return whether they are there."""
        self._end_run()
        problems = problems_of(settled(after), beside=self._document.design)
        if problems:
            reasons = say("cannot be: {reason}", reason=reason(problems[0]))
            self.canvas.say((name_of(grip), reasons), at)
            return False
        self._document.replace(after, what)
        return True

    def _choose(self, grip: Grip | None) -> None:
        self._end_run()
        if not self.canvas.dragging:
            self.canvas.say(())
        self.chose.emit(grip)

    def _enter(self, grip: Grip) -> None:
        """Be done with what keys have moved; with nothing moved, have the value typed."""
        if self._nudged is not None:
            self._end_run()
            self.canvas.say(())
        else:
            self.type_over(grip)

    def _give(self, grip: Grip, design: Design, values: tuple[float, ...], *, run: str = "") -> None:
        after = grip.put(design, values)
        old, new = (
            ", ".join(texts_of(grip, one, at)) for one, at in ((design, grip.values), (after, values))
        )
        self._document.replace(after, name_of(grip), old=old, new=new, run=run)

    def _say(
        self, grip: Grip, values: tuple[float, ...], problems: tuple[Problem, ...], at: QPointF | None = None
    ) -> None:
        """Say at the pointer what the grip is pulled to, and why not where it cannot be."""
        design = self._from or self._document.design
        if design is None:
            return
        lines = [name_of(grip), told(grip, grip.put(design, values), values)]
        if problems:
            lines.append(say("cannot be: {reason}", reason=reason(problems[0])))
        elif no_longer_follows(grip, design):
            lines.append(say("given from now on; it followed from the rest"))
        self.canvas.say(tuple(lines), at)

    # Typing

    def type_over(self, grip: Grip) -> None:
        """Have the values of a grip typed where it is."""
        design, knob = self._document.design, self.canvas.knobs.get(grip.key)
        if design is None or knob is None or self._document.stale:
            return
        at = QPointF(knob.geometry().center())
        if grip.paths == (field_of(grip.paths[0]),):
            type_over(self._document, self.canvas, grip.paths[0], at)
            return
        unit = _DEGREES if unit_of(grip.ways[0]) == "°" else "mm"
        text = format.numbers_text((round(value, 6) for value in grip.values), unit)

        def take(values: tuple[float, ...]) -> str:
            wrong = self._wrong(grip, values)
            if not wrong:
                self._give(grip, design, values)
            return "; ".join(map(reason, wrong[:1]))

        TypeOver(
            self.canvas,
            at,
            name=name_of(grip),
            text=text,
            read=lambda text: format.numbers_from(text, unit, len(grip.ways)),
            take=take,
        )

    def _wrong(self, grip: Grip, values: tuple[float, ...]) -> tuple[Problem, ...]:
        """Return what is wrong with typed values, one by one or with the ramp that they would make."""
        assert self._document.design is not None
        after = settled(grip.put(self._document.design, values))
        for path in grip.paths:
            field = field_of(path)
            info = info_of(field)
            wrong = value_problems(field, info, value_at(after, field)) if info is not None else ()
            if wrong:
                return wrong
        return problems_of(after)


def type_over(document: Document, canvas: Any, path: str, at: QPointF) -> None:
    """Have the value at a path typed over at a place of a canvas."""
    info, design = info_of(path), document.design
    if info is None or design is None:
        return

    def take(value: Any) -> str:
        return "; ".join(map(reason, give(document, path, value)))

    TypeOver(
        canvas,
        at,
        name=label_of(path),
        text=format.text_of(info, value_at(design, path)),
        read=lambda text: format.value_from(info, text),
        take=take,
    )
