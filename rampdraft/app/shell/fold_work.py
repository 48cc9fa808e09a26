"""What the Fold menu does: find a way to fold, free a blocked one, size the spring, let slats fall into
gaps.
"""

from collections.abc import Callable
from dataclasses import replace
from functools import partial
from typing import TYPE_CHECKING, Any, Final

from PySide6.QtCore import QObject

from rampdraft.app.form import format
from rampdraft.errors import RampdraftError
from rampdraft.evaluation.evaluate import Evaluation
from rampdraft.explore.apart import AT_LENGTH
from rampdraft.mechanics.folding.folding import stages_of
from rampdraft.mechanics.folding.way_points import with_stages
from rampdraft.mechanics.handling.words import hands_words
from rampdraft.model.design import Design
from rampdraft.model.fields.paths import label_of, with_value
from rampdraft.progress import Progress
from rampdraft.rounding import greatest
from rampdraft.words.figures import exact, fixed
from rampdraft.words.say import counted, say

if TYPE_CHECKING:
    from rampdraft.app.shell.desk import Desk
    from rampdraft.explore.folds import Freed, Interleaved, SiteFold, Spring
    from rampdraft.mechanics.folding.search import Blocked, FoundPath

LIMIT_N: Final = 250.0
"""Force to deploy a vehicle's ramp by hand, French rule for vehicles, 2-6.1."""

SLIT_MM: Final = 5.0


class FoldWork(QObject):
    """One question at a time; its answer stands in the notice over the views, and is outdated by the next
    edit.
    """

    def __init__(self, desk: "Desk") -> None:
        super().__init__(desk)
        self._desk, self._document, self._notice = desk, desk.document, desk.notice
        self._then: Callable[[Evaluation, Any], None] = self._found
        """Says how the question under way came out."""
        self._line = desk.answers.line("fold", AT_LENGTH)
        self._line.progressed.connect(self._notice.progress)
        self._line.came.connect(self._answer)
        self._line.failed.connect(self._failed)
        self._limit = LIMIT_N
        self._answered: Design | None = None
        """What the answer shown is true of."""
        self._told = ""
        """The words of the answer: others may stand in the notice since."""
        self._document.changed.connect(self._outdate)
        self._document.opened.connect(self._forget)

    def find(self) -> None:
        """Look for a way to fold."""
        self._start(say("Looking for a way to fold with the least effort…"), self._found, find_a_fold)

    def find_at_sites(self) -> None:
        """Look for a way to fold from where the ramp stands at each site."""
        self._start(say("Looking for a way to fold at each site…"), self._tried, find_at_each_site)

    def use_usual(self) -> None:
        """Clear the design's own stages."""
        design = self._document.design
        if design is not None and design.fold_stages:
            self._document.replace(with_stages(design, ()), "Use the usual fold sequence")
            self._tell(say("The fold is the usual sequence again."))
        else:
            self._tell(say("The fold is the usual sequence already."))

    def size_spring(self) -> None:
        """Ask for the limit and size the assist spring."""
        evaluation = self._true_one()
        if evaluation is None:
            return
        if evaluation.design.assist.kind == "none":
            self._desk.form.reveal("assist.kind")
            self._tell(
                say(
                    "There is no spring to size yet. Choose a torsion or a gas spring under"
                    " Assist spring, then ask again."
                )
            )
            return
        words = say(
            "Greatest hand force along the fold, N. 250 N is the French rule's limit for"
            " deploying a vehicle's ramp."
        )
        limit = self._desk.dialogs.number(say("Size the spring"), words, LIMIT_N, 20.0, 1000.0)
        if limit is not None:
            self._limit = limit
            self._start(say("Sizing the spring…"), self._sized, size_a_spring, limit)

    def interleave(self) -> None:
        """Ask for the gap and let the slats of one leaf fall into the gaps of the other."""
        if self._true_one() is None:
            return
        words = say("Gap between slats that have fallen into each other's gaps, mm.")
        gap = self._desk.dialogs.number(say("Let slats fall into gaps"), words, SLIT_MM, 0.5, 50.0)
        if gap is not None:
            words = say("Looking for a pitch at which the slats pass each other…")
            self._start(words, self._slid, let_slats_fall, gap)

    def show_swept(self, shown: bool) -> None:
        """Leave the room that the fold goes through on the side view, and say how much that is."""
        self._desk.side.show_swept(shown)
        evaluation = self._document.evaluation
        if shown and evaluation is not None and not self._document.stale:
            self._desk.views.setCurrentWidget(self._desk.side)
            room = evaluation.fold.envelope
            front, above = (fixed(value, 0, "mm") for value in (room.in_front_mm, room.above_deck_mm))
            self._desk.say(
                say(
                    "The fold needs {front} out from the deck edge and {above} above the deck.",
                    front=front,
                    above=above,
                )
            )

    def _true_one(self) -> Evaluation | None:
        self._desk.settle()
        if self._document.stale or self._document.evaluation is None:
            self._tell(
                say(
                    "Correct the values marked on the left first: the answer must be true of the"
                    " ramp in hand."
                )
            )
            return None
        return self._document.evaluation

    def _start(
        self,
        words: str,
        then: Callable[[Evaluation, Any], None],
        work: Callable[..., Any],
        *given: float,
    ) -> None:
        evaluation = self._true_one()
        if evaluation is not None:
            self._then = then
            self._notice.work(words, self._call_off)
            self._line.ask(evaluation, work, evaluation, *given)

    def _answer(self, evaluation: Evaluation, answer: Any) -> None:
        self._then(evaluation, answer)

    def _call_off(self) -> None:
        self._line.call_off()
        self._desk.say(say("Called off."))

    def _tell(self, words: str, *offers: tuple[str, str, Callable[[], object]]) -> None:
        self._answered, self._told = self._document.design, words
        self._notice.tell(words, offers)

    def _failed(self, evaluation: Evaluation, fault: Exception) -> None:
        why = say(
            "This could not be worked out: a fault in the program ({kind}: {fault}).",
            kind=type(fault).__name__,
            fault=fault,
        )
        self._tell(str(fault) if isinstance(fault, RampdraftError) else why)

    def _outdate(self) -> None:
        """The newest edit wins: work for an earlier ramp is dropped, an answer about one is marked."""
        design = self._document.design
        if self._line.asked is not None and self._line.asked.design != design:
            self._line.call_off()
            self._tell(
                say("The ramp has changed meanwhile, so the work for the one before was dropped. Ask again.")
            )
        elif self._answered not in (None, design) and self._notice.words == self._told:
            self._notice.outdate(say("This was about the ramp before the last change. Ask again."))

    def _forget(self) -> None:
        self._line.call_off()
        self._notice.dismiss()

    # How it came out

    def _found(self, evaluation: Evaluation, found: "FoundPath | Blocked") -> None:
        from rampdraft.mechanics.folding.search import FoundPath

        if isinstance(found, FoundPath):
            design = with_stages(evaluation.design, stages_of(found.path))
            self._document.replace(design, say("Find a way to fold"))
            self._tell(
                say(
                    "A way to fold in {count}. {outcome} Undo takes it back.",
                    count=counted(len(found.path.stages), "{count} stage", "{count} stages"),
                    outcome=self._outcome(),
                )
            )
            self._desk.views.setCurrentWidget(self._desk.side)
            self._desk.side.show_share(0.0)
            return
        self._tell(found.words, ("", say("What would free it?"), self._ask_free))
        self._desk.views.setCurrentWidget(self._desk.side)
        self._desk.side.show_blocked(found)

    def _tried(self, evaluation: Evaluation, folds: "tuple[SiteFold, ...]") -> None:
        from rampdraft.mechanics.folding.search import FoundPath

        lines = [
            (
                say(
                    "{site}: {count}, {clearance} of clearance or more all the way.",
                    site=fold.site,
                    count=counted(len(fold.found.path.stages), "{count} stage", "{count} stages"),
                    clearance=fixed(fold.found.clearance.tightest.certified_mm, 1, "mm"),
                )
                if isinstance(fold.found, FoundPath)
                else f"{fold.site}: {fold.found.words}"
            )
            for fold in folds
        ]
        self._tell("\n".join((say("Ways to fold, deck empty:"), *lines)))

    def _outcome(self) -> str:
        """Return what the fold in hand keeps and asks, as it was worked out anew."""
        evaluation = self._document.evaluation
        if evaluation is None or self._document.stale:
            return say("It cannot be worked out.")
        tightest = evaluation.fold.clearance.tightest
        least = say(
            "{clearance} of clearance or more all the way",
            clearance=fixed(tightest.certified_mm, 1, "mm"),
        )
        if tightest.certified_mm < evaluation.design.fold.clearance_mm:
            least = say(
                "{clearance} of clearance at the tightest place, less than demanded",
                clearance=fixed(tightest.clearance_mm, 1, "mm"),
            )
        hand = say(
            "hands need {force}", force=hands_words(greatest(evaluation.hands, lambda stage: stage.share))
        )
        return f"{least[0].upper()}{least[1:]}; {hand}."

    def _ask_free(self) -> None:
        self._start(say("Trying each dimension that may free the fold…"), self._freed, try_what_frees)

    def _freed(self, evaluation: Evaluation, freed: "tuple[Freed, ...]") -> None:
        if not freed:
            self._tell(
                say(
                    "No single dimension frees this fold. Two of them together may: the closing,"
                    " the joint, the upstands."
                )
            )
            return
        offers = tuple((_change(one), say("Apply"), partial(self.apply, evaluation, one)) for one in freed)
        self._tell(say("Each of these alone frees the fold, the least change first:"), *offers)

    def apply(self, evaluation: Evaluation, one: "Freed") -> None:
        """Change the dimension and take the way found with it, as one edit."""
        design = with_stages(with_value(evaluation.design, one.path, one.after), stages_of(one.found.path))
        before, after = (format.value_words(one.path, value) for value in (one.before, one.after))
        self._document.replace(
            design, say("Free the fold: {name}", name=label_of(one.path)), old=before, new=after
        )
        self._tell(
            say("{change}. {outcome} Undo takes it back.", change=_change(one), outcome=self._outcome())
        )

    def _sized(self, evaluation: Evaluation, spring: "Spring | None") -> None:
        limit = exact(self._limit, "N")
        if spring is None:
            self._tell(
                say(
                    "No strength of this spring brings the hand force under {limit} without"
                    " pushing hard against the hand elsewhere. Fix it elsewhere, choose the other"
                    " kind, or take hold at another place.",
                    limit=limit,
                )
            )
            return
        self._document.replace(replace(evaluation.design, assist=spring.assist), say("Size the spring"))
        torsion = spring.assist.kind == "torsion"
        size, unit = (spring.assist.rate_nmm_deg, "N mm/°") if torsion else (spring.assist.force_n, "N")
        number = spring.assist.count
        held = say(" On the way it is held back with up to {force}.", force=fixed(-spring.least_n, 0, "N"))
        self._tell(
            say(
                "{springs} of {size} each: the hands need {peak} at most, at one place.{held} Undo takes"
                " it back."
                if number > 1
                else "{springs} of {size}: the hands need {peak} at most, at one place.{held} Undo takes it"
                " back.",
                springs=counted(number, "{count} spring", "{count} springs"),
                size=exact(size, unit),
                peak=fixed(spring.peak_n, 0, "N"),
                held=held if spring.least_n < 0 else "",
            )
        )

    def _slid(self, evaluation: Evaluation, result: "Interleaved | str") -> None:
        if isinstance(result, str):
            self._tell(result)
            return
        self._document.replace(result.design, say("Let slats fall into gaps"))
        pitch, first = fixed(result.pitch_mm, 1, "mm"), fixed(result.outer_first_mm, 1, "mm")
        self._tell(
            say(
                "Slat pitch {pitch} on both leaves, the outer leaf's first slat at {first}: {clearance}"
                " between slats all the way. The running surface is open {opening} between slats. Undo"
                " takes it back.",
                pitch=pitch,
                first=first,
                clearance=fixed(result.clearance_mm, 1, "mm"),
                opening=fixed(result.opening_mm, 1, "mm"),
            )
        )


# The questions, each of an evaluation


def find_a_fold(one: Evaluation, progress: Progress) -> "FoundPath | Blocked":
    """Return the way to fold with the least effort, or what blocks it."""
    from rampdraft.mechanics.folding.search import find_fold

    progress(0.0, "")
    return find_fold(one.design, one.assembly, one.first_site, one.deployed)


def find_at_each_site(one: Evaluation, progress: Progress) -> "tuple[SiteFold, ...]":
    """Return the way to fold from where the ramp stands at each site."""
    from rampdraft.explore.folds import folds_at_sites

    return folds_at_sites(one, progress)


def try_what_frees(one: Evaluation, progress: Progress) -> "tuple[Freed, ...]":
    """Return the dimensions that alone free the fold."""
    from rampdraft.explore.folds import freeing_dimensions

    return freeing_dimensions(one, progress)


def size_a_spring(one: Evaluation, limit_n: float, progress: Progress) -> "Spring | None":
    """Return the weakest spring with which the hand stays under a limit."""
    from rampdraft.explore.folds import size_spring

    progress(0.0, "")
    return size_spring(one, limit_n)


def let_slats_fall(one: Evaluation, gap_mm: float, progress: Progress) -> "Interleaved | str":
    """Return slats that fall into gaps, or why none do."""
    from rampdraft.explore.folds import interleave

    progress(0.0, "")
    return interleave(one, gap_mm)


def _change(one: "Freed") -> str:
    return format.change_words(one.path, one.before, one.after)
