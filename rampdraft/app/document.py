"""The one mutable object: the design in hand, what follows from it, its file and its undo stack."""

import logging
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any, Final

from PySide6.QtCore import QObject, QTimer, Signal
from PySide6.QtGui import QUndoCommand, QUndoStack

from rampdraft.app.differences import edit_words
from rampdraft.errors import DesignError, Problem, RampdraftError
from rampdraft.evaluation.evaluate import Evaluation, evaluate
from rampdraft.geometry.spacing.settled import settled
from rampdraft.model.design import Design
from rampdraft.model.fields.paths import label_of, value_at, with_value
from rampdraft.model.spacing import fixed, follows
from rampdraft.words.say import say

REST_MS: Final = 40
"""A hand that has not moved for so long since the last picture rests: then all is worked out, not only what
is drawn.
"""


class Document(QObject):
    """A design with its last good evaluation.

    `design` is what the form shows, good or bad. `evaluation` is the last one that could be made: while
    `stale` is true it belongs to an earlier design and is shown greyed. Its stages are made when asked for:
    on the UI thread none are asked for but those that a frame has time for. `judged` is the last one whose
    stages all stand, `whole` whether that is the one in hand: what shows checks, or else waits for all, is
    greyed until then. Every change passes the undo stack.
    """

    changed = Signal()
    """The design, its problems or its evaluation are other than before."""
    tried = Signal()
    """A design that is not decided on is to be drawn: something is being dragged. What else follows from it
    comes with `changed`, once the hand rests.
    """
    completed = Signal()
    """Another evaluation is complete: `judged`."""
    opened = Signal()
    """Another design altogether: views fit, the form begins at the top."""
    renamed = Signal()
    """The path is another one."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.design: Design | None = None
        self.evaluation: Evaluation | None = None
        self.judged: Evaluation | None = None
        self.made = 0
        """Counts the evaluations made: with another number there is another one."""
        self.path: Path | None = None
        self.folder: Path | None = None
        self.text = ""
        """Of the file, as it was read or saved last: what a person wrote into it outlives a save."""
        self.undo_stack = QUndoStack(self)
        self._kept: Design | None = None
        self._rest = QTimer(self, singleShot=True, interval=REST_MS)
        self._rest.timeout.connect(self._catch_up)
        self._drawn = QTimer(self, singleShot=True, interval=0)
        self._drawn.timeout.connect(self._rest.start)
        self._problems: tuple[Problem, ...] = ()
        self.unread: dict[str, Problem] = {}
        """Texts in the form that are no values, by the path of their field."""

    @property
    def problems(self) -> tuple[Problem, ...]:
        """Return what is wrong with the design, and with texts in the form that are no values."""
        return (*self._problems, *self.unread.values())

    @property
    def stale(self) -> bool:
        """Return whether the evaluation belongs to something other than what the form shows."""
        return bool(self.problems) or self.evaluation is None or self.evaluation.design != self.design

    @property
    def whole(self) -> bool:
        """Return whether all that follows from what the form shows is worked out."""
        return not self.stale and self.judged is self.evaluation

    @property
    def modified(self) -> bool:
        """Return whether something would be lost by closing, be it half typed."""
        return not self.undo_stack.isClean() or bool(self.unread)

    @property
    def decided(self) -> Design | None:
        """Return the design in hand without what is only being tried by dragging."""
        return self._kept or self.design

    @property
    def title(self) -> str:
        """Return the name to show for the document."""
        if self.path is not None:
            return self.path.name
        return self.design.about.name if self.design is not None else ""

    def open(self, design: Design, path: Path | None, folder: Path | None = None, *, text: str = "") -> None:
        """Take another design into hand.

        `path` is its file, or None for one that was never saved; `folder` is where the rule files lie that it
        names; `text` is what it was read from.
        """
        self.undo_stack.clear()
        self.evaluation = self.judged = None
        self.path, self.folder, self.text = path, folder, text
        self.unread.clear()
        self._put(design, again=True)
        self.opened.emit()
        self.renamed.emit()

    def saved(self, path: Path, text: str) -> None:
        """Note that the design is now in the file `path`, which holds `text`."""
        moved = path.parent != self.folder
        self.path, self.folder, self.text = path, path.parent, text
        self.undo_stack.setClean()
        self.renamed.emit()
        if moved and self.design is not None:
            self._put(self.design, again=True)  # own rule files are named relative to the design's folder

    def judge(self, evaluation: Evaluation) -> None:
        """Take in that an evaluation is complete: the one in hand, or one that came before it."""
        self.judged = evaluation
        self.completed.emit()

    def fail(self, fault: Exception) -> None:
        """Take in that the evaluation in hand cannot be completed: the last good one stays, greyed."""
        self._problems = _problems_of(fault)
        self.evaluation = self.judged
        self.made += 1
        self.changed.emit()

    def give_up(self) -> None:
        """Let nothing count as unsaved any more."""
        self.unread.clear()
        self.undo_stack.setClean()

    def let_go(self, why_not: Callable[[str, str], str]) -> None:
        """Tell nobody of anything any more, and have edits and refused texts told as is spoken now: another
        desk takes it over. `why_not` says why a text is no value for a path; nothing where it is one.
        """
        for signal in (self.changed, self.tried, self.completed, self.opened, self.renamed):
            signal.disconnect()
        self.undo_stack.cleanChanged.disconnect()
        for at in range(self.undo_stack.count()):
            command = self.undo_stack.command(at)
            if isinstance(command, _Edit | _Refusal):
                command.tell_anew(why_not)
        self.unread = {path: _told_anew(problem, why_not) for path, problem in self.unread.items()}

    def show_anew(self) -> None:
        """Work everything out afresh, and tell whoever has taken it over."""
        self.evaluation = self.judged = None
        if self.design is not None:
            self._put(self.design, again=True)
            self.opened.emit()
            self.renamed.emit()

    def work_out_again(self) -> None:
        """Work out afresh what follows from the design in hand: a file that it is judged by has changed."""
        if self.design is not None:
            self._put(self.design, kept=self._kept, again=True)

    def edit(self, path: str, value: Any, what: str, *, old: str = "", new: str = "", run: str = "") -> None:
        """Change one value as an undoable edit, named `what old → new`; one that follows is given from then
        on. Edits of the same `run` are undone together.
        """
        if self.design is None:
            return
        self._take_back_refusal(path)
        self.unread.pop(path, None)
        if value_at(self.design, path) == value:
            self._put(self.design)
            return
        design = fixed(self.design, path) if follows(self.design, path) else self.design
        self.replace(with_value(design, path, value), what, old=old, new=new, run=run)

    def replace(self, after: Design, what: str, *, old: str = "", new: str = "", run: str = "") -> None:
        """Put another design in the place of the one in hand as one undoable edit."""
        before, after = self._kept or self.design, settled(after)
        if before is not None and after != before:
            self.undo_stack.push(_Edit(self, before, after, what=what, old=old, new=new, run=run))
        elif before is not None:
            self._put(before)

    def preview(self, design: Design) -> tuple[Problem, ...]:
        """Show a design that is not decided on yet, while something is dragged: `replace` or `give_back` ends
        it. Return why it can't be; then all stays as it is.

        Only what is asked for is worked out while it moves, from what stood before all of it.
        """
        design = settled(design)
        try:
            evaluation = evaluate(design, self.folder, self.judged or self.evaluation)
        except RampdraftError as wrong:
            return _problems_of(wrong)
        self._kept = self._kept or self.design
        self.design, self.evaluation = design, evaluation
        self.made += 1
        self._rest.stop()
        self._drawn.start()  # once what has been tried is painted, however long that takes
        self.tried.emit()
        return ()

    def _catch_up(self) -> None:
        """Have all worked out of what is being tried: the hand rests."""
        if self.design is not None:
            self._put(self.design, kept=self._kept)

    @property
    def moving(self) -> bool:
        """Return whether something is being dragged, and the hand does not rest."""
        return self._drawn.isActive() or self._rest.isActive()

    @property
    def previewing(self) -> bool:
        """Return whether the design in hand is not decided on yet."""
        return self._kept is not None

    def give_back(self) -> None:
        """Go back to what was in hand before the preview."""
        if self._kept is not None:
            self._put(self._kept)

    def refuse(self, path: str, text: str, rule: str) -> None:
        """Note, as an edit that can be undone, that the form holds a text that is no value; the design keeps
        the value it has.
        """
        problem = Problem(key=path, value=text, rule=rule)
        if self.unread.get(path) != problem:
            self.undo_stack.push(_Refusal(self, path, self.unread.get(path), problem))

    def restore(self, path: str) -> None:
        """Drop a text that is no value; the field shows the design's value again."""
        if not self._take_back_refusal(path) and self.unread.pop(path, None) is not None:
            self.changed.emit()

    def _take_back_refusal(self, path: str) -> bool:
        """Undo the last edit if it is a text for this value that is none; return whether it was."""
        stack = self.undo_stack
        last = stack.command(stack.index() - 1) if stack.index() else None
        if not (isinstance(last, _Refusal) and last.path == path and path in self.unread):
            return False
        stack.undo()
        return True

    def _show_unread(self, path: str, problem: Problem | None) -> None:
        if problem is None:
            self.unread.pop(path, None)
        else:
            self.unread[path] = problem
        self.changed.emit()

    def _put(self, design: Design, *, kept: Design | None = None, again: bool = False) -> None:
        # A refused text goes once the value it stood for has changed, and with the row it stood in.
        self.unread = {
            path: problem for path, problem in self.unread.items() if _same(path, self.design, design)
        }
        for timer in (self._drawn, self._rest):
            timer.stop()
        design = settled(design)
        if self.design is not None and design == self.design:
            design = self.design  # what was tried may be decided on: it is worked out already
        same = design is self.design and not self.stale
        self.design, self._kept = design, kept
        try:
            if again or not same:
                self._follow(design, afresh=again)
        finally:
            self.changed.emit()

    def _follow(self, design: Design, *, afresh: bool) -> None:
        self._problems = ()
        try:
            before = None if afresh else self.evaluation
            if before is not None:
                before.part()
            self.evaluation = evaluate(design, self.folder, before)
            self.made += 1
        except Exception as wrong:
            self._problems = _problems_of(wrong)


def _problems_of(wrong: Exception) -> tuple[Problem, ...]:
    """Return what is wrong, for the form; a fault of the program is logged too."""
    if isinstance(wrong, RampdraftError):
        return wrong.problems or (Problem(key="", value="", rule=str(wrong)),)
    logging.getLogger(__name__).error("the design could not be worked out", exc_info=wrong)
    rule = say(
        "could not be worked out: a fault in the program ({kind}: {wrong})",
        kind=type(wrong).__name__,
        wrong=wrong,
    )
    return (Problem(key="", value="", rule=rule, way_out=say("undo the last change")),)


def _told_anew(problem: Problem, why_not: Callable[[str, str], str]) -> Problem:
    """Return why a text is no value, as is spoken now; it may be one in the unit that is shown now."""
    rule = why_not(problem.key, problem.value) or say("was typed while lengths were shown in another unit")
    return replace(problem, rule=rule)


def _same(path: str, before: Design | None, after: Design) -> bool:
    try:
        return before is not None and value_at(before, path) == value_at(after, path)
    except DesignError:
        return False


class _Edit(QUndoCommand):
    def __init__(
        self, document: Document, before: Design, after: Design, *, what: str, old: str, new: str, run: str
    ) -> None:
        super().__init__(f"{what} {old} → {new}" if old or new else what)
        self._document, self._before, self._after = document, before, after
        self._what, self._old, self._new, self._run = what, old, new, run

    def redo(self) -> None:
        self._document._put(self._after)

    def undo(self) -> None:
        self._document._put(self._before)

    def tell_anew(self, _: Callable[[str, str], str]) -> None:
        """Name it as is spoken now, by what it changes."""
        self._what, self._old, self._new = edit_words(self._before, self._after), "", ""
        self._run = ""  # no later one is put to it, which would be told otherwise
        self.setText(self._what)

    def id(self) -> int:
        return 1 if self._run else -1

    def mergeWith(self, other: QUndoCommand) -> bool:
        if not isinstance(other, _Edit) or other._run != self._run:
            return False
        self._after, self._new = other._after, other._new
        self.setText(f"{self._what} {self._old} → {self._new}")
        self.setObsolete(self._after == self._before)
        return True


class _Refusal(QUndoCommand):
    """A text in the form that is no value."""

    def __init__(self, document: Document, path: str, before: Problem | None, after: Problem) -> None:
        super().__init__(_refused(after))
        self.path = path
        self._document, self._before, self._after = document, before, after

    def redo(self) -> None:
        self._document._show_unread(self.path, self._after)

    def undo(self) -> None:
        self._document._show_unread(self.path, self._before)

    def tell_anew(self, why_not: Callable[[str, str], str]) -> None:
        """Name it as is spoken now."""
        self._after = _told_anew(self._after, why_not)
        self._before = _told_anew(self._before, why_not) if self._before is not None else None
        self.setText(_refused(self._after))

    def id(self) -> int:
        return 2

    def mergeWith(self, other: QUndoCommand) -> bool:
        if not isinstance(other, _Refusal) or other.path != self.path:
            return False
        self._after = other._after
        self.setText(other.text())
        return True


def _refused(problem: Problem) -> str:
    return f"{label_of(problem.key)} “{problem.value}”"
