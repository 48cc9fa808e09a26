"""What a value moves: the checks for which it is tried as a way out."""

from rampdraft.checks.result import Check
from rampdraft.explore.ways_out.candidates import candidates_of
from rampdraft.model.design import Design
from rampdraft.model.fields.paths import paths_of


def moved_by(path: str, design: Design, checks: tuple[Check, ...]) -> tuple[Check, ...]:
    """Return the checks that the value at a path is tried for where they fail, one of each title, what uses
    most of its limit first.
    """
    mine = sorted(
        (check for check in checks if _tried(path, check, design)), key=lambda check: -(check.ratio or 0.0)
    )
    first: dict[str, Check] = {}
    for check in mine:
        first.setdefault(check.title, check)
    return tuple(first.values())


def _tried(path: str, check: Check, design: Design) -> bool:
    return any(path in paths_of(design, one.lstrip("+-")) for one in candidates_of(check, design))
