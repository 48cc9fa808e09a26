"""Both verdicts on every family of members side by side, for the tables on screen, on paper and in files."""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final

from rampdraft.checks.result import Check, Status
from rampdraft.strength.members import Verdict
from rampdraft.strength.utilisation import Utilisation

_ID: Final = "own/strength/"


@dataclass(frozen=True, slots=True, kw_only=True)
class MemberRow:
    """One family of members."""

    key: str
    """As in the check's id: `own/strength/inner-rails`."""
    name: str
    """`Pins (joint)`."""
    share: float | None
    """Of the strength, by limit states; None where it cannot be judged."""
    factor: float | None
    """Overall factor on ultimate strength; None where it cannot be judged."""
    status: Status
    """By limit states."""
    load: str
    """Words of the load that governs; empty where none does."""
    member: str
    """Key of the member it speaks of; empty for none."""
    why: str
    """Why it cannot be judged."""


def member_rows(verdicts: Iterable[Verdict], checks: Iterable[Check]) -> tuple[MemberRow, ...]:
    """Return the families of members that are among the checks, in their order: worst first."""
    found = {_ID + one.utilisation.family.key: one for one in verdicts}
    return tuple(_row(found[check.id], check) for check in checks if check.id in found)


def _row(verdict: Verdict, check: Check) -> MemberRow:
    found = verdict.utilisation
    known = isinstance(found, Utilisation)
    return MemberRow(
        key=found.family.key,
        name=found.family.name,
        share=found.ratio if known else None,
        factor=verdict.factor,
        status=check.status,
        load=found.load if known else "",
        member=found.member,
        why="" if known else found.outcome.why,
    )
