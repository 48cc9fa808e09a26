"""All checks of a design, worst first."""

from collections.abc import Iterable
from typing import Final

from rampdraft.checks.result import Check, Status

_ORDER: Final = {Status.EXCEEDS: 0, Status.CLOSE: 2, Status.UNJUDGED: 3, Status.WITHIN: 4}
_WARNING_EXCEEDED: Final = 1


def worst_first(checks: Iterable[Check]) -> tuple[Check, ...]:
    """Return checks, worst first: exceeded, exceeded but a warning only, close, cannot be judged, within.

    Among equals the one that uses most of its limit comes first.
    """
    return tuple(sorted(checks, key=_badness))


def _badness(check: Check) -> tuple[int, float]:
    warned = check.status is Status.EXCEEDS and check.warning_only
    return (_WARNING_EXCEEDED if warned else _ORDER[check.status], -round(check.ratio or 0.0, 9))
