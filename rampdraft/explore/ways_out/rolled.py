"""A check of rolling in trials: rolled over no more than it takes to judge it."""

from collections.abc import Iterator
from typing import Final

from rampdraft.checks.demands.rolling import rolling_checks
from rampdraft.checks.demands.rolling_cases import Rolled
from rampdraft.checks.result import Check, Subjects, Unjudged, compose
from rampdraft.evaluation.evaluate import Evaluation
from rampdraft.mechanics.carrier.at_rest import AtRest
from rampdraft.mechanics.results import SitePose
from rampdraft.mechanics.rolling.alike import Alike
from rampdraft.mechanics.rolling.everywhere import roll_everywhere
from rampdraft.mechanics.rolling.results import CannotRoll, Roll
from rampdraft.mechanics.rolling.roll import cannot_roll, roll_anywhere
from rampdraft.mechanics.rolling.sinking import Sunk, roll_sinking
from rampdraft.mechanics.rolling.surfaces import Surfaces
from rampdraft.units import MM
from rampdraft.words.say import say

NEAR_MM: Final = 400.0
"""So far to both sides of the place that a check of rolling tells of its front axle rolls in a trial."""
_SURE: Final = ("mm", "deg")
"""Units of what may be worse between two places that are looked at: clearances, angles left."""


class RolledAgain:
    """A check of rolling in trials: of the one that it tells of near its place; of those who fail it before,
    one after the other.
    """

    def __init__(self, before: Evaluation, like: Check) -> None:
        self._before, self._like = before, like
        self._failing: list[Check] | None = None
        """The next one who fails is looked for from the first."""

    def alone(self, trial: Evaluation, said: Check, *, near: bool) -> Check | None:
        """Return what the check has become of the one that it tells of alone, over the whole way, or near the
        place alone. None where nothing is met there any more.
        """
        assert isinstance(said.found, Rolled)
        between = None
        if near and said.found.part:
            front = said.found.worst.front_mm + shift_mm(self._before, trial, said.found)
            between = front - NEAR_MM, front + NEAR_MM
        rolled = roll_of(trial, said.found, between, sure=said.demand.unit in _SURE)
        if rolled is None:
            why = say("It does not roll there.")
            return compose(said.demand, Unjudged(key="", subject=said.subject, why=why))
        return check_of(trial, rolled, said)

    def beyond(self, trial: Evaluation) -> Check | None:
        """Return the check of the first one who fails it still, of those who fail it before."""
        if self._failing is None:
            self._failing = list(_failing(self._before, self._like))
        for number, one in enumerate(self._failing):
            found = self.alone(trial, one, near=False)
            if found is not None and found.fails:
                self._failing.insert(0, self._failing.pop(number))
                return found
        return None


class AllRolled:
    """The checks of rolling in trials of one design: rolled again is what wheels meet otherwise."""

    def __init__(self, before: Evaluation) -> None:
        self._before, self._alike = before, Alike()

    def checks(self, trial: Evaluation) -> tuple[Check, ...]:
        """Return the checks of rolling of a trial."""
        if not trial.shares(Evaluation.rolling):
            if not self._alike.whole:
                self._rolls(self._before)
                self._alike.whole = True
            trial.keep(Evaluation.rolling, self._rolls(trial))
        return trial.rolled

    def _rolls(self, one: Evaluation) -> tuple[Roll | CannotRoll, ...]:
        given = one.assembly, one.sites, one.straight, one.at_rest, one.props_set
        return roll_everywhere(one.design, *given, alike=self._alike)


def roll_of(
    one: Evaluation, found: Rolled, between_mm: tuple[MM, MM] | None = None, *, sure: bool = True
) -> Roll | None:
    """Return the roll that a check tells of as it is in another design, the whole way or its front axle
    between two places along alone; None where it does not roll there.
    """
    pose = _pose_of(one, found)
    if not pose.reaches or cannot_roll(one.design, found.user) is not None:
        return None
    if found.state == "sinking":
        if not isinstance(one.at_rest, AtRest):
            return None
        sunk = Sunk(one.design, one.assembly, one.straight, one.at_rest, one.props_set)
        return roll_sinking(sunk, found.user, pose, found.facing, between_mm, sure=sure)
    surfaces = Surfaces(one.design, one.assembly, pose)
    return roll_anywhere(
        one.design, found.user, pose, surfaces, found.facing, between_mm=between_mm, sure=sure
    )


def check_of(one: Evaluation, rolled: Roll, like: Check) -> Check | None:
    """Return what a check comes to of one roll; None where that has nothing to judge."""
    checks = rolling_checks(Subjects(one.design, {"rolling": (rolled,)}))
    return next((check for check in checks if check.id == like.id), None)


def shift_mm(before: Evaluation, after: Evaluation, found: Rolled) -> MM:
    """Return how far the place that a check tells of has moved: as the nearest of deck edge, joint and tip
    has.
    """
    was, now = (
        Surfaces(one.design, one.assembly, _pose_of(one, found)).place.marks_mm for one in (before, after)
    )
    number = min(range(len(was)), key=lambda number: abs(found.worst.front_mm - was[number]))
    return now[number] - was[number]


def _pose_of(one: Evaluation, found: Rolled) -> SitePose:
    """Return the pose at a check's site in its state; where the deck sinks on the way, as that begins."""
    pose = one.site_pose(found.site_number, "empty" if found.state == "sinking" else found.state)
    return one.props_set.borne(pose)


def _failing(before: Evaluation, like: Check) -> Iterator[Check]:
    """Yield a check of rolling of each roll that fails it, the worst first."""
    judged = (check_of(before, one, like) for one in before.rolling if isinstance(one, Roll))
    failing = [check for check in judged if check is not None and check.fails]
    yield from sorted(failing, key=lambda one: -round(_over(one), 9))


def _over(check: Check) -> float:
    return abs((check.value or 0.0) - (check.limit or 0.0)) / (check.limit or 1.0)
