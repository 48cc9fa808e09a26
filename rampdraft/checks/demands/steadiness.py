"""Whether the carrier stands steadily on its supports."""

from collections.abc import Iterator

from rampdraft.checks.demands.carrier.sharing import rocks, share_left, twist
from rampdraft.checks.demands.carrier.standing import off_ground, stands
from rampdraft.checks.demands.carrier.tipping import tips
from rampdraft.checks.demands.carrier.turning import turned
from rampdraft.checks.result import Check
from rampdraft.checks.subjects import Subjects
from rampdraft.mechanics.carrier.results import CannotStand


def steadiness_checks(subjects: Subjects) -> Iterator[Check]:
    """Yield the checks of the carrier on its supports; none where no supports are described."""
    design, standing = subjects.design, subjects.standing
    if standing is None:
        return
    yield stands(standing)
    if isinstance(standing, CannotStand):
        return
    yield tips(design, standing)
    yield share_left(design, standing, standing.worst_climb)
    yield turned(design, standing, "lean")
    yield turned(design, standing, "nod")
    if standing.twisted:
        yield twist(design, standing)
        yield rocks(design, standing)
    yield off_ground(design, standing)
