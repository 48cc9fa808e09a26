"""Every quantity that a rule may limit, by the name that rule files write."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import Final

from rampdraft.checks.quantities import load, slopes, steps, surface
from rampdraft.checks.result import Check, Finding, Status, Subjects
from rampdraft.checks.values import Unit
from rampdraft.mechanics.results import SitePose
from rampdraft.strength.utilisation import LIMIT_STATES, ULTIMATE, YIELD, Basis


@dataclass(frozen=True, slots=True, kw_only=True)
class SiteQuantity:
    """Measured on each pose at a site."""

    unit: Unit
    measure: Callable[[Subjects, SitePose], tuple[Finding, ...]]


@dataclass(frozen=True, slots=True, kw_only=True)
class RampQuantity:
    """Measured on the ramp as a whole, or part by part."""

    unit: Unit
    measure: Callable[[Subjects], tuple[Finding, ...]]


@dataclass(frozen=True, slots=True, kw_only=True)
class LoadQuantity:
    """Measured on all members together under the load that the rule demands."""

    unit: Unit
    basis: Basis


@dataclass(frozen=True, slots=True, kw_only=True)
class UnknownQuantity:
    """What rules demand and the program cannot judge yet."""

    why: str
    unit: Unit = "none"


Quantity = SiteQuantity | RampQuantity | LoadQuantity | UnknownQuantity

_BUILT: Final = "It is seen on the finished ramp, not in the design."

QUANTITIES: Final[dict[str, Quantity]] = {
    "gradient": SiteQuantity(unit="gradient", measure=slopes.gradient),
    "leaf_gradient": SiteQuantity(unit="gradient", measure=slopes.leaf_gradient),
    "flap_gradient": SiteQuantity(unit="gradient", measure=slopes.flap_gradient),
    "cross_slope": SiteQuantity(unit="gradient", measure=slopes.cross_slope),
    "grade_change": SiteQuantity(unit="gradient", measure=slopes.grade_change),
    "rise": SiteQuantity(unit="mm", measure=slopes.rise),
    "going": SiteQuantity(unit="mm", measure=slopes.going),
    "clear_width": RampQuantity(unit="mm", measure=surface.clear_width),
    "surface_width": RampQuantity(unit="mm", measure=surface.surface_width),
    "opening": RampQuantity(unit="mm", measure=surface.opening),
    "vehicle_gap": RampQuantity(unit="mm", measure=steps.vehicle_gap),
    "step": RampQuantity(unit="mm", measure=steps.step),
    "deck_step": RampQuantity(unit="mm", measure=steps.deck_step),
    "joint_step": RampQuantity(unit="mm", measure=steps.joint_step),
    "toe_step": RampQuantity(unit="mm", measure=steps.toe_step),
    "edge_height": RampQuantity(unit="mm", measure=surface.edge_height),
    "edge_gap": RampQuantity(unit="mm", measure=surface.edge_gap),
    "edge_end": RampQuantity(unit="mm", measure=surface.edge_end),
    "side_stop": RampQuantity(unit="yes/no", measure=surface.side_stop),
    "tracks": RampQuantity(unit="count", measure=surface.tracks),
    "joint_held": RampQuantity(unit="yes/no", measure=load.joint_held),
    "rated_load": RampQuantity(unit="kg", measure=load.rated_load),
    "strength": LoadQuantity(unit="share", basis=LIMIT_STATES),
    "overall_factor": LoadQuantity(unit="factor", basis=ULTIMATE),
    "proof_load": LoadQuantity(unit="share", basis=YIELD),
    "deploying_force": RampQuantity(unit="N", measure=load.deploying_force),
    "landing": UnknownQuantity(
        why="The design holds no landings: measure the level ground before and after the ramp."
    ),
    "marking": UnknownQuantity(why=_BUILT),
    "edge_stripe": UnknownQuantity(why=f"Paint is not in the design. {_BUILT}"),
    "slip_resistance": UnknownQuantity(why=f"The grip of the surface is not in the design. {_BUILT}"),
}
"""By name."""


def left_open(checks: Iterable[Check]) -> tuple[Check, ...]:
    """Return what cannot be judged though the design should tell: strength, fold, slopes; not what is seen on
    the finished ramp alone, nor what the makers of motors know.
    """
    return tuple(
        check
        for check in checks
        if check.status is Status.UNJUDGED
        and check.about.kind != "own/roll-motor"
        and not isinstance(QUANTITIES.get(check.about.kind), UnknownQuantity)
    )
