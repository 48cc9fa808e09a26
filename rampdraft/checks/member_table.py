"""Both verdicts on every family of members side by side, for the tables on screen, on paper and in files."""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final

from rampdraft.checks.result import Check, Status
from rampdraft.checks.under_load import Verdict, name, verdicts_on
from rampdraft.mechanics.loading.results import Carried
from rampdraft.model.design import Design
from rampdraft.strength.uses import MemberUse, UnknownUse

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


def member_rows(design: Design, carried: Carried, checks: Iterable[Check]) -> tuple[MemberRow, ...]:
    """Return the families of members that are among the checks, in their order: worst first."""
    found = {_ID + verdict.use.key: verdict for verdict in verdicts_on(design, carried)}
    return tuple(_row(found[check.id], check.status) for check in checks if check.id in found)


def _row(verdict: Verdict, status: Status) -> MemberRow:
    use = verdict.use
    return MemberRow(
        key=use.key,
        name=name(use),
        share=use.ratio if isinstance(use, MemberUse) else None,
        factor=verdict.factor,
        status=status,
        load=use.load if isinstance(use, MemberUse) else "",
        member=use.member,
        why=use.why if isinstance(use, UnknownUse) else "",
    )
