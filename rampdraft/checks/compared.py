"""Two sets of checks side by side: what came out otherwise, worst first."""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final, Literal

from rampdraft.checks.result import Check, Result

Turn = Literal["worse", "better", "gone", "new", "other"]
"""Which way a check went; `other` where neither is nearer to its limit."""

_RANK: Final = {result: rank for rank, result in enumerate(Result)}
_ORDER: Final[tuple[Turn, ...]] = ("worse", "new", "gone", "better", "other")


@dataclass(frozen=True, slots=True, kw_only=True)
class Changed:
    """One check that came out otherwise."""

    before: Check | None
    after: Check | None
    turn: Turn

    @property
    def check(self) -> Check:
        """Return the check as it is now, or as it was where it is no more."""
        found = self.after or self.before
        assert found is not None
        return found

    @property
    def verdict_changed(self) -> bool:
        """Return whether it has another result than before."""
        results = [one.result if one is not None else None for one in (self.before, self.after)]
        return results[0] is not results[1]


def changed_checks(before: Iterable[Check], after: Iterable[Check]) -> tuple[Changed, ...]:
    """Return the checks of two ramps that show another value or result: those with another result first, of
    them what is worse; figures that went nearer to their limit before those that went away from it.
    """
    old, new = {one.id: one for one in before}, {one.id: one for one in after}
    found = [
        Changed(before=old.get(id), after=new.get(id), turn=_turn(old.get(id), new.get(id)))
        for id in dict.fromkeys((*new, *old))
        if _shown(old.get(id)) != _shown(new.get(id))
    ]
    return tuple(sorted(found, key=_place))


def _shown(check: Check | None) -> tuple[str, str, str] | None:
    return None if check is None else (check.value_text, check.limit_words, check.result)


def _turn(before: Check | None, after: Check | None) -> Turn:
    if before is None:
        return "new"
    if after is None:
        return "gone"
    if before.result is not after.result:
        return "worse" if _RANK[after.result] < _RANK[before.result] else "better"
    if before.ratio is None or after.ratio is None or before.ratio == after.ratio:
        return "other"
    return "worse" if after.ratio > before.ratio else "better"


def _place(one: Changed) -> tuple[bool, int, int, float]:
    ratio = one.check.ratio
    return (
        not one.verdict_changed,
        _ORDER.index(one.turn),
        _RANK[one.check.result],
        -(ratio if ratio is not None else 0.0),
    )
