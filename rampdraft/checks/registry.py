"""All checks of a design, worst first."""

from collections.abc import Iterable
from typing import Final

from rampdraft.checks.quantities.table import QUANTITIES, UnknownQuantity
from rampdraft.checks.result import Check, Status

_ORDER: Final = {Status.EXCEEDS: 0, Status.CLOSE: 2, Status.UNJUDGED: 3, Status.WITHIN: 4}
_WARNING_EXCEEDED: Final = 1


def worst_first(checks: Iterable[Check]) -> tuple[Check, ...]:
    """Return checks, worst first: exceeded, exceeded but a warning only, close, cannot be judged, within.

    Among equals the one that uses most of its limit comes first.
    """
    return tuple(sorted(checks, key=_badness))


def left_open(checks: Iterable[Check]) -> tuple[Check, ...]:
    """Return what cannot be judged though the design should tell: strength, fold, slopes; not what is seen on
    the finished ramp alone.
    """
    return tuple(
        check
        for check in checks
        if check.status is Status.UNJUDGED
        and not isinstance(QUANTITIES.get(check.about.kind), UnknownQuantity)
    )


def _badness(check: Check) -> tuple[int, float]:
    warned = check.status is Status.EXCEEDS and check.warning_only
    return (_WARNING_EXCEEDED if warned else _ORDER[check.status], -round(check.ratio or 0.0, 9))
