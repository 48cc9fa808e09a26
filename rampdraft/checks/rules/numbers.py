"""Plain numbers that decide which limit applies: a table's left column, or the condition of a limit."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

from rampdraft.geometry.linkage import edge_height_mm
from rampdraft.mechanics.results import SitePose
from rampdraft.model.design import Design
from rampdraft.units import MM


@dataclass(frozen=True, slots=True, kw_only=True)
class PlainNumber:
    """A number of the ramp, in mm, that limits depend on."""

    words: str
    of_ramp: bool
    """True when it is one number for the whole ramp, False when each site has its own."""
    value: Callable[[Design, SitePose | None, MM], float]
    """(design, pose or None for the whole ramp, height of the rule's reference kerb) -> mm."""


def ramp_length_mm(design: Design) -> MM:
    """Return the length of the deployed ramp along its surface: both leaves, and the toe flap if there is
    one.
    """
    return design.inner_leaf.length_mm + design.outer_leaf.length_mm + flap_length_mm(design)


def flap_length_mm(design: Design) -> MM:
    """Return the length of the toe flap, 0 where there is none."""
    return design.toe.length_mm if design.toe.kind == "flap" else 0.0


def _posed(value: Callable[[SitePose], float]) -> Callable[[Design, SitePose | None, MM], float]:
    def of(_design: Design, pose: SitePose | None, _kerb_mm: MM) -> float:
        assert pose is not None, "the rule file's reader refuses numbers of a site for the whole ramp"
        return value(pose)

    return of


NUMBERS: Final[dict[str, PlainNumber]] = {
    "ramp_length": PlainNumber(
        words="length of the ramp", of_ramp=True, value=lambda design, _pose, _kerb: ramp_length_mm(design)
    ),
    "flap_length": PlainNumber(
        words="length of the toe flap",
        of_ramp=True,
        value=lambda design, _pose, _kerb: flap_length_mm(design),
    ),
    "rise": PlainNumber(words="rise", of_ramp=False, value=_posed(lambda pose: abs(pose.whole.rise_mm))),
    "going": PlainNumber(words="going", of_ramp=False, value=_posed(lambda pose: pose.whole.going_mm)),
    "floor_above_kerb": PlainNumber(
        words="height of the floor above the reference kerb",
        of_ramp=False,
        value=lambda design, pose, kerb: edge_height_mm(design, pose.drop_mm if pose else 0.0) - kerb,
    ),
}
"""By name, as rule files write it."""
