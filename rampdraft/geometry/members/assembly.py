"""Design -> assembly: the one list of members that everything else reads."""

from rampdraft.geometry.members.hinges import (
    bridge_members,
    hinge_members,
    rail_ends,
    stop_members,
    toe_members,
)
from rampdraft.geometry.members.latches import latch_members
from rampdraft.geometry.members.leaves import leaf_members
from rampdraft.geometry.members.member import Assembly, BodyMass, Member
from rampdraft.geometry.members.props import prop_members
from rampdraft.model.design import Design


def assemble(design: Design) -> Assembly:
    """Return all members of a design, placed and weighed.

    Masses come from the section's true area (EN 10219-2 corner radii), what copes, notches, tapers and holes
    leave of it, and the material's density; paint, welds and screws are not counted.
    """
    ends = rail_ends(design)
    fixed = (
        *leaf_members(design, "inner", design.inner_leaf, ends["inner"]),
        *leaf_members(design, "outer", design.outer_leaf, ends["outer"]),
        *hinge_members(design),
        *stop_members(design),
        *toe_members(design),
    )
    members = (*fixed, *latch_members(design, fixed), *bridge_members(design), *prop_members(design))
    return Assembly(
        members=members,
        inner=_sum([member for member in members if member.body == "inner"]),
        outer=_sum([member for member in members if member.body == "outer"]),
        loose_kg=sum(
            member.mass_kg
            for member in members
            if member.body == "loose" or member.role in ("bridge plate", "bridge strip")
        ),
    )


def _sum(members: list[Member]) -> BodyMass:
    mass = sum(member.mass_kg for member in members)
    u, y, w = (sum(member.mass_kg * member.centre_mm[axis] for member in members) / mass for axis in range(3))
    return BodyMass(mass_kg=mass, centre_mm=(u, y, w))
