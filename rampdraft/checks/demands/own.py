"""What the program itself demands of a ramp that works, whatever rules are chosen; and figures worth
knowing.
"""

from collections.abc import Iterator

from rampdraft.checks.demands.folding import ends_stowed
from rampdraft.checks.demands.joint import joint_checks
from rampdraft.checks.demands.placing import placing_checks, stowed_checks
from rampdraft.checks.demands.users import user_checks
from rampdraft.checks.result import Check
from rampdraft.checks.subjects import Subjects


def own_checks(subjects: Subjects) -> Iterator[Check]:
    """Yield the program's own checks."""
    yield from ends_stowed(subjects)
    yield from joint_checks(subjects)
    yield from stowed_checks(subjects)
    yield from placing_checks(subjects)
    yield from user_checks(subjects)
