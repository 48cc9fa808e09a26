"""The props where the ramp stands: how high each has to be, which hole sets it, and how far it then stands
short, or holds the joint up.

They are set as the ramp is laid down, the deck empty, and stay so: nobody sets them anew while the deck sinks
under a user, or moves as cargo is put aboard.

Ground that falls across the ramp lies under the toe's higher corner as it does on the level, and is lower
everywhere else, so that the props under the two sides are not as high.
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace
from itertools import chain
from typing import Final

from rampdraft.geometry.lanes import prop_rails
from rampdraft.geometry.linkage import Pose
from rampdraft.geometry.members.prop_holes import Setting, settings
from rampdraft.geometry.members.props import prop_reach_mm, prop_tubes
from rampdraft.mechanics.results import DeckState, LeafGradient, SitePose
from rampdraft.mechanics.standing.standing import Straightened, leaned, stand_sinking
from rampdraft.model.design import Design
from rampdraft.units import MM, RAD

_UPRIGHT: Final = 0.999
"""Of its length a leaf rises at most: far beyond every limit."""
_HAIR_MM: Final = 1e-6
"""By so little a room may miss the end of a prop's reach: rounding."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PropSet:
    """One prop, at one site, in one state of the deck."""

    site_number: int
    state: DeckState
    rail: int
    """Of the inner leaf, that it stands under, counted from 0."""
    room_mm: MM
    """From the ground up to the underside of the joint, both leaves straight on."""
    hole: int
    """That its pin goes through, counted from the longest setting, from 1; 0 where none serves."""
    set_mm: MM | None
    """How high it stands; None where it cannot be set: the room is beyond its reach, the deck empty."""

    @property
    def short_mm(self) -> MM:
        """Return how far the joint drops until the prop bears; below 0 how far the prop holds it up."""
        return 0.0 if self.set_mm is None else self.room_mm - self.set_mm


@dataclass(frozen=True, slots=True, kw_only=True)
class PropsSet:
    """All props, wherever the ramp stands."""

    holes: Mapping[int, tuple[Setting, ...]]
    """Of each prop, by the rail that it stands under, the lowest setting first."""
    sets: tuple[PropSet, ...]
    on_props: Mapping[tuple[int, DeckState], SitePose]
    """The ramp with its joint on them, by site and state of the deck."""

    def at(self, pose: SitePose) -> tuple[PropSet, ...]:
        """Return the props at a site, in a state of the deck; none on a kerb that is none of the sites."""
        here = pose.site_number, pose.state
        return tuple(one for one in self.sets if (one.site_number, one.state) == here)

    def holds_up(self, pose: SitePose) -> bool:
        """Return whether the joint stands higher on the props than the leaves lie straight on."""
        shorts = [one.short_mm for one in self.at(pose)]
        return bool(shorts) and max(shorts) <= 0 and min(shorts) < -_HAIR_MM

    def borne(self, pose: SitePose) -> SitePose:
        """Return the pose with the joint on the props, wherever it stands on some; itself elsewhere."""
        return self.on_props.get((pose.site_number, pose.state), pose)


def sink(  # many: what lies how, and where
    design: Design, ramp: Straightened, props: PropsSet, site_number: int, drop_mm: MM, nod_rad: RAD
) -> SitePose:
    """Return the ramp at a site of the design, counted from 1, with the deck edge sunk so far under somebody
    who rolls and the deck sloping so much towards it, its joint on the props as they were set.
    """
    pose = stand_sinking(design, ramp, site_number, drop_mm, nod_rad)
    sets = [one for one in props.sets if (one.site_number, one.state) == (site_number, "empty")]
    here = tuple(replace(one, room_mm=_room_mm(design, pose, one.rail)) for one in sets)
    return resting(design, ramp, pose, here)


def resting(design: Design, ramp: Straightened, pose: SitePose, props: tuple[PropSet, ...]) -> SitePose:
    """Return the pose with the joint on the props that stand there, down on all of them, or up on the
    highest: both leaves turn about their other ends, and the toe stays where it is.
    """
    shorts = [one.short_mm for one in props] or [0.0]
    short = max(shorts) if max(shorts) > 0 else min(shorts)
    if not short:
        return pose
    turns = [
        _slope_rad(leaf.rise_mm, leaf) - _slope_rad(leaf.rise_mm + further, leaf)
        for leaf, further in ((pose.inner, short), (pose.outer, -short))
    ]
    angles = pose.pose.inner_rad + turns[0], pose.pose.fold_rad + turns[1] - turns[0]
    return leaned(design, ramp, pose, Pose(*angles))


def _slope_rad(rise_mm: MM, leaf: LeafGradient) -> RAD:
    """Return how far a leaf slopes down towards the ground where it rises so much from one end to the other;
    at most until it all but stands upright.
    """
    share = rise_mm / math.hypot(leaf.rise_mm, leaf.going_mm)
    return math.asin(max(-_UPRIGHT, min(share, _UPRIGHT)))


def props_set(design: Design, ramp: Straightened, sites: tuple[SitePose, ...], drop_mm: MM) -> PropsSet:
    """Return how the props are drilled, and set with the deck empty, at every site that the ramp reaches."""
    rails = prop_rails(design)
    poses = [pose for pose in sites if pose.reaches and (drop_mm or pose.state != "loaded")]
    laid = {pose.site_number: pose for pose in poses if pose.state == "empty"}
    holes: dict[int, tuple[Setting, ...]] = {}
    sets: dict[tuple[int, int], tuple[int, MM | None]] = {}
    for rail in rails:
        rooms = {number: _room_mm(design, pose, rail) for number, pose in laid.items()}
        holes[rail] = _holes(design, list(rooms.values()))
        sets |= {(number, rail): _set(design, room, holes[rail]) for number, room in rooms.items()}
    stand = {
        (pose.site_number, pose.state): tuple(
            PropSet(
                site_number=pose.site_number,
                state=pose.state,
                rail=rail,
                room_mm=_room_mm(design, pose, rail),
                hole=sets[pose.site_number, rail][0],
                set_mm=sets[pose.site_number, rail][1],
            )
            for rail in rails
        )
        for pose in poses
        if pose.site_number in laid
    }
    return PropsSet(
        holes=holes,
        sets=tuple(chain.from_iterable(stand.values())),
        on_props={
            (pose.site_number, pose.state): resting(design, ramp, pose, props)
            for pose in poses
            if (props := stand.get((pose.site_number, pose.state)))
        },
    )


def _room_mm(design: Design, pose: SitePose, rail: int) -> MM:
    fall = design.sites[pose.site_number - 1].cross_slope_percent / 100
    lane = design.inner_leaf.rail_lanes_mm[rail]
    room = pose.joint_room_mm + fall * lane + abs(fall) * design.outer_leaf.width_mm / 2
    ends = prop_reach_mm(design.prop)
    return next((end for end in ends if math.isclose(end, room, rel_tol=0.0, abs_tol=_HAIR_MM)), room)


def _holes(design: Design, rooms_mm: list[MM]) -> tuple[Setting, ...]:
    prop, tubes = design.prop, prop_tubes(design.prop)
    if tubes is None:
        return ()
    needs = [room for room in rooms_mm if prop.shortest_mm <= room <= prop.longest_mm]
    return settings(needs, least_mm=prop.shortest_mm, apart_mm=tubes.apart_mm, faces=tubes.faces)


def _set(design: Design, room: MM, holes: tuple[Setting, ...]) -> tuple[int, MM | None]:
    """Return the hole of a prop and how high it stands: of two tubes the highest hole that serves, if any
    reaches up so far; one piece, where it goes under, however far below the joint.
    """
    longest, one_piece = design.prop.longest_mm, prop_tubes(design.prop) is None
    heights = [longest] if one_piece else [one.height_mm for one in holes]
    fitting = [height for height in heights if height <= room] if one_piece or room <= longest else []
    hole = len(heights) - len(fitting) + 1 if fitting and not one_piece else 0
    return hole, max(fitting, default=None)
